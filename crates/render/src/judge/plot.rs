//! Curves as they are drawn beside the controls that shape them.

use lookwright_film::look::{self, effective_amount};
use lookwright_film::path::scan::code::CODE_MAX;
use lookwright_film::path::scan::{Contrast, MonotoneCurve};

/// The contrast step's curve at `samples` codes evenly spaced over 0 ... 1, in code 0 ... 1, and
/// its pivot. The straight line where the step is the identity.
pub fn contrast_plot(settings: &look::Contrast, samples: usize) -> (Vec<f32>, f32) {
    let contrast = Contrast::new(settings, effective_amount(settings));
    let line = sample(samples, |code| {
        contrast.as_ref().map_or(code, |it| it.curve(code))
    });
    (line, settings.pivot as f32 / CODE_MAX)
}

/// A free curve through `points` `[in, out]` at `samples` codes evenly spaced over 0 ... 1.
pub fn curve_plot(points: &[[f64; 2]], samples: usize) -> Vec<f32> {
    let curve = MonotoneCurve::new(points, 1.0);
    sample(samples, |code| {
        curve.as_ref().map_or(code, |it| it.apply(code))
    })
}

fn sample(samples: usize, f: impl Fn(f32) -> f32) -> Vec<f32> {
    let last = samples.saturating_sub(1).max(1) as f32;
    (0..samples).map(|i| f(i as f32 / last)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_that_is_off_is_drawn_straight() {
        let off = look::Contrast {
            on: false,
            ..look::Contrast::default()
        };
        let (line, pivot) = contrast_plot(&off, 5);
        assert_eq!(line, [0.0, 0.25, 0.5, 0.75, 1.0]);
        assert_eq!(pivot, off.pivot as f32 / 1023.0);
    }

    #[test]
    fn the_drawn_curve_is_the_one_that_pixels_go_through() {
        let settings = look::Contrast::default();
        let (line, _) = contrast_plot(&settings, 9);
        assert_eq!(
            line[3],
            Contrast::new(&settings, 1.0).unwrap().curve(0.375_f32)
        );
    }
}
