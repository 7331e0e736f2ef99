//! Colours turned along the circle of hues, and made purer or paler, around chosen bearings.
//!
//! Around the grey axis of the code, `x` towards red and `y` across; a bearing's window is that of `hue.rs`:
//!
//! ```text
//! w  = (1 + 4 d^3 - 3 d) / 2  for d > 1/2, d the cosine of the distance
//! t  = sum of w turn,  p = product of 1 + w (purity - 1)
//! (x', y') = p (x, y) turned by t;   c' = c's mean + (x', y');   c'' = c' (Y + e) / (Y' + e)
//! ```
//!
//! The last line keeps luma: a blue turned to cyan does not light up. Turns that would carry one hue
//! past another are taken back together until none does. Ours, no source.

use super::hue;
use crate::look;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;
use lookwright_colour::luma::luma;

/// Size of the channel differences, squared, below which a pixel has no hue.
const NO_HUE: f32 = 1e-6;
/// Luma below which a ratio of lumas no longer counts.
const DARK: f32 = 0.02;
/// The least that neighbouring hues keep of their distance.
const LEAST_APART: f64 = 0.3;

/// One bearing.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Bearing {
    along: f32,
    across: f32,
    /// Radians.
    turn: f32,
    purer: f32,
}

/// Hue bearings, prepared for pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct Bearings {
    places: Vec<Bearing>,
}

impl Bearings {
    /// From the look's step, `amount` times over; none if it does nothing.
    pub fn new(s: &look::Bearings, amount: f64) -> Option<Self> {
        let places = [
            (s.hue_1, s.turn_1, s.purity_1),
            (s.hue_2, s.turn_2, s.purity_2),
            (s.hue_3, s.turn_3, s.purity_3),
        ]
        .map(|(hue, turn, purity)| {
            let (sine, cosine) = libm::sincos(hue.to_radians());
            Bearing {
                along: cosine as f32,
                across: sine as f32,
                turn: (turn * amount).to_radians() as f32,
                purer: ((purity - 1.0) * amount).max(-1.0) as f32,
            }
        });
        let acts = |place: &Bearing| place.turn != 0.0 || place.purer != 0.0;
        let mut bearings = Self {
            places: places.into_iter().filter(acts).collect(),
        };
        let share = bearings.share_in_order();
        if share < 1.0 {
            for place in &mut bearings.places {
                place.turn *= share as f32;
            }
        }
        (!bearings.places.is_empty()).then_some(bearings)
    }

    /// The share of the turns at which hues still follow each other.
    fn share_in_order(&self) -> f64 {
        const DEGREES: usize = 360;
        let turns: Vec<f64> = (0..=DEGREES)
            .map(|degrees| {
                let (sine, cosine) = libm::sincos((degrees as f64).to_radians());
                f64::from(self.at(cosine as f32, sine as f32).0).to_degrees()
            })
            .collect();
        let steepest = turns.windows(2).map(|w| w[0] - w[1]).fold(0.0, f64::max);
        let opens = turns.windows(2).map(|w| w[1] - w[0]).fold(0.0, f64::max);
        // Drawn out as far as the other side is drawn together.
        let most = steepest.max(opens);
        if most > 1.0 - LEAST_APART {
            (1.0 - LEAST_APART) / most
        } else {
            1.0
        }
    }

    /// Turn and purity of a hue, given by its cosine and sine.
    #[inline(always)]
    fn at<L: Lane>(&self, along: L, across: L) -> (L, L) {
        let (mut turn, mut purity) = (along.of(0.0), along.of(1.0));
        for place in &self.places {
            let d = along * place.along + across * place.across;
            let window = hue::window(d);
            turn = window * place.turn + turn;
            purity = purity * (window * place.purer + 1.0);
        }
        (turn, purity)
    }

    /// On the shaped scan's code.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        let [x, y] = hue::axes(code);
        let [along, across] = hue::direction([x, y], NO_HUE);
        let (turn, purity) = self.at(along, across);
        // Sine and cosine of at most one radian, within 3e-6.
        let square = turn * turn;
        let sine =
            ((square * (-1.0 / 5040.0) + 1.0 / 120.0) * square - 1.0 / 6.0) * square * turn + turn;
        let cosine = (((square * (1.0 / 40320.0) - 1.0 / 720.0) * square + 1.0 / 24.0) * square
            - 0.5)
            * square
            + 1.0;
        // What is added, so that what is not turned stays to the bit.
        let (px, py) = (x * purity, y * purity);
        let third = (px * cosine - py * sine - x) * (1.0 / 3.0);
        let half = (px * sine + py * cosine - y) * (0.5 / hue::SIN_60);
        let turned = Rgb::new(
            code.r + third * 2.0,
            code.g - third + half,
            code.b - third - half,
        );
        let kept =
            (luma(code).max(code.r.of(0.0)) + DARK) / (luma(turned).max(code.r.of(0.0)) + DARK);
        turned.map(
            #[inline(always)]
            |c| c * kept,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn hue_of(c: Rgb) -> f64 {
        let x = f64::from(c.r) - f64::from(c.g + c.b) / 2.0;
        let y = f64::from(c.g - c.b) * 0.75_f64.sqrt();
        libm::atan2(y, x).to_degrees().rem_euclid(360.0)
    }

    fn around(degrees: f64, reach: f64) -> Rgb {
        let turn = |c: f64| libm::cos((degrees - 120.0 * c).to_radians());
        Rgb::from_array([0.0, 1.0, 2.0].map(|c| (0.5 + reach * turn(c)) as f32))
    }

    prop_compose! {
        fn any_settings()(
            hue_1 in 0.0..360.0, turn_1 in -25.0..=25.0, purity_1 in 0.0..=2.0,
            hue_2 in 0.0..360.0, turn_2 in -25.0..=25.0, purity_2 in 0.0..=2.0,
            hue_3 in 0.0..360.0, turn_3 in -25.0..=25.0, purity_3 in 0.0..=2.0,
        ) -> look::Bearings {
            look::Bearings {
                on: true, amount: 1.0, hue_1, turn_1, purity_1, hue_2, turn_2, purity_2,
                hue_3, turn_3, purity_3,
            }
        }
    }

    proptest! {
        #[test]
        fn hues_follow_each_other_and_greys_stay(
            mut settings in any_settings(), amount in 0.0..=2.0, reach in 0.05..0.3,
        ) {
            // Without colour there is no hue to follow.
            settings.purity_1 = settings.purity_1.max(0.6);
            settings.purity_2 = settings.purity_2.max(0.6);
            settings.purity_3 = settings.purity_3.max(0.6);
            if let Some(bearings) = Bearings::new(&settings, amount) {
                for i in 0..=64 {
                    let grey = Rgb::grey(i as f32 / 64.0);
                    prop_assert_eq!(bearings.apply(grey), grey);
                }
                let at = |degrees: f64| hue_of(bearings.apply(around(degrees, reach)));
                let mut step = 0.0;
                for degrees in 0..=360 {
                    let way = at(f64::from(degrees) + 1.0) - at(f64::from(degrees));
                    let way = (way + 540.0).rem_euclid(360.0) - 180.0;
                    prop_assert!(way > 0.2, "falls back at {degrees}: {way}");
                    if degrees > 0 {
                        prop_assert!(way < 3.0 * step && step < 3.0 * way, "jumps at {degrees}");
                    }
                    step = way;
                }
            }
        }
    }

    #[test]
    fn a_bearing_turns_and_its_opposite_stays() {
        let settings = look::Bearings {
            hue_1: 240.0,
            turn_1: -20.0,
            purity_1: 1.2,
            ..Default::default()
        };
        let bearings = Bearings::new(&settings, 1.0).unwrap();
        assert!((hue_of(bearings.apply(around(240.0, 0.2))) - 220.0).abs() < 0.1);
        for opposite in [60.0, 120.0, 0.0] {
            let pixel = around(opposite, 0.2);
            assert_eq!(bearings.apply(pixel), pixel);
        }
        let blue = around(240.0, 0.2);
        assert!((luma(bearings.apply(blue)) - luma(blue)).abs() < 4e-3);
        assert_eq!(Bearings::new(&look::Bearings::default(), 1.0), None);
        assert_eq!(Bearings::new(&settings, 0.0), None);
    }
}
