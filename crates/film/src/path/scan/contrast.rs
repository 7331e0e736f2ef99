//! Contrast on the scan: one smooth, strictly rising curve that never clips inside the range.
//!
//! ```text
//! line       y = p + s (x - p)                            slope s about the pivot p
//! drop       y -= d ((p - y) / p)^2          for y < p    pulls the shadows down
//! toe        y = F + R - R g((F + R - y)/R)  for y < F+R  bends to the floor F
//! shoulder   y = 1 - R + R g((y - 1 + R)/R)  for y > 1-R  bends to 1
//! f(t) = t / sqrt(1 + t^2),  g(t) = (1 - h) f(t) + h t / (1 + t)
//! ```
//!
//! `R` is how early a bend begins (toe, white roll), `h` its softness (the square of the toe, the
//! shoulder): `t / (1 + t)` comes to rest much more slowly. `f` and `g` have slope 1 at 0, so the curve has no kink, and
//! all pieces rise strictly. The amount scales the settings, not the result,
//! so an exaggerated curve is still monotone. At slope 1 with nothing else set there is no bend
//! at all: the identity.
//!
//! This is the curve of greys; how colour follows it is in `straight.rs`.

use super::code::{BASE_CODE, CODE_MAX};
use super::straight::Straight;
use crate::look;
use crate::path::bend::bent_softly;
use crate::path::negative::Record;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// How much bend brings all of the straight finish: a slope of 1.28, say, or a quarter of a toe.
const FINISH_BY_BEND: f64 = 4.0;
/// Depth of a full black drop at code 0.
const DROP: f64 = 0.12;
/// The share of a bend that comes with slope or drop even where none is asked for, so that the
/// curve can't reach the end of the range inside it.
const LEAST_BEND: f64 = 0.3;
/// How much of the way from floor to pivot a full toe bends.
const TOE_ROOM: f64 = 0.95;
/// The least width of a bend, in code: what printer lights push past either end bends too.
const LEAST_ROOM: f64 = 0.03;

/// Contrast, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contrast {
    slope: f32,
    pivot: f32,
    drop: f32,
    toe_start: f32,
    toe_room: f32,
    toe_softness: f32,
    shoulder_start: f32,
    shoulder_room: f32,
    shoulder_softness: f32,
    /// How colour is treated; none while the curve is being set up.
    straight: Option<Straight>,
}

impl Contrast {
    /// From the look's step at `amount`; none if that is the identity.
    pub fn new(settings: &look::Contrast, amount: f64) -> Option<Self> {
        let neutral = [Rgb::grey(BASE_CODE / CODE_MAX); 2];
        Self::on(settings, amount, &Record::default(), neutral)
    }

    /// [`Self::new`] for the scan of a film whose base and grey card lie at these codes of 1.
    pub fn on(
        settings: &look::Contrast,
        amount: f64,
        film: &Record,
        codes: [Rgb; 2],
    ) -> Option<Self> {
        let slope = libm::pow(settings.slope, amount);
        let share = |value: f64| (value * amount).min(1.0);
        let (drop, roll, toe) = (
            share(settings.black_drop),
            share(settings.white_roll),
            share(settings.toe),
        );
        // The shoulder shapes a bend that is there; alone it does nothing.
        if slope == 1.0 && drop == 0.0 && roll == 0.0 && toe == 0.0 {
            return None;
        }
        let pivot = settings.pivot / f64::from(CODE_MAX);
        // How much of the range a slope above 1 pushes out at either end.
        let excess = (1.0 - 1.0 / slope).max(0.0);
        let floor = (1.0 - drop) * excess * f64::from(BASE_CODE / CODE_MAX);
        let bend = |asked: f64, least: f64| asked + (1.0 - asked) * LEAST_BEND * least;
        let toe_room = ((pivot - floor) * TOE_ROOM * bend(toe, excess.max(drop))).max(LEAST_ROOM);
        let shoulder_room = ((1.0 - pivot) * 0.9 * bend(roll, excess)).max(LEAST_ROOM);
        let mut curve = Self {
            slope: slope as f32,
            pivot: pivot as f32,
            drop: (DROP * drop) as f32,
            toe_start: (floor + toe_room) as f32,
            toe_room: toe_room as f32,
            toe_softness: (toe * toe) as f32,
            shoulder_start: (1.0 - shoulder_room) as f32,
            shoulder_room: shoulder_room as f32,
            shoulder_softness: share(settings.shoulder) as f32,
            straight: None,
        };
        // A curve that hardly bends hardly touches colour, and none does not touch it.
        let bends = libm::log(slope).abs() + drop + roll + toe;
        let share = (FINISH_BY_BEND * bends).min(amount).min(1.0);
        curve.straight = Some(Straight::new(&curve, share, film, codes));
        Some(curve)
    }

    /// How colour is treated.
    pub(in crate::path) const fn straight(&self) -> Option<Straight> {
        self.straight
    }

    /// On the scan's log code, giving display code when it is shown straight; that may leave 0 ... 1.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, log_code: Rgb<L>) -> Rgb<L> {
        match &self.straight {
            Some(straight) => straight.apply(self, log_code),
            None => log_code.map(
                #[inline(always)]
                |x| self.curve(x),
            ),
        }
    }

    /// [`Self::apply`] by the layers' codes, where colour needs nothing else.
    #[inline(always)]
    pub fn of_layers<L: Lane>(&self, layers: Rgb<L>) -> Rgb<L> {
        match &self.straight {
            Some(straight) => straight.of_layers(self, layers),
            None => layers,
        }
    }

    /// The curve itself, code of 1 to code of 1.
    #[inline(always)]
    pub fn curve<L: Lane>(&self, x: L) -> L {
        let line = (x - self.pivot) * self.slope + self.pivot;
        let depth = (-line + self.pivot).max(x.of(0.0)) * (1.0 / self.pivot);
        let y = line - depth * depth * self.drop;
        // At most one end bends a pixel, so both share the bend.
        let at_toe = y.lt(x.of(self.toe_start));
        let at_shoulder = x.of(self.shoulder_start).le(y);
        if !L::any(at_toe) && !L::any(at_shoulder) {
            return y;
        }
        let over = L::select(
            at_toe,
            -y + self.toe_start,
            (y - self.shoulder_start).max(x.of(0.0)),
        );
        let of_toe = |toe: f32, shoulder: f32| L::select(at_toe, x.of(toe), x.of(shoulder));
        let room = of_toe(self.toe_room, self.shoulder_room);
        let bent = bent_softly(
            over,
            room,
            of_toe(self.toe_softness, self.shoulder_softness),
        );
        let high = L::select(at_shoulder, bent + self.shoulder_start, y);
        L::select(at_toe, -bent + self.toe_start, high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    prop_compose! {
        fn any_settings()(
            slope in 0.4..4.0, pivot in 250.0..750.0, black_drop in 0.0..1.0,
            white_roll in 0.0..1.0, toe in 0.0..1.0, shoulder in 0.0..1.0,
        ) -> look::Contrast {
            look::Contrast { on: true, amount: 1.0, slope, pivot, black_drop, white_roll, toe, shoulder }
        }
    }

    proptest! {
        #[test]
        fn rises_without_clipping_over_all_settings(s in any_settings(), amount in 0.0..2.0) {
            if let Some(contrast) = Contrast::new(&s, amount) {
                let mut last = contrast.curve(0.0_f32);
                prop_assert!(last >= 0.0);
                for i in 1..=1023 {
                    let y = contrast.curve(i as f32 / CODE_MAX);
                    prop_assert!(y >= last - 1e-7, "falls at code {i}");
                    prop_assert!(y <= 1.0);
                    last = y;
                }
            }
        }

        #[test]
        fn has_no_kink(s in any_settings()) {
            // Slope between neighbouring steps never jumps: first differences of a C1 curve
            // differ by the second derivative times the step, which the bends bound.
            if let Some(contrast) = Contrast::new(&s, 1.0) {
                let step = 1.0 / 4096.0;
                let slope = |i: i32| {
                    let y = |k: i32| f64::from(contrast.curve(k as f32 * step));
                    (y(i + 1) - y(i - 1)) / (2.0 * f64::from(step))
                };
                for i in 1..4090 {
                    let room = f64::from(contrast.toe_room.min(contrast.shoulder_room));
                    let slope_max = f64::from(contrast.slope);
                    let allowed = 3.0 * slope_max * slope_max * f64::from(step)
                        * (1.0 / room + 4.0) + 2e-3;
                    prop_assert!((slope(i + 1) - slope(i)).abs() < allowed, "kink at {i}");
                }
            }
        }
    }

    #[test]
    fn the_pivot_stays_put() {
        for pivot in [300.0, 466.0, 600.0] {
            let settings = look::Contrast {
                pivot,
                white_roll: 0.2,
                toe: 0.2,
                ..Default::default()
            };
            let contrast = Contrast::new(&settings, 1.0).unwrap();
            let p = pivot as f32 / CODE_MAX;
            assert!((contrast.curve(p) - p).abs() < 1e-6);
        }
    }

    #[test]
    fn neutral_settings_are_no_step_at_all() {
        let neutral = look::Contrast {
            slope: 1.0,
            black_drop: 0.0,
            white_roll: 0.0,
            toe: 0.0,
            ..Default::default()
        };
        assert_eq!(Contrast::new(&neutral, 1.0), None);
        assert_eq!(Contrast::new(&look::Contrast::default(), 0.0), None);
    }

    #[test]
    fn a_full_black_drop_brings_the_base_near_black_and_softly() {
        let settings = look::Contrast {
            black_drop: 1.0,
            toe: 0.2,
            ..Default::default()
        };
        let contrast = Contrast::new(&settings, 1.0).unwrap();
        let base = contrast.curve(BASE_CODE / CODE_MAX);
        assert!(base < 0.02 && contrast.curve(BASE_CODE / CODE_MAX + 0.01) > base);
    }
}
