//! What the strips of a round give.

use core::ops::Range;

use lookwright_colour::error::Result;
use lookwright_film::spatial::Planes;
use lookwright_film::spatial::halo::{HaloExchange, HaloPlane, Halved};

/// What one strip gives to its round.
pub enum StripResult {
    /// Rows to keep.
    Kept(Planes),
    /// A part of what is spread far.
    Halved(Halved),
    /// Finished rows.
    Finished(Planes),
}

/// What the strips of a round have given so far.
#[derive(Default)]
pub struct RoundResults {
    pub(super) kept: Planes,
    pub(super) gathering: HaloExchange,
}

impl RoundResults {
    /// Takes in what the next strip gave; gives back finished rows.
    pub fn take(&mut self, work: StripResult) -> Option<Planes> {
        match work {
            StripResult::Kept(rows) => self.kept.append(rows),
            StripResult::Halved(part) => self.gathering.take(part),
            StripResult::Finished(rows) => return Some(rows),
        }
        None
    }

    /// Some rows of a plane, for the other partitions: plain numbers.
    ///
    /// # Errors
    /// When these are not rows of this partition.
    pub fn read_halo(&self, plane: HaloPlane, rows: Range<usize>) -> Result<Vec<f32>> {
        self.gathering.read_halo(plane, rows)
    }

    /// Takes in rows of a plane from another partition.
    ///
    /// # Errors
    /// When these are not rows that this partition needs.
    pub fn write_halo(&mut self, plane: HaloPlane, first: usize, values: &[f32]) -> Result<()> {
        self.gathering.write_halo(plane, first, values)
    }
}
