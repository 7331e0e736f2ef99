//! A decoded picture through a look, at full size, to the bytes of a file.

use std::ops::Range;

use lookwright_core::look::StageId;
use lookwright_core::render::{
    Job, OneThread, Source, Workers, dither8, render_strips, unstyled_strips,
};
use lookwright_core::spatial::Planes;

use crate::{Decoded, Error, OutColour, OutFormat, PictureWriter, Result, Rows, WriteOptions};

/// Densities in 16-bit files are whole numbers of this many per unit of density.
pub const DENSITY_CODES_16: f32 = 10_000.0;

/// What is developed: the picture as it leaves the job's stage, or as the camera saw it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Version {
    /// With the look.
    Styled,
    /// Without any look, written for the same screen.
    Unstyled,
}

/// Renders a picture with everything the job asks for and encodes it.
///
/// A stage's numbers are written in its own unit: scene light as it is (floats only), density as
/// it is or as 10,000 per unit in 16 bits, codes as shares of full scale. Eight-bit pictures are
/// dithered.
///
/// The picture is rendered strip by strip on the caller's thread; see [`develop_with`].
///
/// # Errors
/// When the format can't hold the stage's numbers, or can't be written.
pub fn develop(
    picture: &Decoded,
    job: &Job,
    version: Version,
    format: OutFormat,
) -> Result<Vec<u8>> {
    develop_with(picture, job, version, format, &OneThread, |_| Ok(()))
}

/// As [`develop`], on the caller's workers; `watch` is told how much of it is done, 0 to 1. The same
/// bytes whoever works.
///
/// # Errors
/// As [`develop`]; and what `watch` gives, which stops it.
pub fn develop_with(
    picture: &Decoded,
    job: &Job,
    version: Version,
    format: OutFormat,
    workers: &impl Workers,
    watch: impl FnMut(f64) -> Result<()>,
) -> Result<Vec<u8>> {
    let (eight_bit, floats) = (format.is_eight_bit(), format.is_float());
    let options = describe(job, floats, eight_bit)?;
    let scaled = job.stage == StageId::Negative && !floats;
    // Made with the first strip: a JPEG's rows take memory that gathering needs before.
    let mut writer = None;
    let take = |first: usize, mut strip: Planes| {
        if scaled {
            for value in strip.planes.iter_mut().flatten() {
                *value *= DENSITY_CODES_16 / 65535.0;
            }
        }
        let writer = match &mut writer {
            Some(writer) => writer,
            none => none.insert(PictureWriter::new(
                format,
                picture.width,
                picture.height,
                &options,
            )?),
        };
        push(writer, &strip, eight_bit, job.window.y0 + first as u32)
    };
    match version {
        Version::Styled => render_strips(picture, job, workers, watch, take)?,
        Version::Unstyled => unstyled_strips(picture, job, workers, watch, take)?,
    }
    writer
        .ok_or_else(|| Error::new("A picture without rows can't be written."))?
        .finish()
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

impl Source for Decoded {
    fn size(&self) -> (usize, usize) {
        (self.width as usize, self.height as usize)
    }

    fn rows(&self, rows: Range<usize>) -> Planes {
        Planes {
            width: self.width as usize,
            height: rows.len(),
            planes: self.rows(rows.start as u32..rows.end as u32),
        }
    }
}

/// What the file says about its numbers.
fn describe(job: &Job, floats: bool, eight_bit: bool) -> Result<WriteOptions> {
    let unit = job.stage.unit();
    let (colour, description) = match job.stage {
        StageId::Intake | StageId::Lens if !floats => {
            return Err(Error::new(format!(
                "The {} stage holds scene light, which has no upper end: write it as floats, to .exr or to .tif with depth f32.",
                stage_name(job.stage)
            )));
        }
        StageId::Negative if eight_bit => {
            return Err(Error::new(
                "The negative stage holds densities, which 8 bits are too coarse for: write it to .tif or .png with depth 16, or to .exr.",
            ));
        }
        StageId::Intake | StageId::Lens => (OutColour::AcesCg, unit.to_owned()),
        StageId::Negative if !floats => (
            OutColour::Unmarked,
            format!("{unit}, {DENSITY_CODES_16} codes per unit"),
        ),
        StageId::Negative | StageId::Scan => (OutColour::Unmarked, unit.to_owned()),
        StageId::Print => (OutColour::Rec709, unit.to_owned()),
        StageId::Screen => (
            OutColour::from_id(job.delivery.display.screen.id()),
            format!("{} code", job.delivery.display.screen.info().label),
        ),
    };
    let legal_range = job.stage == StageId::Screen
        && job.delivery.display.range == lookwright_core::look::CodeRange::Legal;
    Ok(WriteOptions {
        colour,
        legal_range,
        description: Some(description),
    })
}

fn stage_name(stage: StageId) -> &'static str {
    lookwright_core::look::Options::id(stage)
}
