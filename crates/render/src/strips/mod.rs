//! Strip by strip: full-size pictures in memory that hardly grows with them.
//!
//! A strip is rendered from the picture's rows each time it is needed, with a few rows around it
//! for every step that spreads light. What is spread wider than that is gathered before, in one
//! round over all strips for each such step, on pictures of half the size (see
//! [`lookwright_film::spatial::step`]). The numbers are those of a whole picture, bit by bit, whatever the
//! strips and whoever works on them. A picture may also be rendered in partitions; see [`Partition`].

mod carried;
mod kept;
mod links;
mod partition;
mod results;
mod size;

use core::ops::Range;

use super::job::Job;
pub use carried::CarriedRows;
pub(crate) use links::{Link, Links};
use lookwright_colour::error::Result;
pub use lookwright_film::spatial::halo::{HaloPlane, HaloRanges};
use lookwright_film::spatial::step::Area;
use lookwright_film::spatial::{Planes, crop};
pub use partition::Partition;
pub use results::{RoundResults, StripResult};
pub use size::PARTITION_ROWS;
pub(crate) use size::{KEPT_PIXELS, STRIP_PIXELS, rows_of};

/// Who renders strips: one thread or several.
pub trait Workers {
    /// Does `work(i)` for every `i` below `count`, and hands the results to `take` in that order.
    ///
    /// # Errors
    /// The first that `take` gives; the work that is left then stays undone.
    fn each<T: Send>(
        &self,
        count: usize,
        work: impl Fn(usize) -> T + Sync,
        take: impl FnMut(usize, T) -> Result<()>,
    ) -> Result<()>;
}

/// The caller's own thread does everything.
#[derive(Clone, Copy, Debug, Default)]
pub struct OneThread;

impl Workers for OneThread {
    fn each<T: Send>(
        &self,
        count: usize,
        work: impl Fn(usize) -> T + Sync,
        mut take: impl FnMut(usize, T) -> Result<()>,
    ) -> Result<()> {
        (0..count).try_for_each(|i| take(i, work(i)))
    }
}

/// A picture that gives its rows in its frame's code.
pub trait PictureRows: Sync {
    /// Columns and rows.
    fn size(&self) -> (usize, usize);
    /// Some of the rows.
    fn rows(&self, rows: Range<usize>) -> Planes;
    /// A part of it.
    fn area(&self, area: &Area) -> Planes {
        let rows = self.rows(area.rows.clone());
        let (first, count) = (area.columns.start, area.columns.len());
        if count == rows.width {
            return rows;
        }
        crop(&rows, first, 0, count, rows.height)
    }
}

/// Renders a whole picture strip by strip: `take(first row, strip)` from the top. `watch(part)` is
/// told after each strip how much of the work is done.
///
/// # Errors
/// The first that `take` or `watch` gives: that is how a rendering is cancelled.
pub fn render_strips(
    source: &impl PictureRows,
    job: &Job,
    workers: &impl Workers,
    watch: impl FnMut(f64) -> Result<()>,
    take: impl FnMut(usize, Planes) -> Result<()>,
) -> Result<()> {
    let size = source.size();
    let whole = Partition::new(size, job, 0..size.1);
    all_rounds(whole, source, workers, watch, take)
}

/// The same without any look: the frame as the camera saw it, written for the delivery's screen.
///
/// # Errors
/// As [`render_strips`].
pub fn unstyled_strips(
    source: &impl PictureRows,
    job: &Job,
    workers: &impl Workers,
    watch: impl FnMut(f64) -> Result<()>,
    take: impl FnMut(usize, Planes) -> Result<()>,
) -> Result<()> {
    let size = source.size();
    let whole = Partition::unstyled(size, job, 0..size.1);
    all_rounds(whole, source, workers, watch, take)
}

/// A partition that is the whole picture, from the first strip to the last.
fn all_rounds(
    mut partition: Partition,
    source: &impl PictureRows,
    workers: &impl Workers,
    mut watch: impl FnMut(f64) -> Result<()>,
    mut take: impl FnMut(usize, Planes) -> Result<()>,
) -> Result<()> {
    loop {
        let mut results = partition.begin();
        workers.each(
            partition.strips(),
            |strip| partition.work(strip, source, &mut CarriedRows::default()),
            |strip, work| {
                if let Some(rows) = results.take(work) {
                    take(partition.first_row(strip), rows)?;
                }
                watch(partition.done(strip + 1))
            },
        )?;
        if partition.is_last() {
            return Ok(());
        }
        for layer in 0..3 {
            partition.close_halo(&mut results, layer);
        }
        partition.next_round(results);
    }
}

#[cfg(test)]
pub(crate) mod tests;
