//! Highlights on a screen of high dynamic range: what the picture's soft top held together is let go again.
//!
//! A finished picture ends at the white of an ordinary screen, and its shoulder holds all of the scene
//! above a white card between that card and there. On a screen that goes on, light is lifted by
//!
//! ```text
//! n    = ((r^4 + g^4 + b^4) / 3)^(1/4)         how bright, 1 for the picture's white
//! x    = log2(n / GREY)                        stops over the grey card
//! lift = 0 where x < 0, E (x / X)^p up to X    stops; X, E: of the picture's white
//! out  = light 2^(base + lift)                 one gain for all three: hues stay
//! ```
//!
//! *Standard*: where two cards land (ITU-R BT.2408-7, table 1): the grey one at 26 cd/m2, 38 % of PQ and
//! of HLG; the white one at 203 cd/m2, 58 % and 75 %. `base` is set by the first, `p` by the second. *Chosen*: that the
//! picture's white lands at the screen's peak, which sets `E`; the form between, a power that starts without slope or
//! bend at the grey card; the norm. Up to the grey card the picture is the dim room's to scale.
//! With a peak of 1000 cd/m2 greys three, four and six stops over mid-grey, from the overcast starting point,
//! have 390, 626 and 808 cd/m2; in proportion to the white card's they would have 325, 650 and 2600.
//!
//! Above the picture's white, where single channels of colours may lie, the lift goes on at its slope and
//! comes to rest [`BEYOND`] stops of the picture later. The whole rises strictly and is smooth to the first
//! derivative.

use lookwright_colour::Rgb;
use lookwright_colour::encoding::DIFFUSE_WHITE;
use lookwright_colour::lane::Lane;

/// Light of a grey card of 18 % on a screen of high dynamic range in cd/m2 (ITU-R BT.2408-7, table 1).
const GREY_CD_M2: f64 = 26.0;
/// Display light that the straight finish gives a grey card, and, from the overcast starting point, a white
/// card of 90 % (evening .628, noon .742); measured, and held by a test.
const GREY: f64 = 0.1591;
const WHITE: f64 = 0.682;
/// Stops over the picture's white in which the lift comes to rest. *Chosen.*
const BEYOND: f32 = 0.25;
/// Light that is told apart, in either direction.
const FARTHEST: f32 = 1e4;

/// The lift, prepared for one screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Highlights {
    /// Of the picture's light up to the grey card, to light by the screen's peak.
    base: f32,
    /// `1 / X`.
    per_stop: f32,
    lift: f32,
    power: f32,
    /// Slope of the lift at the picture's white.
    slope: f32,
}

impl Highlights {
    /// For a screen of this peak, in cd/m2.
    pub(super) fn new(peak: f64) -> Self {
        let stops = -libm::log2(GREY);
        let lift = libm::log2(peak / GREY_CD_M2) - stops;
        let card = libm::log2(WHITE / GREY);
        let card_lift = libm::log2(DIFFUSE_WHITE / GREY_CD_M2) - card;
        let power = libm::log(card_lift / lift) / libm::log(card / stops);
        Self {
            base: (GREY_CD_M2 / GREY / peak) as f32,
            per_stop: (1.0 / stops) as f32,
            lift: lift as f32,
            power: power as f32,
            slope: (power * lift / stops) as f32,
        }
    }

    /// The screen's linear light as the picture has it, to the same by the screen's peak.
    #[inline(always)]
    pub(super) fn apply<L: Lane>(&self, light: Rgb<L>) -> Rgb<L> {
        let light = light.map(
            #[inline(always)]
            |x| x.clamp_to(-FARTHEST, FARTHEST),
        );
        let squares = light.map(
            #[inline(always)]
            |x| x * x,
        );
        let Rgb { r, g, b } = squares;
        let fourth = (r * r + g * g + b * b) * (1.0 / 3.0);
        let norm = fourth.sqrt().sqrt().max(r.of(GREY as f32));
        let gain = self.gain(norm);
        light.map(
            #[inline(always)]
            |x| x * gain,
        )
    }

    /// Of a norm from the grey card on.
    #[inline(always)]
    fn gain<L: Lane>(&self, norm: L) -> L {
        let one = norm.of(1.0);
        let share = (norm.min(one) * (1.0 / GREY as f32)).log2() * self.per_stop;
        let beyond = norm.max(one).log2();
        let resting = beyond / (beyond * (1.0 / BEYOND) + 1.0);
        let lift = share.max(norm.of(0.0)).pow(self.power) * self.lift + resting * self.slope;
        lift.exp2() * self.base
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::{Delivery, Frame, Look, StartingStock};
    use crate::path::negative::{GREY_SCENE_LIN, own_kelvin};
    use crate::path::{LightPath, SceneLin};
    use lookwright_colour::encoding::ScreenId;

    const PEAKS: [f64; 4] = [600.0, 1000.0, 2000.0, 4000.0];

    /// cd/m2 of a grey of this display light.
    fn lit(peak: f64, light: f32) -> f64 {
        peak * f64::from(Highlights::new(peak).apply(Rgb::grey(light)).g)
    }

    /// ITU-R BT.2408-7, table 1: 26 and 203 cd/m2.
    #[test]
    fn cards_land_at_the_levels_of_the_operational_practice_and_white_at_the_peak() {
        for peak in PEAKS {
            for (light, cd_m2) in [
                (0.5 * GREY, 13.0),
                (GREY, 26.0),
                (WHITE, 203.0),
                (1.0, peak),
            ] {
                let found = lit(peak, light as f32);
                assert!(
                    (found / cd_m2 - 1.0).abs() < 2e-5,
                    "{peak} {light}: {found}"
                );
            }
        }
    }

    /// Overcast from scene to code, to the whole percent that ITU-R BT.2408-7, table 1, prints; the softer
    /// and the harder negative have their white card below and above.
    #[test]
    fn the_cards_of_the_starting_points_lie_where_they_are_counted_on() {
        let shown = |stock, screen, light: f64| {
            let mut look = Look::starting(stock);
            look.negative.stock.scene_light = own_kelvin(look.negative.stock.balance);
            let mut delivery = Delivery::default();
            delivery.display.screen = screen;
            let path = LightPath::new(&look, &Frame::default(), &delivery);
            let density = path.develop_light(SceneLin(Rgb::grey(light as f32)));
            path.screen(path.print(path.scan(density))).0.g
        };
        let [grey, white] = [GREY_SCENE_LIN, 5.0 * GREY_SCENE_LIN];
        for (screen, percents) in [
            (ScreenId::Pq1000, [38.0, 58.0]),
            (ScreenId::Pq4000, [38.0, 58.0]),
            (ScreenId::Hlg1000, [38.0, 75.0]),
        ] {
            let codes = [grey, white].map(|light| shown(StartingStock::Overcast, screen, light));
            assert_eq!(
                codes.map(|code| (code * 100.0).round()),
                percents,
                "{screen:?}"
            );
        }
        for (stock, cd_m2) in [
            (StartingStock::Evening, 150.0..203.0),
            (StartingStock::Noon, 203.0..280.0),
        ] {
            let code = shown(stock, ScreenId::Pq1000, white);
            let light = ScreenId::Pq1000.signal().decode(Rgb::grey(code)).g;
            let found = f64::from(light) * DIFFUSE_WHITE;
            assert!(cd_m2.contains(&found), "{stock:?} {found}");
        }
    }

    #[test]
    fn it_rises_everywhere_without_a_kink() {
        for peak in PEAKS {
            let at = |i: i32| lit(peak, i as f32 / 2000.0);
            for i in 1..4000 {
                let (before, here, after) = (at(i - 1), at(i), at(i + 1));
                assert!(after > here, "{peak} {i}");
                // A kink of the slope leaves itself times the step here.
                let second = (after - 2.0 * here + before).abs();
                let slope = (after - before) / 2.0;
                assert!(
                    second < 0.025 * slope.max(0.1),
                    "{peak} {i}: {second} {slope}"
                );
            }
        }
    }

    #[test]
    fn hues_stay_and_everything_is_finite() {
        let highlights = Highlights::new(1000.0);
        let [r, g, b] = highlights.apply(Rgb::new(0.9_f32, 0.5, 0.1)).to_array();
        assert!((r / g - 1.8).abs() < 1e-5 && (g / b - 5.0).abs() < 1e-5);
        for light in [
            [1e30, -1e30, 0.0],
            [-1.0; 3],
            [1e-30, 0.0, -1e-30],
            [1e30; 3],
        ] {
            let out = highlights.apply(Rgb::from_array(light)).to_array();
            assert!(out.iter().all(|v| v.is_finite()), "{out:?}");
        }
        assert_eq!(highlights.apply(Rgb::grey(0.0_f32)), Rgb::grey(0.0));
        let screen = ScreenId::Pq1000;
        assert!((screen.headroom() * DIFFUSE_WHITE - 1000.0).abs() < 1e-9);
    }
}
