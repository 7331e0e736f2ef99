//! Dust in the plan: from the look's settings to the step.

use super::{DustParams, add_dust};
use crate::look::{Negative, effective_amount};
use crate::path::plan::{OnFilm, Overlay};
use crate::spatial::{Planes, Window};

/// The look's dust, if it acts; the frame's number comes later. Half the amount is half as many
/// specks.
pub fn node(negative: &Negative) -> Option<OnFilm<DustParams>> {
    let step = &negative.dust;
    let rate_per_frame = step.rate * effective_amount(step);
    (rate_per_frame > 0.0).then_some(OnFilm {
        gauge: negative.stock.gauge,
        params: DustParams {
            rate_per_frame,
            size_um: step.size,
            hair_share: step.hairs,
            softness_um: step.softness,
            seed: step.seed as u32,
            frame: 0,
        },
    })
}

impl OnFilm<DustParams> {
    const fn of_frame(&self, frame: u32) -> DustParams {
        DustParams {
            frame,
            ..self.params
        }
    }
}

impl Overlay for OnFilm<DustParams> {
    fn lay(&self, density: &mut Planes, window: &Window, frame_number: u32) {
        let (scale, params) = (self.scale(window), self.of_frame(frame_number));
        add_dust(density, window, &scale, &params);
    }
}
