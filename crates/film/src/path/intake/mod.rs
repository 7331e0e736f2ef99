//! Intake: the frame's code to AP1 scene light, and the frame's trim.

mod unroll;

use crate::look::{self, effective_amount};
use crate::path::lens::light_balance;
use crate::path::{FrameCode, SceneLin};
use lookwright_colour::encoding::{Affine, Curve, EncodingClass};
use lookwright_colour::lane::Lane;
use lookwright_colour::{Mat3, PixelMatrix};
use unroll::Unroll;

/// Scene light is limited to this on either side of zero: the largest half float. What a file
/// holds beyond, infinities among it, is no light that film could tell apart.
const SCENE_LIMIT: f32 = 65_504.0;

/// Files' legal range is taken as 64 to 940 of 1023; at 8 bits the same codes differ by 0.0002.
const LEGAL_BITS: u32 = 10;

/// The intake, prepared for pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct IntakePoint {
    range: Affine,
    curve: Curve,
    unroll: Option<Unroll>,
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
        let unroll = (encoding.class == EncodingClass::Display)
            .then(|| Unroll::new(frame.source.unroll))
            .flatten();
        let trim = &frame.trim;
        let amount = effective_amount(trim);
        let gain = libm::exp2(trim.exposure * amount);
        let balance = light_balance(trim.kelvin, trim.tint, amount);
        let to_scene = Mat3::diagonal([gain; 3]).after(&balance).after(&to_ap1);
        Self {
            range,
            curve,
            unroll,
            to_scene: to_scene.for_pixels(),
        }
    }

    /// Code to AP1 scene light. NaN counts as no light; the result is always finite.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, FrameCode(code): FrameCode<L>) -> SceneLin<L> {
        let linear = code.map(
            #[inline(always)]
            |c| {
                let light = self.curve.decode(self.range.apply(c));
                match &self.unroll {
                    Some(unroll) => unroll.apply(light),
                    None => light,
                }
            },
        );
        let scene_lin = self.to_scene.apply(linear.map(
            #[inline(always)]
            |light| light.clamp_to(-SCENE_LIMIT, SCENE_LIMIT),
        ));
        SceneLin(scene_lin.map(
            #[inline(always)]
            |light| light.clamp_to(-SCENE_LIMIT, SCENE_LIMIT),
        ))
    }
}
