//! Screen: the print's display code to the code of the screen that will show it.
//!
//! The print's display is Rec.709 with gamma 2.4 (BT.1886, black at 0); other screens are told
//! the same light in their own code.

use crate::encoding::{Affine, Curve, Range, ScreenId};
use crate::lane::Lane;
use crate::look::{self, CodeRange};
use crate::space::{Cat, primaries::BT709, rgb_to_rgb};
use crate::{PixelMatrix, Rgb};

/// Legal range as at 10 bits; see the intake.
const LEGAL_BITS: u32 = 10;

/// The screen, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScreenPoint {
    /// From the reference display's linear light to the screen's; none where the code is the same.
    convert: Option<PixelMatrix>,
    curve: Curve,
    from_ap1: PixelMatrix,
    range: Affine,
}

impl ScreenPoint {
    /// From a delivery's settings.
    pub fn new(delivery: &look::Delivery) -> Self {
        let id = delivery.display.screen;
        let screen = id.info();
        let (from_ap1, curve) = id.from_working();
        let range = match delivery.display.range {
            CodeRange::Full => Range::Full,
            CodeRange::Legal => Range::Legal,
        };
        Self {
            convert: (id != ScreenId::Rec709)
                .then(|| rgb_to_rgb(&BT709, &screen.primaries, Cat::Bradford).for_pixels()),
            curve,
            from_ap1: from_ap1.for_pixels(),
            range: range.from_signal(LEGAL_BITS).unwrap_or(Affine::IDENTITY),
        }
    }

    /// Display code of 1 to the screen's code of 1.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, display_code: Rgb<L>) -> Rgb<L> {
        let signal = match &self.convert {
            Some(matrix) => self.encode(matrix.apply(display_code.map(|c| c.pow(2.4)))),
            None => display_code,
        };
        signal.map(|s| self.range.apply(s))
    }

    /// AP1 scene light to the screen's code, limited to its range: no look at all.
    #[inline(always)]
    pub fn from_scene<L: Lane>(&self, scene_lin: Rgb<L>) -> Rgb<L> {
        self.encode(self.from_ap1.apply(scene_lin))
            .map(|s| self.range.apply(s))
    }

    #[inline(always)]
    fn encode<L: Lane>(&self, light: Rgb<L>) -> Rgb<L> {
        light.map(|l| self.curve.encode(l.clamp_to(0.0, 1.0)).clamp_to(0.0, 1.0))
    }
}
