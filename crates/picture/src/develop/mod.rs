//! A decoded picture through a look, at full size, to the bytes of a file.

mod budget;
mod output;
mod part;

use std::ops::Range;

use lookwright_film::spatial::Planes;
use lookwright_render::{Job, OneThread, PictureRows, Workers, render_strips, unstyled_strips};

use crate::{Decoded, OutFormat, Result};
pub use budget::{Sizes, check_developing};
pub use output::DENSITY_CODES_16;
use output::Output;
pub use part::Part;

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
    let size = (picture.width, picture.height);
    let mut output = Output::new(size, job, format, 0..picture.height)?;
    let take = |first, strip| output.take(first, strip);
    match version {
        Version::Styled => render_strips(picture, job, workers, watch, take)?,
        Version::Unstyled => unstyled_strips(picture, job, workers, watch, take)?,
    }
    output.finish()
}

impl PictureRows for Decoded {
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
