//! Saturation about grey: `c' = Y' + s (c - Y')`, `Y' = 0.2126 R' + 0.7152 G' + 0.0722 B'`.
//!
//! Exactly the saturation of the ASC CDL (v1.2, 2009), with its weights, on the scan's code. The
//! amount moves `s` away from 1; below 0 it would turn hues round, so it stops at grey.
//!
//! By tone, `s` is multiplied by `1 + (d - 1) max(0, 1 - 2 Y')^2 + (l - 1) max(0, 2 Y' - 1)^2`: the darks'
//! and the lights' factors meet at the middle without a kink. Ours, no source.

use crate::look;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;
use lookwright_colour::luma::luma;

/// Saturation, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Saturation {
    saturation: f32,
    /// What the factors of darks and lights add at black and at white; none where they are 1.
    by_tone: Option<[f32; 2]>,
}

impl Saturation {
    /// From the look's step at `amount`; none if that is the identity.
    pub fn new(settings: &look::Saturation, amount: f64) -> Option<Self> {
        let saturation = (1.0 + (settings.saturation - 1.0) * amount).max(0.0) as f32;
        let by_tone = [settings.dark, settings.light].map(|times| ((times - 1.0) * amount) as f32);
        let by_tone = (by_tone != [0.0; 2]).then_some(by_tone.map(|more| more.max(-1.0)));
        (saturation != 1.0 || by_tone.is_some()).then_some(Self {
            saturation,
            by_tone,
        })
    }

    /// On the shaped scan's code.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        let grey = luma(code);
        let Some([dark, light]) = self.by_tone else {
            return code.map(
                #[inline(always)]
                |c| (c - grey) * self.saturation + grey,
            );
        };
        let tone = grey.clamp_to(0.0, 1.0) * 2.0 - 1.0;
        let (below, above) = ((-tone).max(tone.of(0.0)), tone.max(tone.of(0.0)));
        let times = (below * below * dark + above * above * light + 1.0) * self.saturation;
        code.map(
            #[inline(always)]
            |c| (c - grey) * times + grey,
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
    fn by_tone_it_acts_at_its_end_and_not_in_the_middle() {
        let settings = look::Saturation {
            dark: 0.0,
            light: 1.5,
            ..Default::default()
        };
        let step = Saturation::new(&settings, 1.0).unwrap();
        let spread = |grey: f32| {
            let pixel = Rgb::new(grey + 0.01, grey, grey - 0.01);
            let out = step.apply(pixel);
            (out.r - out.b) / (pixel.r - pixel.b)
        };
        assert!((spread(0.5) - 1.0).abs() < 1e-3, "{}", spread(0.5));
        // Half way to either end, a quarter of what the end gets.
        assert!((spread(0.25) - 0.75).abs() < 0.01 && (spread(0.75) - 1.125).abs() < 0.01);
        assert!(spread(0.02) < 0.1 && spread(0.98) > 1.45);
        let mut last = spread(0.02);
        for i in 21..=980 {
            let here = spread(i as f32 / 1000.0);
            assert!((here - last).abs() < 5e-3, "{i}");
            last = here;
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
