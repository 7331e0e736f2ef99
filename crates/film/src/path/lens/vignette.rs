//! Vignette: light falls off towards the corners.
//!
//! With `r` the distance from the picture's middle in half diagonals:
//!
//! ```text
//! natural    cos^4(atan(r tan(field / 2)))      the law of a simple lens, by its angle of view
//! artistic   2^(-stops r^2)                     a hand with a mask, smooth in the middle
//! ```
//!
//! The fourth power of the cosine is geometry (*standard*); the artistic part is ours.

use crate::look::{Lens, effective_amount};
use crate::path::plan::Overlay;
use crate::spatial::{Planes, Window};

/// The fall-off, as its parameters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vignette {
    /// Tangent of half the angle of view, squared.
    tangent_squared: f64,
    /// How many times the natural part is taken.
    natural: f64,
    /// Stops at the corners besides.
    stops: f64,
}

/// The look's vignette, if it acts.
pub fn node(lens: &Lens) -> Option<Vignette> {
    let step = &lens.vignette;
    let amount = effective_amount(step);
    let (natural, stops) = (step.natural * amount, step.stops * amount);
    let tangent = libm::tan((step.field / 2.0).to_radians());
    (natural != 0.0 || stops != 0.0).then_some(Vignette {
        tangent_squared: tangent * tangent,
        natural,
        stops,
    })
}

impl Vignette {
    /// What passes at a squared distance from the middle, in half diagonals.
    fn passes(&self, distance_squared: f64) -> f32 {
        // cos^2(atan t) = 1 / (1 + t^2).
        let cosine_squared = 1.0 / (1.0 + self.tangent_squared * distance_squared);
        let natural = 2.0 * self.natural * libm::log2(cosine_squared);
        libm::exp2(natural - self.stops * distance_squared) as f32
    }

    fn over(&self, planes: &mut Planes, window: &Window) {
        let (width, height) = (f64::from(window.full_width), f64::from(window.full_height));
        let half_diagonal_squared = (width * width + height * height) / 4.0;
        let from_middle = |place: f64, side: f64| (place + 0.5) / window.scale - side / 2.0;
        for y in 0..planes.height {
            let down = from_middle(f64::from(window.y0) + y as f64, height);
            for x in 0..planes.width {
                let across = from_middle(f64::from(window.x0) + x as f64, width);
                let passes = self.passes((across * across + down * down) / half_diagonal_squared);
                for plane in &mut planes.planes {
                    plane[y * planes.width + x] *= passes;
                }
            }
        }
    }
}

impl Overlay for Vignette {
    fn lay(&self, scene_lin: &mut Planes, window: &Window, _frame_number: u32) {
        self.over(scene_lin, window);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn vignette(natural: f64, stops: f64) -> Vignette {
        let mut lens = Lens::default();
        lens.vignette.on = true;
        lens.vignette.natural = natural;
        lens.vignette.stops = stops;
        lens.vignette.field = 90.0;
        node(&lens).unwrap()
    }

    #[test]
    fn a_corner_at_45_degrees_gets_a_quarter_of_the_light() {
        let natural = vignette(1.0, 0.0);
        assert!((natural.passes(0.0) - 1.0).abs() < 1e-6);
        assert!((natural.passes(1.0) - 0.25).abs() < 1e-6);
        assert!((vignette(0.0, 1.5).passes(1.0) - 0.353_553).abs() < 1e-5);
    }

    #[test]
    fn a_part_is_as_in_the_whole_and_a_small_copy_nearly() {
        let vignette = vignette(1.0, 0.5);
        let plate = |(width, height), window: &Window| {
            let mut plate = Planes::filled(width, height, 1.0);
            vignette.lay(&mut plate, window, 0);
            plate
        };
        let whole = plate((60, 40), &Window::whole(60, 40));
        let part = Window {
            x0: 30,
            y0: 20,
            ..Window::whole(60, 40)
        };
        let corner = plate((30, 20), &part);
        assert_eq!(
            corner.planes[0][19 * 30 + 29],
            whole.planes[0][39 * 60 + 59]
        );
        let half = Window {
            scale: 0.5,
            ..Window::whole(60, 40)
        };
        let small = plate((30, 20), &half);
        let mean = (whole.planes[1][0] + whole.planes[1][61]) / 2.0;
        assert!((small.planes[1][0] - mean).abs() < 2e-3);
    }
}
