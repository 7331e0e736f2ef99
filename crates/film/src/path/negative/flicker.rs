//! Flicker: the light that reads the film is not the same for every frame.
//!
//! `D' = D + d`, with one `d` for a whole frame and all layers: density is what the reading light loses, so a
//! change of that light is the same density everywhere, in the base too. `d` is normal over a clip's frames with
//! the stated root mean square (*chosen*), drawn by the frame's number.

use crate::look::{Negative, effective_amount};
use crate::path::frames::drawn;
use crate::path::plan::Overlay;
use crate::spatial::{Planes, Window};

/// The flicker, as its parameters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flicker {
    density: f64,
    slowness: f64,
    seed: u32,
}

const SALT: u32 = 0xf11c_0001;

/// The look's flicker, if it acts; the frame's number comes later. Half the amount is half the density.
pub fn node(negative: &Negative) -> Option<Flicker> {
    let step = &negative.flicker;
    let density = step.density * effective_amount(step);
    (density > 0.0).then_some(Flicker {
        density,
        slowness: step.slowness,
        seed: step.seed as u32,
    })
}

impl Flicker {
    fn of_frame(&self, frame_number: u32) -> f32 {
        (self.density * drawn(self.seed, SALT, frame_number, self.slowness)) as f32
    }
}

impl Overlay for Flicker {
    fn lay(&self, density: &mut Planes, _window: &Window, frame_number: u32) {
        let more = self.of_frame(frame_number);
        for value in density.planes.iter_mut().flatten() {
            *value += more;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn over_a_clip_the_density_differs_by_the_stated_root_mean_square() {
        let mut negative = Negative::default();
        negative.flicker.on = true;
        negative.flicker.density = 0.02;
        negative.flicker.amount = 0.5;
        let flicker = node(&negative).unwrap();
        let window = Window::whole(2, 1);
        let mut squares = 0.0;
        let count = 6000;
        for frame in 0..count {
            let mut density = Planes::filled(2, 1, 0.7);
            flicker.lay(&mut density, &window, frame);
            let more = density.planes[0][0] - 0.7;
            assert!(density.planes.iter().flatten().all(|d| *d - 0.7 == more));
            squares += f64::from(more * more);
        }
        let rms = (squares / f64::from(count)).sqrt();
        assert!((rms / 0.01 - 1.0).abs() < 0.03, "{rms}");
    }
}
