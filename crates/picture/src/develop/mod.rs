//! A decoded picture through a look, at full size, to the bytes of a file.

mod budget;
mod output;
mod part;
mod stamp;

use std::ops::Range;

use lookwright_film::spatial::Planes;
use lookwright_render::{
    CarriedRows, Job, OneThread, Partition, PictureRows, Workers, render_strips, unstyled_strips,
};

use crate::{Decoded, OutFormat, Result};
pub use budget::{Sizes, check_developing};
pub use output::DENSITY_CODES_16;
use output::Output;
pub use part::Part;
pub use stamp::Stamp;

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
    let stamp = Stamp::of_job(job, version);
    develop_with(picture, job, version, (format, &stamp), &OneThread, |_| {
        Ok(())
    })
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
    (format, stamp): (OutFormat, &Stamp),
    workers: &impl Workers,
    watch: impl FnMut(f64) -> Result<()>,
) -> Result<Vec<u8>> {
    let size = (picture.width, picture.height);
    let mut output = Output::new(size, job, (format, stamp), 0..picture.height)?;
    let take = |first, strip| output.take(first, strip);
    match version {
        Version::Styled => render_strips(picture, job, workers, watch, take)?,
        Version::Unstyled => unstyled_strips(picture, job, workers, watch, take)?,
    }
    output.finish()
}

/// As [`develop`], each strip finding what the one above it has left, so that no row is made twice:
/// the fastest on one thread, and the least memory. The same bytes.
///
/// # Errors
/// As [`develop`].
pub fn develop_in_sequence(
    picture: &Decoded,
    job: &Job,
    version: Version,
    (format, stamp): (OutFormat, &Stamp),
) -> Result<Vec<u8>> {
    let size = picture.size();
    let whole = (picture.width, picture.height);
    let mut output = Output::new(whole, job, (format, stamp), 0..picture.height)?;
    let rows = 0..size.1;
    let mut partition = match version {
        Version::Styled => Partition::new(size, job, rows),
        Version::Unstyled => Partition::unstyled(size, job, rows),
    }
    .in_sequence();
    loop {
        let mut results = partition.begin();
        let mut carried = CarriedRows::default();
        for strip in 0..partition.strips() {
            let finished = partition.follow(strip, picture, &mut carried, &mut results);
            if let Some(rows) = finished {
                output.take(partition.first_row(strip), rows)?;
            }
        }
        if partition.is_last() {
            return output.finish();
        }
        for layer in 0..3 {
            partition.close_halo(&mut results, layer);
        }
        partition.next_round(results);
    }
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
