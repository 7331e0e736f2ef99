//! Print: the finished scan to display code, straight or as a positive, at a chosen white.
//!
//! Display code here is that of the reference display: Rec.709 primaries, gamma 2.4, 0 ... 1.

use crate::Rgb;
use crate::lane::Lane;
use crate::look;

/// The print, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintPoint {}

impl PrintPoint {
    /// From the look's print stage.
    pub fn new(_settings: &look::Print) -> Self {
        Self {}
    }

    /// The finished scan's code to display code.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, log_code: Rgb<L>) -> Rgb<L> {
        log_code.map(|code| code.clamp_to(0.0, 1.0))
    }
}
