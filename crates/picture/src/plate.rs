//! Grain, dust and halation as the bytes of a picture, for who works from tables alone.

use lookwright_film::look::{ChoiceOption, Options};
use lookwright_film::spatial::Planes;
use lookwright_render::{Job, dust_plate, grain_plate, halation_plate};

use crate::{
    Decoded, Error, Limits, OutColour, OutFormat, PictureWriter, Result, Rows, WriteOptions,
};

/// Which texture a plate holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plate {
    /// Log scan code around the middle.
    Grain,
    /// Log scan code from 0.
    Dust,
    /// Linear layer exposure.
    Halation,
}

impl Options for Plate {
    const OPTIONS: &'static [ChoiceOption] = &[
        ChoiceOption {
            id: "grain",
            label: "Grain",
        },
        ChoiceOption {
            id: "dust",
            label: "Dust",
        },
        ChoiceOption {
            id: "halation",
            label: "Halation",
        },
    ];
    const ALL: &'static [Self] = &[Self::Grain, Self::Dust, Self::Halation];
    fn id(self) -> &'static str {
        Self::OPTIONS[self as usize].id
    }
}

impl Plate {
    /// How it is laid over the picture; also written inside the file.
    #[must_use]
    pub fn blend(self) -> &'static str {
        match self {
            Self::Grain => {
                "Grain around mid-grey. Lay it over the scan's log code before any contrast: code + 2 x plate - 1 (\"linear light\")."
            }
            Self::Dust => {
                "Dust on the negative. Add it to the scan's log code before any contrast: code + plate."
            }
            Self::Halation => {
                "Halation as linear layer exposure, mid-grey 0.18. Add it to the exposure that the film sees, before its curve."
            }
        }
    }

    /// Codes are written in 16 bits; light has no upper end, so halation is written as floats.
    #[must_use]
    pub fn format(self) -> OutFormat {
        match self {
            Self::Grain | Self::Dust => OutFormat::Png16,
            Self::Halation => OutFormat::ExrF32,
        }
    }

    /// Accepts a size or says that there is too little memory for it; `sample_bytes` are those of the
    /// picture, if there is one.
    ///
    /// # Errors
    /// One sentence if it is too big.
    pub fn check(self, size: (u64, u64), sample_bytes: u64, limits: &Limits) -> Result<()> {
        // Plates are made whole: their planes, what light is spread on, and the file, as measured.
        let each = match self {
            Self::Grain | Self::Dust => 22,
            Self::Halation => 60,
        };
        let pixels = size.0.saturating_mul(size.1);
        let bytes = pixels.saturating_mul(each).saturating_add(sample_bytes);
        if bytes > limits.max_bytes {
            return Err(Error::new(format!(
                "A plate of {} x {} pixels would take {} MiB of memory; {} MiB are allowed: make a \
                 smaller one.",
                size.0,
                size.1,
                bytes >> 20,
                limits.max_bytes >> 20
            )));
        }
        Ok(())
    }

    /// The bytes of the plate's file, the size of the job's window; halation is the picture's own.
    ///
    /// # Errors
    /// One sentence if the look has no such texture, or halation has no picture.
    pub fn make(self, job: &Job, picture: Option<&Decoded>) -> Result<Vec<u8>> {
        let (width, height) = (job.window.full_width, job.window.full_height);
        let sample_bytes = picture.map_or(0, |picture| picture.samples.byte_count());
        let size = (u64::from(width), u64::from(height));
        self.check(size, sample_bytes, &Limits::default())?;
        let plate = match self {
            Self::Grain => grain_plate(width as usize, height as usize, job),
            Self::Dust => dust_plate(width as usize, height as usize, job),
            Self::Halation => {
                let picture = picture.ok_or_else(|| {
                    Error::new("halation is a picture's own, and there is no picture")
                })?;
                let code = Planes {
                    width: picture.width as usize,
                    height: picture.height as usize,
                    planes: picture.to_planes(),
                };
                halation_plate(code, job)
            }
        };
        let word = self.id();
        let is_scan = job.frame.source.encoding.scan_density().is_some();
        let plate = plate.ok_or_else(|| {
            Error::new(if is_scan {
                format!("a film scan has its own {word}; choose the encoding of a camera's picture")
            } else {
                format!("this look has no {word}; turn it on and try again")
            })
        })?;
        encode(&plate, self.format(), self.blend())
    }
}

fn encode(plate: &Planes, format: OutFormat, description: &str) -> Result<Vec<u8>> {
    let options = WriteOptions {
        colour: OutColour::Unmarked,
        legal_range: false,
        description: Some(description.to_owned()),
        ..WriteOptions::default()
    };
    let mut writer = PictureWriter::new(format, plate.width as u32, plate.height as u32, &options)?;
    let mut row = vec![0.0; plate.width * 3];
    for y in 0..plate.height {
        for channel in 0..3 {
            for (pixel, value) in row.chunks_exact_mut(3).zip(plate.row(channel, y)) {
                pixel[channel] = *value;
            }
        }
        writer.push_rows(Rows::F32(&row))?;
    }
    writer.finish()
}
