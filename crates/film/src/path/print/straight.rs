//! The straight finish: the finished scan shown as it is, with no print between.
//!
//! The scan's steps shape its code until it is a picture's on the reference display (Rec.709
//! primaries, gamma 2.4: BT.1886 with black at 0). Its light is `sign(c) |c|^2.4`: a code below 0
//! is light that the reference display lacks, and other screens may have.

use crate::path::{DisplayLin, ScanCode};
use lookwright_colour::PixelMatrix;
use lookwright_colour::lane::Lane;
use lookwright_colour::space::{Cat, primaries, rgb_to_rgb};

/// Gamma of the reference display.
pub const DISPLAY_GAMMA: f32 = 2.4;

/// The straight finish, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Straight {
    to_ap1: PixelMatrix,
}

impl Straight {
    /// Has no settings.
    pub fn new() -> Self {
        Self {
            to_ap1: rgb_to_rgb(&primaries::BT709, &primaries::AP1, Cat::Bradford).for_pixels(),
        }
    }

    /// The finished scan's code of 1 to display light, AP1.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, ScanCode(code): ScanCode<L>) -> DisplayLin<L> {
        DisplayLin(self.to_ap1.apply(code.map(
            #[inline(always)]
            |c| display_light(c),
        )))
    }
}

impl Default for Straight {
    fn default() -> Self {
        Self::new()
    }
}

/// A code of the reference display to its light; below 0 mirrored.
#[inline(always)]
pub fn display_light<L: Lane>(code: L) -> L {
    let light = code.abs().pow(DISPLAY_GAMMA);
    L::select(code.lt(code.of(0.0)), -light, light)
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::Rgb;

    #[test]
    fn white_is_white_and_half_the_code_is_the_published_light() {
        // BT.1886 with black at 0: code 0.5 is light 0.189464571.
        let light = |code: f32| Straight::new().apply(ScanCode(Rgb::grey(code))).0;
        for (code, expected) in [
            (1.0, 1.0),
            (0.5, 0.189_464_57),
            (0.0, 0.0),
            (-0.5, -0.189_464_57),
        ] {
            for found in light(code).to_array() {
                assert!((found - expected).abs() < 1e-6_f32, "{code}: {found}");
            }
        }
    }
}
