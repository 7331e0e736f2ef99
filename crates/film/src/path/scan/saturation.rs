//! Saturation about grey: `c' = Y' + s (c - Y')`, `Y' = 0.2126 R' + 0.7152 G' + 0.0722 B'`.
//!
//! Exactly the saturation of the ASC CDL (v1.2, 2009), with its weights, on the scan's code. The
//! amount moves `s` away from 1; below 0 it would turn hues round, so it stops at grey.

use crate::look;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;
use lookwright_colour::luma::luma;

/// Saturation, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Saturation {
    saturation: f32,
}

impl Saturation {
    /// From the look's step at `amount`; none if that is the identity.
    pub fn new(settings: &look::Saturation, amount: f64) -> Option<Self> {
        let saturation = (1.0 + (settings.saturation - 1.0) * amount).max(0.0) as f32;
        (saturation != 1.0).then_some(Self { saturation })
    }

    /// On the shaped scan's code.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        let grey = luma(code);
        code.map(
            #[inline(always)]
            |c| (c - grey) * self.saturation + grey,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn saturation(value: f64, amount: f64) -> Option<Saturation> {
        let settings = look::Saturation {
            saturation: value,
            ..Default::default()
        };
        Saturation::new(&settings, amount)
    }

    #[test]
    fn it_is_the_saturation_of_the_asc_cdl() {
        // CLF v3's example node (saturation 1.7), values before and after its saturation, from
        // OpenColorIO 2.6.0: slope (1, 1, 0.9), offset (-0.03, -0.02, 0), power (1.25, 1, 1).
        let shaped = Rgb::new(libm::pow(0.47, 1.25) as f32, 0.23, 0.675);
        let out = saturation(1.7, 1.0).unwrap().apply(shaped);
        for (ours, theirs) in out
            .to_array()
            .iter()
            .zip([0.454_387_35, 0.183_824_29, 0.940_324_3])
        {
            assert!((ours - theirs).abs() < 1e-6_f32, "{ours} for {theirs}");
        }
    }

    #[test]
    fn no_amount_turns_hues_round() {
        let pixel = Rgb::new(0.8_f32, 0.3, 0.1);
        let out = saturation(0.0, 2.0).unwrap().apply(pixel);
        assert!((out.r - out.b).abs() < 1e-6);
        assert_eq!(saturation(1.0, 1.0), None);
        assert_eq!(saturation(0.4, 0.0), None);
    }
}
