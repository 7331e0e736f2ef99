//! Printing on positive film: scan code to printing light, to density, to transmitted light.
//!
//! ```text
//! h  = -0.002 * 1023 * x (code - 445/1023) + 0.025 points        log10 exposure of the positive
//! u  = gamma h + u0
//! t  = (u + sqrt(u^2 + a^2)) / 2                                 toe: the print's whites
//! D  = S - ((S - t) + sqrt((S - t)^2 + b^2)) / 2                 shoulder: the print's blacks
//! c' = 10^(-(D - D(-inf)) / 2.4)                                 transmitted light, display code
//! ```
//!
//! `x` is how much of the scan's contrast is printed: the code's 0.002 density each hold for a
//! flat scan. `u0` is set so that code 445 prints to visual density 1.00 above the base, the aim
//! of laboratory density control (Pytlak and Fleischer, SMPTE J., October 1976; Kodak H-61), one
//! point being 0.025 log10 exposure. Slopes of 2.6 to 3.8: common practice, no source. The shape
//! of toe and shoulder is ours. Display white is the clear base in the projector's light.

use crate::look;
use crate::path::scan::POINT_LOG_E;
use crate::path::scan::code::{CODE_MAX, DENSITY_PER_CODE};
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// The laboratory aim's code: printing density 0.890 (Kodak H-387).
pub const AIM_CODE: f64 = 445.0;
/// Visual density, above the base, to which it prints.
pub const AIM_DENSITY: f64 = 1.0;
/// Width of the toe's bend in density.
const TOE: f64 = 0.45;
/// Width of the shoulder's bend in density.
const SHOULDER: f64 = 0.8;
/// How much an amount of 2 adds to gamma and greatest density.
const EXAGGERATION: f64 = 0.3;

/// The positive, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Positive {
    per_code: f32,
    offset: f32,
    toe_squared: f32,
    span: f32,
    shoulder_squared: f32,
    top: f32,
    share: f32,
}

impl Positive {
    /// From the look's step; none at amount 0. Up to 1 the amount mixes the positive over the
    /// straight scan; beyond, the positive itself gets harder and deeper.
    pub fn new(settings: &look::Positive, amount: f64) -> Option<Self> {
        if amount == 0.0 {
            return None;
        }
        let harder = 1.0 + EXAGGERATION * (amount - 1.0).max(0.0);
        let gamma = settings.gamma * harder;
        let shape = Shape::ending_at(settings.dmax * harder);
        let density_per_code = f64::from(DENSITY_PER_CODE * CODE_MAX) * settings.scan_contrast;
        let aim = AIM_CODE / f64::from(CODE_MAX);
        let light = settings.light * f64::from(POINT_LOG_E);
        Some(Self {
            per_code: (-gamma * density_per_code) as f32,
            offset: (shape.aim() + gamma * (density_per_code * aim + light)) as f32,
            toe_squared: (TOE * TOE) as f32,
            span: shape.span as f32,
            shoulder_squared: (SHOULDER * SHOULDER) as f32,
            top: (shape.span - shape.base()) as f32,
            share: amount.min(1.0) as f32,
        })
    }

    /// The finished scan's code to display code.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        code.map(
            #[inline(always)]
            |c| c.mix(self.printed(c), self.share),
        )
    }

    #[inline(always)]
    fn printed<L: Lane>(&self, code: L) -> L {
        let u = code * self.per_code + self.offset;
        let toe = (u + (u * u + self.toe_squared).sqrt()) * 0.5;
        let room = -toe + self.span;
        let bent = (room + (room * room + self.shoulder_squared).sqrt()) * 0.5;
        let density = -bent + self.top;
        (density * (-1.0 / 2.4)).exp10()
    }
}

/// The curve in double precision, for set-up.
struct Shape {
    span: f64,
}

impl Shape {
    /// With this greatest density above the base: solved for the span,
    /// `D_max = (S + sqrt(S^2 + b^2)) / 2`.
    fn ending_at(dmax: f64) -> Self {
        Self {
            span: dmax - SHOULDER * SHOULDER / (4.0 * dmax),
        }
    }

    fn shouldered(&self, t: f64) -> f64 {
        let room = self.span - t;
        self.span - (room + (room * room + SHOULDER * SHOULDER).sqrt()) / 2.0
    }

    /// The density that is left where no light has printed.
    fn base(&self) -> f64 {
        self.shouldered(0.0)
    }

    /// The `u` that prints to the aim, by halving.
    fn aim(&self) -> f64 {
        let density = |u: f64| {
            let t = (u + (u * u + TOE * TOE).sqrt()) / 2.0;
            self.shouldered(t) - self.base()
        };
        let (mut low, mut high) = (0.0, self.span);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if density(middle) < AIM_DENSITY {
                low = middle;
            } else {
                high = middle;
            }
        }
        f64::midpoint(low, high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn density(step: &Positive, code_10bit: f64) -> f64 {
        let display = step.apply(Rgb::grey((code_10bit / 1023.0) as f32)).g;
        -2.4 * libm::log10(f64::from(display))
    }

    fn positive(change: impl FnOnce(&mut look::Positive)) -> Positive {
        let mut settings = look::Positive::default();
        change(&mut settings);
        Positive::new(&settings, 1.0).unwrap()
    }

    #[test]
    fn the_laboratory_aim_prints_to_density_one() {
        // Visual neutral density 1.00 (Kodak H-61 family) from code 445 (Kodak H-387).
        for gamma in [1.8, 2.6, 3.8] {
            for dmax in [2.0, 3.6, 4.5] {
                for contrast in [0.5, 1.0] {
                    let step = positive(|s| {
                        s.gamma = gamma;
                        s.dmax = dmax;
                        s.scan_contrast = contrast;
                    });
                    assert!((density(&step, 445.0) - 1.0).abs() < 1e-4);
                }
            }
        }
    }

    #[test]
    fn a_point_of_light_darkens_by_gamma_times_its_exposure() {
        // 0.025 log10 exposure times a slope of 3 is 0.075 density; the bends take a little off.
        let at = |light| {
            positive(|s| {
                s.gamma = 3.0;
                s.light = light;
            })
        };
        let step = density(&at(1.0), 445.0) - density(&at(0.0), 445.0);
        assert!((0.068..=0.075).contains(&step), "{step}");
    }

    #[test]
    fn the_straight_line_has_the_gamma_and_the_film_its_greatest_density() {
        let step = positive(|s| {
            s.gamma = 3.0;
            s.dmax = 4.5;
            s.scan_contrast = 1.0;
        });
        // Ten codes are 0.02 printing density.
        let slope = (density(&step, 295.0) - density(&step, 305.0)) / 0.02;
        assert!((2.85..=3.0).contains(&slope), "{slope}");
        let black = density(&positive(|s| s.scan_contrast = 1.0), -1500.0);
        assert!((3.55..=3.6001).contains(&black), "{black}");
    }

    proptest! {
        #[test]
        fn rises_without_a_kink_at_any_setting(
            gamma in 1.8..=3.8, dmax in 2.0..=4.5, light in -12.0..=12.0,
            scan_contrast in 0.3..=1.5, amount in 0.01..=2.0,
        ) {
            let settings =
                look::Positive { on: true, amount, gamma, dmax, light, scan_contrast };
            let step = Positive::new(&settings, amount).unwrap();
            // Display code rises by at most this per code, and bends by about its square.
            let steepest = gamma * 1.3 * scan_contrast * 2.046 * 0.96;
            let bend = (8.0 / 4096.0) * (8.0 / 4096.0) * (1.5 * steepest * steepest + 20.0);
            let at = |i: i32| f64::from(step.apply(Rgb::grey(i as f32 / 4096.0)).g);
            for i in -400..=5000 {
                let (before, here, after) = (at(i - 8), at(i), at(i + 8));
                prop_assert!(here.is_finite() && after >= here - 2e-7, "falls at {}", i);
                prop_assert!((after - 2.0 * here + before).abs() < bend, "kink at {}", i);
            }
        }
    }

    #[test]
    fn amount_mixes_it_over_the_straight_scan() {
        let settings = look::Positive::default();
        assert_eq!(Positive::new(&settings, 0.0), None);
        let (half, full) = (
            Positive::new(&settings, 0.5).unwrap(),
            Positive::new(&settings, 1.0).unwrap(),
        );
        let code = Rgb::grey(0.7_f32);
        let middle = f32::midpoint(0.7, full.apply(code).g);
        assert!((half.apply(code).g - middle).abs() < 1e-6);
    }
}
