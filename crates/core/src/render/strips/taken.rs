//! What the strips of a round give.

use core::ops::Range;

use crate::error::Result;
use crate::spatial::Planes;
use crate::spatial::step::{Gathering, Halved};

/// What one strip gives to its round.
pub enum Work {
    /// Rows to keep.
    Kept(Planes),
    /// A part of what is spread far.
    Halved(Halved),
    /// Finished rows.
    Finished(Planes),
}

/// What the strips of a round have given so far.
#[derive(Default)]
pub struct Taken {
    pub(super) kept: Planes,
    pub(super) gathering: Gathering,
}

impl Taken {
    /// Takes in what the next strip gave; gives back finished rows.
    pub fn take(&mut self, work: Work) -> Option<Planes> {
        match work {
            Work::Kept(rows) => self.kept.append(rows),
            Work::Halved(part) => self.gathering.take(part),
            Work::Finished(rows) => return Some(rows),
        }
        None
    }

    /// Some rows of the open layer, for the other shares: plain numbers.
    ///
    /// # Errors
    /// When there are no such rows.
    pub fn told(&self, rows: Range<usize>) -> Result<Vec<f32>> {
        self.gathering.told(rows)
    }

    /// Takes in rows that another share told of.
    ///
    /// # Errors
    /// When they are not rows of this picture.
    pub fn hear(&mut self, first: usize, values: &[f32]) -> Result<()> {
        self.gathering.hear(first, values)
    }
}
