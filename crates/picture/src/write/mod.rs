//! Pixels to bytes: rows go in as strips, the file comes out at the end.

mod dpx;
mod exr;
mod format;
mod jpeg;
mod png;
mod raw;
mod tiff;

use std::borrow::Cow;
use std::ops::Range;

use lookwright_colour::byte::byte;
use lookwright_colour::encoding::EncodingId;
use lookwright_colour::{Error, Result};

use crate::carried::{Carried, block};
use crate::colour::OutColour;
pub use format::{Depth, FORMATS, FormatInfo, JPEG_QUALITY, OutFormat, RAW_FORMATS};

/// What goes with the pixels.
#[derive(Clone, Debug)]
pub struct WriteOptions {
    /// The encoding of the rows, declared in the file by profile, code points or chromaticities.
    pub colour: OutColour,
    /// Codes are in legal (narrow) range. PNG declares it by its code points; no profile is then
    /// written, since a profile would be wrong.
    pub legal_range: bool,
    /// A line about the picture, such as the unit of a stage's values. ASCII; other characters
    /// become `?`.
    pub description: Option<String>,
    /// What goes on from another picture's file.
    pub carried: Carried,
}

impl Default for WriteOptions {
    fn default() -> Self {
        Self {
            colour: OutColour::Of(EncodingId::Srgb),
            legal_range: false,
            description: None,
            carried: Carried::default(),
        }
    }
}

impl WriteOptions {
    fn ascii_description(&self) -> Option<String> {
        let plain = |c: char| {
            if c == ' ' || c.is_ascii_graphic() {
                c
            } else {
                '?'
            }
        };
        self.description
            .as_ref()
            .map(|text| text.chars().map(plain).collect())
    }

    /// What a camera wrote, as a block of EXIF.
    fn exif(&self) -> Option<Vec<u8>> {
        block(&self.carried.photo)
    }

    fn icc(&self) -> Result<Option<Vec<u8>>> {
        if self.legal_range {
            Ok(None)
        } else {
            self.colour.icc()
        }
    }
}

/// Whole rows of interleaved RGB.
#[derive(Clone, Copy, Debug)]
pub enum Rows<'a> {
    /// Codes of 8 bits.
    U8(&'a [u8]),
    /// Codes of 16 bits.
    U16(&'a [u16]),
    /// For a format of codes 0 ... 1, rounded and clipped here (dither, where it is wanted, has
    /// been added before); for a format of floats any value.
    F32(&'a [f32]),
}

impl<'a> Rows<'a> {
    fn len(&self) -> usize {
        match self {
            Self::U8(v) => v.len(),
            Self::U16(v) => v.len(),
            Self::F32(v) => v.len(),
        }
    }

    fn as_u8(self) -> Result<Cow<'a, [u8]>> {
        match self {
            Self::U8(v) => Ok(Cow::Borrowed(v)),
            Self::F32(v) => Ok(v.iter().map(|&x| byte(x)).collect()),
            Self::U16(_) => Err(mismatch("8-bit codes or floats")),
        }
    }

    fn as_u16(self) -> Result<Cow<'a, [u16]>> {
        match self {
            Self::U16(v) => Ok(Cow::Borrowed(v)),
            Self::F32(v) => Ok(v
                .iter()
                .map(|&x| (unit(x) * 65535.0 + 0.5) as u16)
                .collect()),
            Self::U8(_) => Err(mismatch("16-bit codes or floats")),
        }
    }

    /// Codes up to `largest`, the nearest ones.
    fn codes(self, largest: u16) -> Result<Vec<u16>> {
        let (most, full) = (f32::from(largest), u32::from(largest));
        match self {
            Self::F32(v) => Ok(v.iter().map(|&x| (unit(x) * most + 0.5) as u16).collect()),
            Self::U16(v) => {
                let nearest = |&code: &u16| ((u32::from(code) * full + 32767) / 65535) as u16;
                Ok(v.iter().map(nearest).collect())
            }
            Self::U8(_) => Err(mismatch("16-bit codes or floats")),
        }
    }

    fn as_f32(self) -> Result<&'a [f32]> {
        match self {
            Self::F32(v) => Ok(v),
            _ => Err(mismatch("floats")),
        }
    }
}

/// 0 ... 1; what is not a number becomes 0.
fn unit(value: f32) -> f32 {
    if value.is_nan() {
        0.0
    } else {
        value.clamp(0.0, 1.0)
    }
}

fn mismatch(wanted: &str) -> Error {
    Error::new(format!(
        "This format is written from {wanted}: hand over such rows."
    ))
}

/// Writes one picture, or a part of one. Memory: what was written and not yet given away.
pub struct PictureWriter {
    width: usize,
    /// The rows that are still to come.
    rows: Range<usize>,
    encoder: Box<dyn Encode + Send>,
}

/// What each format does; sizes and counts have been checked before.
trait Encode {
    fn push(&mut self, rows: Rows<'_>) -> Result<()>;
    /// The next bytes of the file, as far as they are settled.
    fn written(&mut self) -> Vec<u8> {
        Vec::new()
    }
    /// The rest of the file.
    fn finish(self: Box<Self>) -> Result<Vec<u8>>;
}

impl PictureWriter {
    /// Begins a picture of `width` x `height` pixels.
    ///
    /// # Errors
    /// When a side is zero, or longer than the format allows (65,535 for JPEG), or the file would
    /// pass TIFF's 4 GiB.
    pub fn new(format: OutFormat, width: u32, height: u32, options: &WriteOptions) -> Result<Self> {
        Self::part(format, width, height, options, 0..height)
    }

    /// Begins a part of a picture: `rows` of it. The bytes of all parts, one after the other, are
    /// the file; see [`OutFormat::part_rows`] for which formats have parts.
    ///
    /// # Errors
    /// As [`Self::new`]; and when the format has no such part.
    pub fn part(
        format: OutFormat,
        width: u32,
        height: u32,
        options: &WriteOptions,
        rows: Range<u32>,
    ) -> Result<Self> {
        if width == 0 || height == 0 || width > i32::MAX as u32 || height > i32::MAX as u32 {
            return Err(Error::new(format!(
                "A picture of {width} x {height} pixels can't be written: choose another size."
            )));
        }
        let part = format.part_rows().unwrap_or(height);
        let divides = |row: u32| row.is_multiple_of(part) || row == height;
        if rows.start >= rows.end || rows.end > height || !divides(rows.start) || !divides(rows.end)
        {
            return Err(Error::new(format!(
                "Rows {} ... {} of {height} are no part that this format is written in.",
                rows.start, rows.end
            )));
        }
        let rows = rows.start as usize..rows.end as usize;
        let encoder: Box<dyn Encode + Send> = match format {
            OutFormat::Jpeg { quality } => Box::new(jpeg::JpegWriter::new(
                width, height, &rows, quality, options,
            )?),
            OutFormat::Png8 | OutFormat::Png16 => {
                let wide = format == OutFormat::Png16;
                Box::new(png::PngWriter::new(width, height, wide, options)?)
            }
            OutFormat::Dpx10 => Box::new(dpx::DpxWriter::new(width, height, 10, options)?),
            OutFormat::Dpx12 => Box::new(dpx::DpxWriter::new(width, height, 12, options)?),
            OutFormat::Dpx16 => Box::new(dpx::DpxWriter::new(width, height, 16, options)?),
            OutFormat::Raw8 | OutFormat::Raw16 | OutFormat::RawF32 => Box::new(raw::RawWriter {
                depth: format.info().depth,
                file: Vec::new(),
            }),
            OutFormat::Tiff16 | OutFormat::TiffF32 => {
                let float = format == OutFormat::TiffF32;
                Box::new(tiff::TiffWriter::new(width, height, float, options)?)
            }
            OutFormat::ExrHalf | OutFormat::ExrF32 => {
                let half = format == OutFormat::ExrHalf;
                Box::new(exr::ExrWriter::new(width, height, half, options)?)
            }
        };
        Ok(Self {
            width: width as usize,
            rows,
            encoder,
        })
    }

    /// Adds one or more whole rows, from the top.
    ///
    /// # Errors
    /// When the samples are not whole rows, there are more rows than the picture has, or they are
    /// of a kind that the format is not written from.
    pub fn push_rows(&mut self, rows: Rows<'_>) -> Result<()> {
        let row = 3 * self.width;
        let count = rows.len() / row;
        if count * row != rows.len() || count > self.rows.len() {
            return Err(Error::new(format!(
                "{} samples are not the next whole rows of a picture {} pixels wide, of which {} are \
                 missing.",
                rows.len(),
                self.width,
                self.rows.len()
            )));
        }
        self.encoder.push(rows)?;
        self.rows.start += count;
        Ok(())
    }

    /// The next bytes of the file, as far as they are settled: none of a format whose beginning is
    /// known only at the end.
    pub fn written(&mut self) -> Vec<u8> {
        self.encoder.written()
    }

    /// The bytes of the file, after those that [`Self::written`] gave.
    ///
    /// # Errors
    /// When rows are missing or the encoder fails.
    pub fn finish(self) -> Result<Vec<u8>> {
        if !self.rows.is_empty() {
            return Err(Error::new(format!(
                "The picture is not complete: its last rows, {} of them, were not handed over.",
                self.rows.len()
            )));
        }
        self.encoder.finish()
    }
}

/// The sentence for an encoder that gave up.
fn failed(format: &str, why: impl std::fmt::Display) -> Error {
    Error::new(format!(
        "The {format} could not be written ({why}): try another format or size."
    ))
}
