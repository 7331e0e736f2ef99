//! Grain in the plan: from the look's settings to the step.

use super::{GrainParams, KeptGrain, add_grain};
use crate::look::{Negative, effective_amount};
use crate::path::negative::StockData;
use crate::path::plan::{OnFilm, Overlay};
use crate::spatial::{Planes, Window};

/// How much one stop of push raises granularity. *Chosen.*
const PUSH_GRAIN: f64 = 0.2;
/// How much one stop of push enlarges the clouds of dye. *Chosen*: at one density granularity grows
/// with the clouds' size, so about half of what it grows by.
const PUSH_SIZE: f64 = 0.1;

/// The look's grain, if it acts; the frame's number comes later. Half the amount is half the
/// granularity.
pub fn node(negative: &Negative) -> Option<OnFilm<GrainParams>> {
    let (step, development) = (&negative.grain, &negative.development);
    let push = development.push * effective_amount(development);
    let pushed = |by: f64| (1.0 + by * push).max(0.2);
    let strength = step.strength * effective_amount(step) * pushed(PUSH_GRAIN);
    let stock = StockData::of(&negative.stock);
    // Black-and-white film has one layer, and so one grain.
    let colour = if stock.one_emulsion() {
        0.0
    } else {
        step.colour
    };
    (strength > 0.0).then(|| OnFilm {
        gauge: negative.stock.gauge,
        params: GrainParams {
            rms_x1000: stock.rms_x1000.map(|rms| rms * strength),
            correlation_um: (stock.grain_um).map(|um| um * step.size * pushed(PUSH_SIZE)),
            colour,
            density_max: stock.gamma * stock.span_log_e,
            seed: step.seed as u32,
            frame: 0,
        },
    })
}

impl OnFilm<GrainParams> {
    const fn of_frame(&self, frame: u32) -> GrainParams {
        GrainParams {
            frame,
            ..self.params
        }
    }
}

impl Overlay for OnFilm<GrainParams> {
    fn lay(&self, density: &mut Planes, window: &Window, frame_number: u32) {
        add_grain(density, &self.scale(window), &self.of_frame(frame_number));
    }

    fn field(
        &self,
        (width, height): (usize, usize),
        window: &Window,
        frame_number: u32,
        before: Option<KeptGrain>,
    ) -> Option<KeptGrain> {
        let (scale, params) = (self.scale(window), self.of_frame(frame_number));
        Some(KeptGrain::new(width, height, &scale, &params, before))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_push_makes_more_and_larger_grain_and_a_pull_less_and_smaller() {
        let at = |push: f64| {
            let mut negative = Negative::default();
            negative.development.push = push;
            let params = node(&negative).unwrap().params;
            [params.rms_x1000[1], params.correlation_um[1]]
        };
        for i in 0..2 {
            assert!(at(-1.0)[i] < at(0.0)[i] && at(0.0)[i] < at(1.0)[i] && at(1.0)[i] < at(2.0)[i]);
        }
    }
}
