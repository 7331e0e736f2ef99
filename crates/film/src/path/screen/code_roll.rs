//! Gamut roll: brings what no display can show back inside, softly and at the same hue.
//!
//! A code is split into its luma `y` (BT.709 weights) and its distance from grey `c - y`:
//!
//! ```text
//! a   = y kept between 0 and 1 by a soft bend
//! d_i = (c_i - y) / (1 - a) where above grey, (y - c_i) / a where below
//! d   = (d_r^8 + d_g^8 + d_b^8)^(1/8)            1 or more where a channel leaves the range
//! c'  = a + (c - y) f(d) / d                     f(d) = d up to 0.85, then bends to 1
//! ```
//!
//! The three distances from grey keep their ratios, so the hue angle in the plane of BT.709's
//! colour differences (the vectorscope's) stays exactly, and so does luma inside the range. Since
//! `d` is no less than any `d_i` and `f < 1`, the result is always inside. Compressing the
//! distance from the achromatic axis towards the gamut's edge is the way of the Academy's
//! reference gamut compression (2021); axis, norm and curve are ours: the norm of power 8 joins
//! the gamut's sides without a kink, and `f` is smooth to the second derivative.

use crate::path::bend::{bent, within};
use crate::path::scan::luma;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// Distance up to which colours stay exactly as they are.
const FREE: f32 = 0.85;
/// How near to black and white luma may come before it bends.
const LOW_ROOM: f32 = 0.004;
const HIGH_ROOM: f32 = 0.04;
/// The farthest distance that is told apart; its eighth power must be a number.
const FARTHEST: f32 = 5e3;

/// Display code to display code in 0 ... 1.
#[inline(always)]
pub fn roll<L: Lane>(code: Rgb<L>) -> Rgb<L> {
    let y = luma(code);
    let a = within(y, LOW_ROOM, HIGH_ROOM);
    let from_grey = code.map(
        #[inline(always)]
        |c| c - y,
    );
    let (above, below) = (a.of(1.0) / (-a + 1.0), a.of(1.0) / a);
    let eighths = from_grey.map(
        #[inline(always)]
        |d| {
            let distance = (d * above).max(-d * below).min(d.of(FARTHEST));
            let squared = distance * distance;
            let fourth = squared * squared;
            fourth * fourth
        },
    );
    let sum = eighths.r + eighths.g + eighths.b;
    let d = sum.sqrt().sqrt().sqrt();
    let rolled = bent(d - FREE, d.of(1.0 - FREE)) + FREE;
    let share = d.below(FREE, d.of(1.0), rolled / d.max(d.of(FREE)));
    // Written as corrections, so that a colour that is free stays to the last bit.
    let lift = a - y;
    let rolled = from_grey.zip(
        code,
        #[inline(always)]
        |distance, c| distance * (share - 1.0) + (c + lift),
    );
    // Inside already, but for the last bit.
    rolled.map(
        #[inline(always)]
        |c| c.clamp_to(0.0, 1.0),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::path::scan::LUMA;
    use proptest::prelude::*;

    fn any_code() -> impl Strategy<Value = Rgb> {
        [-1.5_f32..2.5, -1.5_f32..2.5, -1.5_f32..2.5].prop_map(Rgb::from_array)
    }

    fn near_code() -> impl Strategy<Value = Rgb> {
        [-0.4_f32..1.5, -0.4_f32..1.5, -0.4_f32..1.5].prop_map(Rgb::from_array)
    }

    /// Hue angle in the plane of BT.709's colour differences, in degrees.
    fn hue(code: Rgb) -> f64 {
        let y = f64::from(luma(code));
        let (cb, cr) = (
            (f64::from(code.b) - y) / 1.8556,
            (f64::from(code.r) - y) / 1.5748,
        );
        libm::atan2(cr, cb).to_degrees()
    }

    proptest! {
        #[test]
        fn everything_ends_inside_with_its_hue(code in any_code()) {
            let out = roll(code);
            for c in out.to_array() {
                prop_assert!((0.0..=1.0).contains(&c), "{out:?}");
            }
            let spread = |c: Rgb| c.to_array().iter().map(|v| (v - luma(c)).abs()).sum::<f32>();
            if spread(out) > 0.02 {
                let turned = (hue(out) - hue(code)).abs();
                prop_assert!(turned.min(360.0 - turned) < 0.02, "turned by {turned}");
            }
        }

        #[test]
        fn there_is_no_kink_on_any_straight_way(from in near_code(), to in near_code()) {
            let at = |t: f64| {
                from.zip(to, |a, b| a + (b - a) * t as f32).to_array()
            };
            let out = |t: f64| roll(Rgb::from_array(at(t))).to_array().map(f64::from);
            let length = f64::from(
                from.zip(to, |a, b| (a - b).abs())
                    .to_array()
                    .iter()
                    .fold(0.0_f32, |m, v| m.max(*v)),
            );
            // Where the luma is not close to the ends: there the roll is as steep as it is narrow.
            for i in 2..=98 {
                let t = f64::from(i) / 100.0;
                let y = luma(Rgb::from_array(at(t)));
                if !(0.2..=0.7).contains(&y) {
                    continue;
                }
                let step = 1e-3_f64;
                let (before, here, after) = (out(t - step), out(t), out(t + step));
                for c in 0..3 {
                    // A kink leaves a second difference of the jump in slope times the step; a
                    // smooth bend one of its curvature times the step squared.
                    let second = (after[c] - 2.0 * here[c] + before[c]).abs();
                    prop_assert!(second < 120.0 * length * length * step * step + 1e-6);
                }
            }
        }
    }

    #[test]
    fn free_colours_stay_to_the_last_bit() {
        for code in [
            [0.5_f32, 0.5, 0.5],
            [0.95, 0.95, 0.95],
            [0.7, 0.5, 0.42],
            [0.2, 0.35, 0.5],
            [0.06, 0.05, 0.04],
        ] {
            let code = Rgb::from_array(code);
            assert_eq!(roll(code), code);
        }
    }

    #[test]
    fn greys_beyond_the_range_keep_rising() {
        let mut last = -1.0;
        for i in -20..=1500 {
            let out = roll(Rgb::grey(i as f32 / 1000.0));
            assert!(out.g > last && out.g < 1.0, "{i}");
            assert!((out.r - out.g).abs() < 1e-6 && (out.b - out.g).abs() < 1e-6);
            last = out.g;
        }
    }

    #[test]
    fn saturated_blues_and_reds_keep_their_order_and_do_not_end_in_a_blob() {
        // Distance from grey, growing far past the gamut, as an LED's light does.
        for direction in [[-0.3_f32, -0.25, 1.0], [1.0, -0.35, -0.3], [-0.4, 0.5, 0.9]] {
            let own = luma(Rgb::from_array(direction));
            for grey in [0.15_f32, 0.35, 0.6] {
                let mut last = -1.0;
                for i in 0..=120 {
                    let colour = direction.map(|d| grey + (d - own) * i as f32 * 0.01);
                    let out = roll(Rgb::from_array(colour));
                    let distance: f32 = out
                        .to_array()
                        .iter()
                        .zip(LUMA)
                        .map(|(c, w)| (c - luma(out)).abs() * w)
                        .sum();
                    assert!(distance > last, "{direction:?} {grey} {i}");
                    last = distance;
                    assert!((luma(out) - grey).abs() < 1e-5);
                }
            }
        }
    }
}
