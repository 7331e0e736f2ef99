//! Screen: the print's display code to the code of the screen that will show it.
//!
//! The print's code is that of a Rec.709 display with gamma 2.4 (BT.1886, black at 0), seen in a
//! dim room. Rec.2020 shows the same light on wider primaries. Computer screens stand in brighter
//! rooms, where the same codes under sRGB's own curve, which is lighter in the shadows, look the
//! same: sRGB takes the codes as they are, Display P3 takes what sRGB would show (common practice,
//! no source; television's gamma 2.4 for a dim surround against 2.2 for an average one).

use crate::look::{self, CodeRange};
use crate::path::{DisplayCode, SceneLin, ScreenCode};
use lookwright_colour::encoding::{Affine, Curve, Range};
use lookwright_colour::lane::Lane;
use lookwright_colour::space::{Cat, primaries::BT709, rgb_to_rgb};
use lookwright_colour::{PixelMatrix, Rgb};

/// Legal range as at 10 bits; see the intake.
const LEGAL_BITS: u32 = 10;

/// The screen, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScreenPoint {
    /// From Rec.709 light to the screen's; none where the code is the same.
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
            convert: (screen.primaries != BT709)
                .then(|| rgb_to_rgb(&BT709, &screen.primaries, Cat::Bradford).for_pixels()),
            curve,
            from_ap1: from_ap1.for_pixels(),
            range: range.from_signal(LEGAL_BITS).unwrap_or(Affine::IDENTITY),
        }
    }

    /// Display code of 1 to the screen's code of 1.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, DisplayCode(display_code): DisplayCode<L>) -> ScreenCode<L> {
        let signal = match &self.convert {
            Some(matrix) => self.encode(matrix.apply(display_code.map(
                #[inline(always)]
                |c| self.curve.decode(c),
            ))),
            None => display_code,
        };
        self.in_range(signal)
    }

    /// AP1 scene light to the screen's code, limited to its range: no look at all.
    #[inline(always)]
    pub fn from_scene<L: Lane>(&self, scene_lin: SceneLin<L>) -> ScreenCode<L> {
        self.in_range(self.encode(self.from_ap1.apply(scene_lin.0)))
    }

    #[inline(always)]
    fn in_range<L: Lane>(&self, signal: Rgb<L>) -> ScreenCode<L> {
        ScreenCode(signal.map(
            #[inline(always)]
            |s| self.range.apply(s),
        ))
    }

    #[inline(always)]
    fn encode<L: Lane>(&self, light: Rgb<L>) -> Rgb<L> {
        light.map(
            #[inline(always)]
            |l| self.curve.encode(l.clamp_to(0.0, 1.0)).clamp_to(0.0, 1.0),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::Delivery;
    use lookwright_colour::encoding::ScreenId;

    fn shown(id: ScreenId, display_code: Rgb) -> Rgb {
        let mut delivery = Delivery::default();
        delivery.display.screen = id;
        ScreenPoint::new(&delivery)
            .apply(DisplayCode(display_code))
            .0
    }

    #[test]
    fn rec709_and_srgb_take_the_codes_as_they_are() {
        let code = Rgb::new(0.04_f32, 0.5, 0.97);
        assert_eq!(shown(ScreenId::Rec709, code), code);
        assert_eq!(shown(ScreenId::Srgb, code), code);
    }

    #[test]
    fn wider_screens_show_the_same_colour() {
        // BT.709 red in BT.2020 light is 0.627404, 0.069097, 0.016391 (ITU-R BT.2087-0).
        let red = shown(ScreenId::Rec2020, Rgb::new(1.0_f32, 0.0, 0.0));
        let light = red.map(|code| Curve::Bt1886.decode(code)).to_array();
        for (seen, published) in light.into_iter().zip([0.627_404, 0.069_097, 0.016_391]) {
            assert!((seen - published).abs() < 2e-5, "{seen} {published}");
        }
        // The inverse of Display P3 to BT.709: red is 0.822462, 0.033194, 0.017083.
        let red = shown(ScreenId::DisplayP3, Rgb::new(1.0_f32, 0.0, 0.0));
        let light = red.map(|code| Curve::Srgb.decode(code)).to_array();
        for (seen, known) in light.into_iter().zip([0.822_462, 0.033_194, 0.017_083]) {
            assert!((seen - known).abs() < 2e-5, "{seen} {known}");
        }
    }

    #[test]
    fn greys_stay_grey_on_every_screen() {
        for id in ScreenId::ALL {
            let grey = shown(id, Rgb::grey(0.43_f32));
            assert!((grey.r - grey.g).abs() < 1e-6 && (grey.b - grey.g).abs() < 1e-6);
            assert!((grey.g - 0.43).abs() < 1e-5);
        }
    }
}
