//! Skin guard: what has the colour of skin keeps its hue and density while colours are graded.
//!
//! The guard looks at the shaped scan's code before the steps that mix channels, and gives back what
//! they took where that colour lies on the skin locus: the band between two parabolas of the red-green
//! plane `r = R / (R + G + B)`, `g = G / (R + G + B)` in which skin of all kinds lies under any
//! balance (Soriano, Martinkauppi, Huovinen and Laaksonen, Pattern Recognition 36, 2003; coefficients
//! from memory). Its edges are soft here, and greys and the deepest shadows are left out: *chosen*.

use crate::look;
use crate::path::bend::within;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// The upper and the lower parabola: square, linear, constant.
const UPPER: [f32; 3] = [-1.8423, 1.5294, 0.0422];
const LOWER: [f32; 3] = [-0.7279, 0.6066, 0.1766];
/// How softly the band begins and ends, in parts of the plane.
const EDGE: f32 = 0.02;
/// Where redness begins to count, and over how much it comes to count fully.
const REDDISH: f32 = 0.35;
const REDDISH_EDGE: f32 = 0.05;
/// Redder than this is no skin, over as much as the last number.
const TOO_RED: f32 = 0.56;
const TOO_RED_EDGE: f32 = 0.08;
/// The sum of codes at which the guard is full.
const BRIGHT: f32 = 0.5;

/// The skin guard, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SkinGuard {
    strength: f32,
}

impl SkinGuard {
    /// From the look's step, `amount` times over; none if it guards nothing.
    pub fn new(settings: &look::SkinGuard, amount: f64) -> Option<Self> {
        let strength = (settings.strength * amount).min(1.0) as f32;
        (strength > 0.0).then_some(Self { strength })
    }

    /// The code `after` the colour steps, with what was skin `before` them given back.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, before: Rgb<L>, after: Rgb<L>) -> Rgb<L> {
        let share = skin(before) * self.strength;
        after.zip(
            before,
            #[inline(always)]
            |after, before| after + (before - after) * share,
        )
    }
}

/// How much of a skin's colour a display code has, 0 to 1.
#[inline(always)]
pub fn skin<L: Lane>(code: Rgb<L>) -> L {
    let kept = code.map(
        #[inline(always)]
        |c| within(c, 0.01, 0.01),
    );
    let sum = kept.r + kept.g + kept.b;
    let (r, g) = (kept.r / sum, kept.g / sum);
    let inside = step(curve(r, UPPER) - g, EDGE) * step(g - curve(r, LOWER) + EDGE, EDGE);
    let red = step(r - REDDISH, REDDISH_EDGE) * step(-r + TOO_RED, TOO_RED_EDGE);
    inside * red * step(sum, BRIGHT)
}

#[inline(always)]
fn curve<L: Lane>(r: L, [square, linear, constant]: [f32; 3]) -> L {
    (r * square + linear) * r + constant
}

/// 0 below 0, 1 above `edge`, smooth between.
#[inline(always)]
fn step<L: Lane>(x: L, edge: f32) -> L {
    let t = (x * (1.0 / edge)).clamp_to(0.0, 1.0);
    t * t * (t * -2.0 + 3.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::encoding::Curve;

    /// Linear BT.709 of the 24-patch chart (colour-science 0.4.7, `ColorChecker24 - After November
    /// 2014`), patches 1, 2 and others.
    #[test]
    fn the_chart_s_skins_are_skin_and_its_other_colours_are_not() {
        let of = |light: [f32; 3]| skin(Rgb::from_array(light).map(|c| Curve::Srgb.encode(c)));
        for patch in [
            [0.173_705, 0.078_775, 0.052_849],
            [0.559_856, 0.277_390, 0.210_867],
        ] {
            assert!(of(patch) > 0.9, "{patch:?}: {}", of(patch));
        }
        for patch in [
            [0.104_227, 0.188_906, 0.328_913],
            [0.105_758, 0.150_744, 0.050_831],
            [0.115_323, 0.507_432, 0.411_104],
            [0.058_765, 0.101_177, 0.387_731],
            [0.020_970, 0.047_532, 0.284_117],
            [0.046_070, 0.292_044, 0.061_472],
            [0.446_223, 0.036_359, 0.040_538],
            [0.522_413, 0.077_763, 0.289_288],
            [0.584_585, 0.592_110, 0.584_435],
            [0.031_359, 0.031_493, 0.032_320],
        ] {
            assert!(of(patch) < 0.05, "{patch:?}: {}", of(patch));
        }
    }

    #[test]
    fn it_gives_back_what_was_taken_from_skin_alone() {
        let guard = SkinGuard::new(&look::SkinGuard::default(), 1.0).unwrap();
        let (skin, grey) = (Rgb::new(0.77_f32, 0.563, 0.498), Rgb::grey(0.5_f32));
        let taken = |c: Rgb| c.map(|c| c * 0.8);
        let back = guard.apply(skin, taken(skin));
        let strength = look::SkinGuard::default().strength as f32;
        assert!(
            (back.r - 0.77 * (0.8 + 0.2 * strength)).abs() < 0.02,
            "{back:?}"
        );
        assert_eq!(guard.apply(grey, taken(grey)), taken(grey));
        assert_eq!(SkinGuard::new(&look::SkinGuard::default(), 0.0), None);
    }

    #[test]
    fn it_has_no_edge() {
        // Across hues at three purities: never steeper than the soft edges allow.
        for purity in [0.1_f32, 0.25, 0.45] {
            let at = |degrees: f64| {
                let turn = |of: f64| libm::cos((degrees - of).to_radians()) as f32;
                skin(Rgb::new(0.0, 120.0, 240.0).map(|of| 0.6 * (1.0 + purity * turn(of.into()))))
            };
            for tenth in 0..3600 {
                let d = f64::from(tenth) / 10.0;
                assert!((at(d + 0.1) - at(d)).abs() < 0.02, "{purity} {d}");
            }
        }
    }
}
