//! Print white: the light that the print is seen in.
//!
//! Display light is adapted from D65 to the chosen white (linear Bradford, Lam 1985; ICC.1), so
//! greys and whites take its chromaticity. The brightest channel of that white stays at display
//! white, the others fall below it. Whites as tabulated: CIE 15.
//!
//! Adaptation can leave a saturated colour with less than no light in a channel. That is bent to
//! nothing by `(x + sqrt(x^2 + e^2)) / 2`, `e` a thousandth of the pixel's own luminance, so that
//! a gradient has no kink there and greys keep their chromaticity.
//!
//! Between [`White::adapt`] and [`White::seen`] the picture is told relative to the chosen white,
//! greys being equal numbers: there the gamut roll works.

use crate::look::{self, WhitePoint};
use crate::path::scan::luma;
use lookwright_colour::lane::Lane;
use lookwright_colour::space::{Cat, Xy, adaptation, primaries::BT709, white};
use lookwright_colour::{Mat3, PixelMatrix, Rgb};

/// Gamma of the reference display (BT.1886 with black at 0).
const DISPLAY_GAMMA: f32 = 2.4;

/// Where light bends to nothing, as a share of the pixel's luminance.
const BEND: f32 = 1e-3;

/// The print's white, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct White {
    adapt: PixelMatrix,
    white_code: Rgb,
}

impl White {
    /// From the look's step; none at D65 or amount 0. The amount moves the white on a straight
    /// line through D65, so 2 is twice as far.
    pub fn new(settings: &look::White, amount: f64) -> Option<Self> {
        let target = xy_of(settings.white);
        if target == white::D65 || amount == 0.0 {
            return None;
        }
        let matrix = adaptation(&BT709, white::D65, target, Cat::Bradford).blend(amount);
        let white = matrix.apply([1.0; 3]);
        let brightest = white.iter().fold(0.0_f64, |m, v| m.max(*v));
        let relative = Mat3::diagonal(white.map(|v| 1.0 / v)).after(&matrix);
        Some(Self {
            adapt: relative.for_pixels(),
            white_code: Rgb::from_array(
                white.map(|v| libm::pow(v / brightest, 1.0 / f64::from(DISPLAY_GAMMA)) as f32),
            ),
        })
    }

    /// Display code in 0 ... 1 to display code relative to the chosen white. Greys stay as they
    /// are.
    #[inline(always)]
    pub fn adapt<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        let light = code.map(
            #[inline(always)]
            |c| c.pow(DISPLAY_GAMMA),
        );
        let bend = luma(light) * BEND;
        self.adapt.apply(light).map(
            #[inline(always)]
            |x| {
                let above_nothing = (x + (x * x + bend * bend).sqrt()) * 0.5;
                above_nothing.pow(1.0 / DISPLAY_GAMMA)
            },
        )
    }

    /// Display code relative to the chosen white to display code.
    #[inline(always)]
    pub fn seen<L: Lane>(&self, relative: Rgb<L>) -> Rgb<L> {
        relative.zip(
            self.white_code,
            #[inline(always)]
            |c, white| c * white,
        )
    }
}

/// The chromaticity of a choice.
pub const fn xy_of(choice: WhitePoint) -> Xy {
    match choice {
        WhitePoint::D50 => white::D50,
        WhitePoint::D55 => white::D55,
        WhitePoint::D60 => white::D60,
        WhitePoint::D65 => white::D65,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::Options;

    fn white_step(white: WhitePoint, amount: f64) -> Option<White> {
        let settings = look::White {
            white,
            ..Default::default()
        };
        White::new(&settings, amount)
    }

    #[test]
    fn every_grey_takes_the_chromaticity_of_the_chosen_white() {
        for choice in WhitePoint::ALL {
            let Some(step) = white_step(*choice, 1.0) else {
                assert_eq!(*choice, WhitePoint::D65);
                continue;
            };
            for level in [0.05_f32, 0.2, 0.5, 1.0] {
                let out = step.seen(step.adapt(Rgb::grey(level))).to_array();
                assert!(out.iter().all(|c| *c <= 1.0 + 1e-6));
                let light = out.map(|c| libm::pow(f64::from(c), 2.4));
                let [x, y, z] = BT709.rgb_to_xyz().apply(light);
                let found = Xy::new(x / (x + y + z), y / (x + y + z));
                let aim = xy_of(*choice);
                assert!(
                    (found.x - aim.x).abs() < 5e-6 && (found.y - aim.y).abs() < 5e-6,
                    "{choice:?} at {level}: {found:?}"
                );
            }
        }
    }

    #[test]
    fn its_brightest_channel_stays_at_display_white() {
        for amount in [0.3, 1.0, 2.0] {
            let step = white_step(WhitePoint::D50, amount).unwrap();
            let white = step.seen(step.adapt(Rgb::grey(1.0_f32)));
            assert!((white.r - 1.0).abs() < 1e-6 && white.b < white.g && white.g < 1.0);
        }
    }

    #[test]
    fn d65_and_amount_zero_are_no_step() {
        assert_eq!(white_step(WhitePoint::D65, 1.0), None);
        assert_eq!(white_step(WhitePoint::D50, 0.0), None);
    }
}
