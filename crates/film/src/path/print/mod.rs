//! Print: the finished scan to display light, straight or as a positive.
//!
//! Display light is linear, with AP1 primaries, relative to the print's white: 1, 1, 1 is what a
//! screen shows as its white. It has no limits: a colour may be brighter than white, or lie
//! outside what one screen can show and inside another's. The screen stage brings it in.

mod positive;
mod straight;
mod white;

pub use positive::Positive;
pub use straight::{Straight, display_light};
pub use white::White;

use crate::look::{self, effective_amount};
use crate::path::{DisplayLin, ScanCode};
use lookwright_colour::lane::Lane;

/// The print, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintPoint {
    straight: Straight,
    positive: Option<Positive>,
}

impl PrintPoint {
    /// From the look's print stage. Its white is the screen's business.
    pub fn new(settings: &look::Print) -> Self {
        Self {
            straight: Straight::new(),
            positive: Positive::new(&settings.positive, effective_amount(&settings.positive)),
        }
    }

    /// The finished scan's code of 1 to display light.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, code: ScanCode<L>) -> DisplayLin<L> {
        let printed = match &self.positive {
            Some(step) => ScanCode(step.apply(code.0)),
            None => code,
        };
        self.straight.apply(printed)
    }
}
