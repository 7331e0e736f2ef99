//! Split tone: tints for shadows and highlights that leave lightness alone, and offsets that don't.
//!
//! With `y` the luma of the shaped scan's code, kept in 0 ... 1, and `z = y / (y + (1 - y) 4^b)`
//! the same moved by the balance `b`:
//!
//! ```text
//! w  = z^2 (3 - 2 z)                                     0 in the shadows, 1 in the highlights
//! c' = c + 4 y (1 - y) (t_s h_s (1 - w) + t_h h_h w)     tint; h has no luma; ends stay
//! c' = c' (Y(c) / Y(c'))^(1/2.4)                         the light as it was, Y by BT.709's weights
//! c' = c' + o_s u_s (1 - y)^2 + o_h u_h y^2              offset; u is the full colour of a hue
//! ```
//!
//! Display light `c^2.4` is taken as `c^2 (1 + 4 sqrt c) / 5`, which has the same logarithmic slope
//! at 1: only the ratio of two lights near each other counts, and roots are much quicker than
//! powers. The tests hold lightness to 0.5 L* by the power itself.
//!
//! Strong tints could make a channel fall while grey rises; the set-up measures the steepest fall
//! and eases tints and offsets together until every channel rises. Ours, no source.

use crate::look;
use crate::path::bend::within;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;
use lookwright_colour::luma::{LUMA, luma};

/// The channel's change of code at a full tint.
const TINT: f64 = 0.16;
/// How far a full balance moves the border, in powers of two.
const BALANCE: f64 = 2.0;
/// Light below which a ratio of lights no longer counts.
const DARK: f32 = 1e-6;
/// The least slope that a channel keeps along a grey scale.
const LEAST_SLOPE: f32 = 0.1;
/// Where luma begins to bend towards 0 and 1.
const LUMA_ROOM: f32 = 0.02;

/// Split tone, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SplitTone {
    shadow_tint: Rgb,
    highlight_tint: Rgb,
    shadow_offset: Rgb,
    highlight_offset: Rgb,
    border: f32,
}

impl SplitTone {
    /// From the look's step, `amount` times over; none if it does nothing.
    pub fn new(settings: &look::SplitTone, amount: f64) -> Option<Self> {
        let tint = |hue, strength: f64| scaled(tint_of(hue), TINT * strength * amount);
        let offset = |hue, strength: f64| scaled(colour_of(hue), strength * amount);
        let step = Self {
            shadow_tint: tint(settings.shadow_hue, settings.shadow_tint),
            highlight_tint: tint(settings.highlight_hue, settings.highlight_tint),
            shadow_offset: offset(settings.shadow_hue, settings.shadow_offset),
            highlight_offset: offset(settings.highlight_hue, settings.highlight_offset),
            border: libm::exp2(BALANCE * settings.balance) as f32,
        };
        let none = Rgb::grey(0.0);
        let parts = [
            step.shadow_tint,
            step.highlight_tint,
            step.shadow_offset,
            step.highlight_offset,
        ];
        parts
            .iter()
            .any(|part| *part != none)
            .then(|| step.eased_until_rising())
    }

    /// On the shaped scan's code.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        let y = within(luma(code), LUMA_ROOM, LUMA_ROOM);
        let rest = -y + 1.0;
        let z = y / (rest * self.border + y);
        let high = z * z * (z * -2.0 + 3.0);
        let room = y * rest * 4.0;
        let (dark_room, light_room) = (room * (-high + 1.0), room * high);
        let tinted = code.zip(
            self.shadow_tint,
            #[inline(always)]
            |c, tint| dark_room * tint + c,
        );
        let tinted = tinted.zip(
            self.highlight_tint,
            #[inline(always)]
            |c, tint| light_room * tint + c,
        );
        let kept = ((light(code) + DARK) / (light(tinted) + DARK)).pow(1.0 / 2.4);
        let (dark, bright) = (rest * rest, y * y);
        let offset = tinted.zip(
            self.shadow_offset,
            #[inline(always)]
            |c, offset| c * kept + dark * offset,
        );
        offset.zip(
            self.highlight_offset,
            #[inline(always)]
            |c, offset| bright * offset + c,
        )
    }

    /// The same step, its strengths taken back evenly until no channel of a grey scale falls.
    fn eased_until_rising(self) -> Self {
        if self.rises() {
            return self;
        }
        let (mut holds, mut fails) = (0.0, 1.0);
        for _ in 0..12 {
            let share = f64::midpoint(holds, fails);
            if self.eased(share).rises() {
                holds = share;
            } else {
                fails = share;
            }
        }
        self.eased(holds)
    }

    fn eased(self, share: f64) -> Self {
        Self {
            shadow_tint: scaled(self.shadow_tint.to_array().map(f64::from), share),
            highlight_tint: scaled(self.highlight_tint.to_array().map(f64::from), share),
            shadow_offset: scaled(self.shadow_offset.to_array().map(f64::from), share),
            highlight_offset: scaled(self.highlight_offset.to_array().map(f64::from), share),
            border: self.border,
        }
    }

    fn rises(&self) -> bool {
        const STEPS: u16 = 128;
        let at = |i: u16| self.apply(Rgb::grey(f32::from(i) / f32::from(STEPS)));
        (0..STEPS).all(|i| {
            let least = LEAST_SLOPE / f32::from(STEPS);
            let (here, next) = (at(i).to_array(), at(i + 1).to_array());
            here.iter()
                .zip(next)
                .all(|(here, next)| next - here >= least)
        })
    }
}

/// Light on the reference display, by BT.709's weights and about gamma 2.4.
#[inline(always)]
fn light<L: Lane>(code: Rgb<L>) -> L {
    luma(code.map(
        #[inline(always)]
        |c| {
            let c = c.max(c.of(0.0));
            c * c * (c.sqrt() * 0.8 + 0.2)
        },
    ))
}

fn scaled(rgb: [f64; 3], by: f64) -> Rgb {
    Rgb::from_array(rgb.map(|v| (v * by) as f32))
}

/// Cosine of the way from a hue to red, green and blue: 0 degrees is red, 120 green, 240 blue.
fn around(hue_degrees: f64) -> [f64; 3] {
    [0.0, 120.0, 240.0].map(|own| libm::cos((hue_degrees - own).to_radians()))
}

/// The direction of a hue that has no luma; its largest part is 1 or -1.
fn tint_of(hue_degrees: f64) -> [f64; 3] {
    let around = around(hue_degrees);
    let grey: f64 = around.iter().zip(LUMA).map(|(v, w)| v * f64::from(w)).sum();
    let pure = around.map(|v| v - grey);
    let largest = pure.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
    pure.map(|v| v / largest)
}

/// The full colour of a hue: its largest part 1, its smallest 0.
fn colour_of(hue_degrees: f64) -> [f64; 3] {
    let around = around(hue_degrees);
    let most = around.iter().fold(f64::MIN, |m, v| m.max(*v));
    let least = around.iter().fold(f64::MAX, |m, v| m.min(*v));
    around.map(|v| (v - least) / (most - least))
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::space::Lab;
    use lookwright_colour::space::{primaries::BT709, white::D65};
    use proptest::prelude::*;

    prop_compose! {
        fn any_settings()(
            shadow_hue in 0.0..360.0, shadow_tint in 0.0..=1.0, shadow_offset in -0.1..=0.1,
            highlight_hue in 0.0..360.0, highlight_tint in 0.0..=1.0,
            highlight_offset in -0.1..=0.1, balance in -1.0..=1.0,
        ) -> look::SplitTone {
            look::SplitTone {
                on: true, amount: 1.0, shadow_hue, shadow_tint, shadow_offset,
                highlight_hue, highlight_tint, highlight_offset, balance,
            }
        }
    }

    fn lightness(code: Rgb) -> f64 {
        let light = code
            .to_array()
            .map(|c| libm::pow(f64::from(c.max(0.0)), 2.4));
        Lab::from_xyz(BT709.rgb_to_xyz().apply(light), D65).l
    }

    proptest! {
        #[test]
        fn tints_leave_lightness_alone(mut settings in any_settings(), amount in 0.0..2.0) {
            settings.shadow_offset = 0.0;
            settings.highlight_offset = 0.0;
            if let Some(step) = SplitTone::new(&settings, amount) {
                for i in 0..=64 {
                    let grey = Rgb::grey(i as f32 / 64.0);
                    let moved = lightness(step.apply(grey)) - lightness(grey);
                    prop_assert!(moved.abs() < 0.5, "{i}: {moved}");
                }
                let skin = Rgb::new(0.72_f32, 0.54, 0.46);
                prop_assert!((lightness(step.apply(skin)) - lightness(skin)).abs() < 0.5);
            }
        }

        #[test]
        fn no_channel_falls_along_a_grey_scale(settings in any_settings(), amount in 0.0..2.0) {
            if let Some(step) = SplitTone::new(&settings, amount) {
                let mut last = step.apply(Rgb::grey(0.0_f32));
                for i in 1..=4096 {
                    let here = step.apply(Rgb::grey(i as f32 / 4096.0));
                    prop_assert!(here.r >= last.r && here.g >= last.g && here.b >= last.b, "{i}");
                    last = here;
                }
            }
        }
    }

    #[test]
    fn each_end_gets_its_own_hue() {
        let settings = look::SplitTone {
            shadow_hue: 240.0,
            shadow_tint: 0.6,
            highlight_hue: 30.0,
            highlight_tint: 0.6,
            ..Default::default()
        };
        let step = SplitTone::new(&settings, 1.0).unwrap();
        let (dark, light) = (
            step.apply(Rgb::grey(0.2_f32)),
            step.apply(Rgb::grey(0.8_f32)),
        );
        assert!(dark.b > dark.r + 0.02 && light.r > light.b + 0.02);
        // Balance above zero gives more of the scale to the shadows' tint.
        let moved = look::SplitTone {
            balance: 1.0,
            ..settings
        };
        let middle = |s: &look::SplitTone| {
            let out = SplitTone::new(s, 1.0).unwrap().apply(Rgb::grey(0.5_f32));
            out.b - out.r
        };
        assert!(middle(&moved) > middle(&settings) + 0.01);
    }

    #[test]
    fn an_offset_tints_black_itself() {
        let settings = look::SplitTone {
            shadow_hue: 240.0,
            shadow_offset: 0.05,
            ..Default::default()
        };
        let black = SplitTone::new(&settings, 1.0)
            .unwrap()
            .apply(Rgb::grey(0.0_f32));
        assert!((black.b - 0.05).abs() < 2e-3 && black.r.abs() < 1e-6);
        assert_eq!(SplitTone::new(&look::SplitTone::default(), 1.0), None);
        assert_eq!(SplitTone::new(&settings, 0.0), None);
    }
}
