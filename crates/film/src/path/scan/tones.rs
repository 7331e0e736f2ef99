//! Darks and lights printed apart, on the shaped scan's code.
//!
//! ```text
//! c'  = c 2^(d (1 - y)^2)                     y the code's luma, kept in 0 ... 1
//! c'' = 1 - (1 - c') 2^(-l y'^3)
//! ```
//!
//! `d` is stops over 2.4: display light goes with the power 2.4 of code. `l` is stops of what a light
//! lacks to white. Black and white stay, and either fades towards the other's end. A grey rises wherever
//! `d < 2 / ln 2` and `l > -2.25 / ln 2`, so an exaggerated amount is held there. Ours, no source.

use crate::look;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;
use lookwright_colour::luma::luma;

/// The power of two that is asked for at most: below `2 / ln 2`.
const MOST: f64 = 2.8;
const DISPLAY_GAMMA: f64 = 2.4;

/// Printing by tone, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tones {
    darks: f32,
    lights: f32,
}

impl Tones {
    /// From the look's step, `amount` times over; none if it does nothing.
    pub fn new(settings: &look::Tones, amount: f64) -> Option<Self> {
        let power = |stops: f64| stops.clamp(-MOST, MOST) as f32;
        let darks = power(settings.darks * amount / DISPLAY_GAMMA);
        let lights = power(settings.lights * amount);
        (darks != 0.0 || lights != 0.0).then_some(Self { darks, lights })
    }

    /// On the shaped scan's code.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        let left = -luma(code).clamp_to(0.0, 1.0) + 1.0;
        let gain = (left * left * self.darks).exp2();
        let darks = code.map(
            #[inline(always)]
            |c| c * gain,
        );
        let y = luma(darks).clamp_to(0.0, 1.0);
        let rest = (y * y * y * -self.lights).exp2();
        darks.map(
            #[inline(always)]
            |c| -((-c + 1.0) * rest) + 1.0,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn tones(darks: f64, lights: f64, amount: f64) -> Option<Tones> {
        let settings = look::Tones {
            darks,
            lights,
            ..Default::default()
        };
        Tones::new(&settings, amount)
    }

    proptest! {
        #[test]
        fn greys_rise_between_black_and_white(
            darks in -2.0..=2.0, lights in -2.0..=2.0, amount in 0.0..=2.0,
        ) {
            if let Some(step) = tones(darks, lights, amount) {
                let at = |i: u16| step.apply(Rgb::grey(f32::from(i) / 1024.0));
                prop_assert_eq!(at(0), Rgb::grey(0.0));
                prop_assert!((at(1024).g - 1.0).abs() < 1e-6);
                let mut slope = at(1).g;
                for i in 1..1024 {
                    let next = at(i + 1).g - at(i).g;
                    prop_assert!(next > 0.0, "falls at {i}");
                    prop_assert!(next < 3.0 * slope && slope < 3.0 * next, "jumps at {i}");
                    slope = next;
                }
            }
        }
    }

    #[test]
    fn each_end_moves_by_its_stops_and_leaves_the_other() {
        let stops = |step: &Tones, code: f32| {
            let out = step.apply(Rgb::grey(code)).g;
            2.4 * libm::log2(f64::from(out / code))
        };
        let darks = tones(1.0, 0.0, 1.0).unwrap();
        assert!((stops(&darks, 0.01) - 0.98).abs() < 0.01);
        assert!(stops(&darks, 0.8) < 0.06);
        let lights = tones(0.0, -1.0, 1.0).unwrap();
        assert!(stops(&lights, 0.1).abs() < 0.03 && stops(&lights, 0.75) < -0.35);
        // Opposite moves don't cancel.
        let both = tones(1.0, -1.0, 1.0).unwrap();
        assert!(stops(&both, 0.1) > 0.7 && stops(&both, 0.75) < -0.3);
        assert_eq!(tones(0.0, 0.0, 1.0), None);
        assert_eq!(tones(1.0, 1.0, 0.0), None);
    }
}
