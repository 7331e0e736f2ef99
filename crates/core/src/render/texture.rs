//! The texture part of a look, between the point passes: from settings to the spatial steps.
//!
//! A step's amount scales its strength: half the amount is half the stray light, half the spread,
//! half the granularity, half as many specks.

use super::plan::Job;
use crate::look::effective_amount;
use crate::path::lens::diffusion::{self, DiffusionParams};
use crate::path::negative::gauge::FilmScale;
use crate::path::negative::halation::{self, HalationParams, ring::Base};
use crate::spatial::Planes;

/// Diffusion on scene light.
pub(super) fn diffuse(scene_lin: &mut Planes, job: &Job) {
    if let Some(params) = diffusion_params(job) {
        diffusion::diffuse(scene_lin, &job.window, &params);
    }
}

/// Halation and softness on layer exposure.
pub(super) fn spread(exposure: &mut Planes, job: &Job) {
    if let Some(params) = halation_params(job) {
        halation::halate(exposure, &film_scale(job), &params);
    }
}

/// Grain and dust on density.
pub(super) fn grain_and_dust(_density: &mut Planes, _job: &Job) {}

fn film_scale(job: &Job) -> FilmScale {
    FilmScale::of(job.look.negative.stock.gauge, &job.window)
}

fn diffusion_params(job: &Job) -> Option<DiffusionParams> {
    let step = &job.look.lens.diffusion;
    let strength = step.strength * effective_amount(step);
    (strength > 0.0).then_some(DiffusionParams {
        strength: strength.min(1.0),
        reach_percent_of_diagonal: step.reach,
        shadow_hold: step.shadow_hold,
    })
}

fn halation_params(job: &Job) -> Option<HalationParams> {
    let step = &job.look.negative.halation;
    let strength = step.strength * effective_amount(step);
    (strength > 0.0).then_some(HalationParams {
        method: step.method,
        strength,
        onset_stops: step.onset,
        reach_um: step.reach,
        layer_shares: [step.red, step.green, step.blue],
        base: Base {
            thickness_um: step.base,
            index: step.index,
            back_density: step.back_density,
        },
    })
}
