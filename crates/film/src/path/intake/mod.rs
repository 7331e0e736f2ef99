//! Intake: the frame's code to AP1 scene light, and the frame's trim.

mod unrender;

use crate::look::{self, effective_amount};
use crate::path::lens::light_balance;
use crate::path::{FrameCode, SceneLin};
use lookwright_colour::encoding::{Affine, Curve, EncodingClass};
use lookwright_colour::lane::Lane;
use lookwright_colour::{Mat3, PixelMatrix};
use unrender::Unrender;

/// Scene light is limited to this on either side of zero: the largest half float. What a file
/// holds beyond, infinities among it, is no light that film could tell apart.
const SCENE_LIMIT: f32 = 65_504.0;

/// Files' legal range is taken as 64 to 940 of 1023; at 8 bits the same codes differ by 0.0002.
pub(in crate::path) const LEGAL_BITS: u32 = 10;

/// The intake, prepared for pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct IntakePoint {
    range: Affine,
    /// Of the three codes, before the curve.
    unmixing: Option<PixelMatrix>,
    curve: Curve,
    unrender: Option<Unrender>,
    to_scene: PixelMatrix,
}

impl IntakePoint {
    /// From a frame's settings. `source.amount` and `source.on` are not used: without the intake
    /// there is no light.
    pub fn new(frame: &look::Frame) -> Self {
        let encoding = frame.source.encoding.info();
        let (curve, to_ap1) = frame.source.encoding.to_scene();
        let range = frame
            .source
            .range
            .to_code(encoding.class, LEGAL_BITS)
            .unwrap_or(Affine::IDENTITY);
        let unrender = (encoding.class == EncodingClass::Display)
            .then(|| Unrender::new(encoding, &to_ap1, frame.source.unrender))
            .flatten();
        let trim = &frame.trim;
        let amount = effective_amount(trim);
        let gain = libm::exp2(trim.exposure * amount);
        let balance = light_balance(trim.kelvin, trim.tint, amount);
        let trimmed = Mat3::diagonal([gain; 3]).after(&balance);
        let to_scene = match unrender {
            Some(_) => trimmed,
            None => trimmed.after(&to_ap1),
        };
        Self {
            range,
            unmixing: frame.source.encoding.unmixing().map(|m| m.for_pixels()),
            curve,
            unrender,
            to_scene: to_scene.for_pixels(),
        }
    }

    /// Code to AP1 scene light. NaN counts as no light; the result is always finite.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, FrameCode(code): FrameCode<L>) -> SceneLin<L> {
        let code = code.map(
            #[inline(always)]
            |c| self.range.apply(c),
        );
        let code = match &self.unmixing {
            Some(unmixing) => unmixing.apply(code),
            None => code,
        };
        let linear = code.map(
            #[inline(always)]
            |c| self.curve.decode(c).clamp_to(-SCENE_LIMIT, SCENE_LIMIT),
        );
        let scene_lin = self.to_scene.apply(match &self.unrender {
            Some(unrender) => unrender.apply(linear),
            None => linear,
        });
        SceneLin(scene_lin.map(
            #[inline(always)]
            |light| light.clamp_to(-SCENE_LIMIT, SCENE_LIMIT),
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::Rgb;
    use lookwright_colour::encoding::EncodingId;

    fn light(encoding: EncodingId, amount: f64, code: [f32; 3]) -> [f32; 3] {
        let mut frame = look::Frame::default();
        frame.source.encoding = encoding;
        frame.source.unrender = amount;
        let code = FrameCode(Rgb::from_array(code));
        IntakePoint::new(&frame).apply(code).0.to_array()
    }

    #[test]
    fn a_colour_is_the_same_light_whichever_primaries_it_was_written_in() {
        // sRGB (1, 0, 0) in Display P3 is 0.917488, 0.200287, 0.138561 (CSS Color 4's sample code).
        let pairs = [
            (EncodingId::DisplayP3, [0.917_488, 0.200_287, 0.138_561]),
            // The same code under gamma 2.4 is the same picture in a dimmer room.
            (EncodingId::Rec709, [1.0, 0.0, 0.0]),
        ];
        let srgb = light(EncodingId::Srgb, 1.0, [1.0, 0.0, 0.0]);
        for (encoding, code) in pairs {
            let there = light(encoding, 1.0, code);
            for (a, b) in there.into_iter().zip(srgb) {
                let tolerance = if encoding == EncodingId::Rec709 {
                    0.02
                } else {
                    2e-4
                };
                assert!((a - b).abs() < tolerance, "{encoding:?} {there:?} {srgb:?}");
            }
        }
    }

    /// OpenColorIO 2.6.0, ADX10 to ACES2065-1 to ACEScg; its printed matrix is rounded by 1e-5.
    #[test]
    fn a_film_scan_is_read_as_the_light_that_its_standard_says() {
        let found = light(EncodingId::Adx10, 1.0, [0.6, 0.4, 0.3]);
        let expected = [0.483_619_5, 0.176_250_7, 0.102_023_67];
        for (a, b) in found.into_iter().zip(expected) {
            assert!((a - b).abs() < 5e-6_f32, "{found:?} {expected:?}");
        }
    }

    #[test]
    fn only_finished_photographs_are_unrendered_and_amount_0_is_none() {
        let white = light(EncodingId::Srgb, 1.0, [1.0; 3]);
        assert!((white[1] - 2.88).abs() < 1e-3, "{white:?}");
        assert!((light(EncodingId::Srgb, 0.0, [1.0; 3])[1] - 1.0).abs() < 1e-6);
        let half = light(EncodingId::Srgb, 0.5, [1.0; 3])[1];
        assert!((half - 1.94).abs() < 1e-3, "{half}");
        for encoding in [
            EncodingId::LogC3,
            EncodingId::AcesCg,
            EncodingId::SrgbLinear,
        ] {
            let code = [0.5, 0.4, 0.3];
            assert_eq!(light(encoding, 1.0, code), light(encoding, 0.0, code));
        }
    }
}
