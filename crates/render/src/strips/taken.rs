//! What the strips of a round give.

use core::ops::Range;

use lookwright_colour::error::Result;
use lookwright_film::spatial::Planes;
use lookwright_film::spatial::gathering::{Gathering, Halved, Sheet};

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

    /// Some rows of an offered sheet, for the other shares: plain numbers.
    ///
    /// # Errors
    /// When these are not rows of this share.
    pub fn told(&self, sheet: Sheet, rows: Range<usize>) -> Result<Vec<f32>> {
        self.gathering.told(sheet, rows)
    }

    /// Takes in rows of an offered sheet that another share told of.
    ///
    /// # Errors
    /// When these are not rows that this share wants.
    pub fn hear(&mut self, sheet: Sheet, first: usize, values: &[f32]) -> Result<()> {
        self.gathering.hear(sheet, first, values)
    }
}
