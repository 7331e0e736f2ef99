//! Print: the finished scan to display code, straight or as a positive, at a chosen white.
//!
//! Display code here is that of the reference display: Rec.709 primaries, gamma 2.4, 0 ... 1.

mod positive;
mod roll;
mod white;

pub use positive::Positive;
pub use roll::roll;
pub use white::White;

use crate::look::{self, effective_amount};
use crate::path::{DisplayCode, ScanCode};
use lookwright_colour::lane::Lane;

/// The print, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintPoint {
    positive: Option<Positive>,
    white: Option<White>,
}

impl PrintPoint {
    /// From the look's print stage.
    pub fn new(settings: &look::Print) -> Self {
        Self {
            positive: Positive::new(&settings.positive, effective_amount(&settings.positive)),
            white: White::new(&settings.white, effective_amount(&settings.white)),
        }
    }

    /// The finished scan's code to display code. The gamut roll is not a step: it always acts,
    /// on what would leave the display, and once more about the chosen white, since adaptation
    /// moves saturated colours.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, ScanCode(code): ScanCode<L>) -> DisplayCode<L> {
        let printed = match &self.positive {
            Some(step) => step.apply(code),
            None => code,
        };
        let inside = roll(printed);
        DisplayCode(match &self.white {
            Some(step) => step.seen(roll(step.adapt(inside))),
            None => inside,
        })
    }
}
