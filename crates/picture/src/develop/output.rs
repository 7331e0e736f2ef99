//! From rendered strips to the bytes of a file.

use std::ops::Range;

use lookwright_colour::encoding::EncodingId;
use lookwright_film::look::StageId;
use lookwright_film::spatial::Planes;
use lookwright_render::{Job, dither8};

use super::Stamp;
use crate::{Error, OutColour, OutFormat, PictureWriter, Result, Rows, WriteOptions};

/// Densities in 16-bit files are whole numbers of this many per unit of density.
pub const DENSITY_CODES_16: f32 = 10_000.0;

/// The file of a picture, or of some of its rows.
pub(super) struct Output {
    size: (u32, u32),
    format: OutFormat,
    rows: Range<u32>,
    options: WriteOptions,
    /// What the stage's numbers are multiplied by.
    scale: Option<f32>,
    /// Row of the whole picture that the job begins with.
    y0: i32,
    /// Made with the first strip: what it takes is needed before, in gathering.
    writer: Option<PictureWriter>,
}

impl Output {
    /// For `rows` of a picture of `size`.
    ///
    /// # Errors
    /// When the format can't hold the stage's numbers.
    pub(super) fn new(
        size: (u32, u32),
        job: &Job,
        (format, stamp): (OutFormat, &Stamp),
        rows: Range<u32>,
    ) -> Result<Self> {
        let scaled = job.stage == StageId::Negative && !format.is_float();
        Ok(Self {
            size,
            format,
            rows,
            options: describe(job, stamp, format)?,
            scale: scaled.then_some(DENSITY_CODES_16 / 65535.0),
            y0: job.window.y0,
            writer: None,
        })
    }

    /// Takes in the next strip, which begins at row `first` of the picture.
    ///
    /// # Errors
    /// When the format can't be written.
    pub(super) fn take(&mut self, first: usize, mut strip: Planes) -> Result<()> {
        if let Some(scale) = self.scale {
            for value in strip.planes.iter_mut().flatten() {
                *value *= scale;
            }
        }
        let writer = match &mut self.writer {
            Some(writer) => writer,
            none => none.insert(PictureWriter::part(
                self.format,
                self.size.0,
                self.size.1,
                &self.options,
                self.rows.clone(),
            )?),
        };
        let y0 = self.y0.wrapping_add(first as i32) as u32;
        push(writer, &strip, self.format.is_eight_bit(), y0)
    }

    /// The next bytes of the file, as far as they are settled.
    pub(super) fn written(&mut self) -> Vec<u8> {
        self.writer
            .as_mut()
            .map_or_else(Vec::new, PictureWriter::written)
    }

    /// The rest of the file.
    ///
    /// # Errors
    /// When rows are missing or the format can't be written.
    pub(super) fn finish(self) -> Result<Vec<u8>> {
        self.writer
            .ok_or_else(|| Error::new("A picture without rows can't be written."))?
            .finish()
    }
}

/// Hands a strip to the writer, row by row.
fn push(writer: &mut PictureWriter, strip: &Planes, eight_bit: bool, y0: u32) -> Result<()> {
    let mut row = vec![0.0; strip.width * 3];
    for y in 0..strip.height {
        if eight_bit {
            writer.push_rows(Rows::U8(&dither8(strip, y, y0)))?;
            continue;
        }
        for channel in 0..3 {
            for (pixel, value) in row.chunks_exact_mut(3).zip(strip.row(channel, y)) {
                pixel[channel] = *value;
            }
        }
        writer.push_rows(Rows::F32(&row))?;
    }
    Ok(())
}

/// What the file says about its numbers.
fn describe(job: &Job, stamp: &Stamp, format: OutFormat) -> Result<WriteOptions> {
    let unit = job.stage.unit();
    let (floats, eight_bit) = (format.is_float(), format.is_eight_bit());
    let screen = job.delivery.display.screen;
    if let (StageId::Screen, Some(refusal)) = (job.stage, format.refusal(screen)) {
        return Err(Error::new(refusal));
    }
    let (colour, description) = match job.stage {
        StageId::Intake | StageId::Lens if !floats => {
            return Err(Error::new(format!(
                "The {} stage holds scene light, which can be brighter than whole numbers hold: write it as floats, to .exr or to .tif with depth f32.",
                stage_name(job.stage)
            )));
        }
        StageId::Print if !floats => {
            return Err(Error::new(
                "The print stage holds light that no screen has limited yet: write it as floats, to .exr or to .tif with depth f32, or write the screen stage.",
            ));
        }
        StageId::Negative if eight_bit => {
            return Err(Error::new(
                "The negative stage holds densities, which 8 bits are too coarse for: write it to .tif or .png with depth 16, or to .exr.",
            ));
        }
        StageId::Intake | StageId::Lens | StageId::Print => {
            (OutColour::Of(EncodingId::AcesCg), unit.to_owned())
        }
        StageId::Negative if !floats => (
            OutColour::Unmarked,
            format!("{unit}, {DENSITY_CODES_16} codes per unit"),
        ),
        StageId::Negative => (OutColour::Unmarked, unit.to_owned()),
        StageId::Scan => (OutColour::Scan, unit.to_owned()),
        StageId::Screen => (
            OutColour::Screen(screen),
            format!("{} code", screen.info().label),
        ),
    };
    let legal_range = job.stage == StageId::Screen
        && job.delivery.display.range == lookwright_film::look::CodeRange::Legal;
    Ok(WriteOptions {
        colour,
        legal_range,
        description: Some(description + stamp.words()),
        carried: stamp.carried(),
    })
}

fn stage_name(stage: StageId) -> &'static str {
    lookwright_film::look::Options::id(stage)
}
