//! Halation in the plan: from the look's settings to the step.

use super::ring::Base;
use super::{HalationParams, Layers, Returning, reach_um};
use crate::look::{Negative, effective_amount};
use crate::path::negative::StockData;
use crate::path::plan::{InMotion, OnFilm, Reach, Spreading};
use crate::spatial::Window;
use crate::spatial::step::SpreadStep;

/// The look's halation, if it acts. Half the amount is half the light that comes back.
pub fn node(negative: &Negative) -> Option<OnFilm<HalationParams>> {
    let step = &negative.halation;
    let strength = step.strength * effective_amount(step);
    let stock = StockData::of(&negative.stock);
    let shares = [step.red, step.green, step.blue];
    let layers = if stock.one_emulsion() {
        Layers::one(shares)
    } else {
        Layers::three(shares)
    };
    (strength > 0.0).then_some(OnFilm {
        gauge: negative.stock.gauge,
        params: HalationParams {
            method: step.method,
            strength,
            onset_stops: step.onset,
            reach_um: step.reach,
            layers,
            base: Base {
                thickness_um: step.base,
                index: step.index,
                back_density: step.back_density,
                backing: step.backing,
            },
        },
    })
}

impl Spreading for OnFilm<HalationParams> {
    fn reach(&self) -> Reach {
        Reach::Um(reach_um(&self.params))
    }

    fn step(&self, size: (usize, usize), window: &Window) -> Option<Box<dyn SpreadStep>> {
        let step = Returning::new(size.0, size.1, &self.scale(window), &self.params);
        Some(Box::new(step))
    }

    fn in_motion(&self, _: &Window) -> InMotion {
        InMotion::Halved
    }
}
