//! JPEG, by jpeg-encoder: baseline, so that every reader opens it.

use jpeg_encoder::{ColorType, Encoder, SamplingFactor};
use lookwright_core::{Error, Result};

use super::{Encode, Rows, WriteOptions, failed};
use crate::limits;

/// From this quality on colour keeps the resolution of brightness.
const FULL_CHROMA_FROM: u8 = 90;

pub(super) struct JpegWriter {
    size: (u16, u16),
    quality: u8,
    icc: Option<Vec<u8>>,
    rows: Vec<u8>,
}

impl JpegWriter {
    pub(super) fn new(
        width: u32,
        height: u32,
        quality: u8,
        options: &WriteOptions,
    ) -> Result<Self> {
        let (Ok(w), Ok(h)) = (u16::try_from(width), u16::try_from(height)) else {
            return Err(Error::new(format!(
                "A JPEG can't be {width} x {height} pixels (65,535 a side at most): write a TIFF \
                 or PNG."
            )));
        };
        if !(1..=100).contains(&quality) {
            return Err(Error::new(format!(
                "JPEG quality {quality} is not within 1 ... 100."
            )));
        }
        let mut rows = Vec::new();
        limits::reserve(&mut rows, 3 * width as usize * height as usize)?;
        Ok(Self {
            size: (w, h),
            quality,
            icc: options.icc()?,
            rows,
        })
    }
}

impl Encode for JpegWriter {
    fn push(&mut self, rows: Rows<'_>) -> Result<()> {
        self.rows.extend_from_slice(&rows.as_u8()?);
        Ok(())
    }

    fn finish(self: Box<Self>) -> Result<Vec<u8>> {
        let mut file = Vec::new();
        let mut encoder = Encoder::new(&mut file, self.quality);
        encoder.set_sampling_factor(if self.quality >= FULL_CHROMA_FROM {
            SamplingFactor::R_4_4_4
        } else {
            SamplingFactor::R_4_2_0
        });
        if let Some(icc) = &self.icc {
            encoder
                .add_icc_profile(icc)
                .map_err(|e| failed("JPEG", e))?;
        }
        let (width, height) = self.size;
        encoder
            .encode(&self.rows, width, height, ColorType::Rgb)
            .map_err(|e| failed("JPEG", e))?;
        Ok(file)
    }
}
