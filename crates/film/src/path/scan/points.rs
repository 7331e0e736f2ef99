//! Printer points: the late balance.
//!
//! One point is 0.025 log10 exposure of printing light (Film Technology in Post Production,
//! 2001), on the printing-density scale 12.5 codes. Here a point adds light to the picture.

use super::code::{CODE_MAX, DENSITY_PER_CODE};
use crate::look;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// log10 exposure of one printer point.
pub const POINT_LOG_E: f32 = 0.025;

/// Printer points, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Points {
    shift: Rgb,
}

impl Points {
    /// From the look's step, `amount` times over; none if it does nothing.
    pub fn new(settings: &look::Points, amount: f64) -> Option<Self> {
        let look::Points {
            red,
            green,
            blue,
            warmth,
            tint,
            whole,
            ..
        } = *settings;
        // Warmth and tint keep the sum of the three lights, so that they hardly change exposure.
        let lights = [
            red + whole + warmth - tint / 2.0,
            green + whole + tint,
            blue + whole - warmth - tint / 2.0,
        ];
        let scale = f64::from(POINT_LOG_E / (DENSITY_PER_CODE * CODE_MAX)) * amount;
        let shift = Rgb::from_array(lights.map(|points| (points * scale) as f32));
        (shift != Rgb::grey(0.0)).then_some(Self { shift })
    }

    /// On the scan's log code.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, log_code: Rgb<L>) -> Rgb<L> {
        log_code.zip(
            self.shift,
            #[inline(always)]
            |code, shift| code + shift,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_point_is_twelve_and_a_half_codes() {
        let settings = look::Points {
            red: 1.0,
            blue: -2.0,
            ..Default::default()
        };
        let out = Points::new(&settings, 1.0).unwrap().apply(Rgb::grey(0.5));
        assert!(((out.r - 0.5) * CODE_MAX - 12.5).abs() < 1e-4);
        assert!(((out.b - 0.5) * CODE_MAX + 25.0).abs() < 1e-4);
        assert_eq!(out.g, 0.5);
    }

    #[test]
    fn nothing_set_is_nothing_done() {
        assert_eq!(Points::new(&look::Points::default(), 1.0), None);
        let settings = look::Points {
            red: 3.0,
            ..Default::default()
        };
        assert_eq!(Points::new(&settings, 0.0), None);
    }
}
