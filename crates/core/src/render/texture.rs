//! The texture part of a look, between the point passes: from settings to the spatial steps.
//!
//! A step's amount scales its strength: half the amount is half the stray light, half the spread,
//! half the granularity, half as many specks.

use super::plan::Job;
use crate::look::effective_amount;
use crate::path::lens::diffusion::{self, DiffusionParams};
use crate::path::negative::StockData;
use crate::path::negative::gauge::FilmScale;
use crate::path::negative::grain::{self, GrainParams};
use crate::path::negative::halation::{self, HalationParams, ring::Base};
use crate::path::negative::softness::{self, SoftnessParams};
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
    if let Some(params) = softness_params(job) {
        softness::soften(exposure, &film_scale(job), &params);
    }
}

/// Grain and dust on density.
pub(super) fn grain_and_dust(density: &mut Planes, job: &Job) {
    if let Some(params) = grain_params(job) {
        grain::add_grain(density, &film_scale(job), &params);
    }
}

/// How much one stop of push raises granularity (common practice, no source).
const PUSH_GRAIN: f64 = 0.2;

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

fn stock(job: &Job) -> StockData {
    let stock = &job.look.negative.stock;
    StockData::of(stock.class, stock.filter)
}

fn softness_params(job: &Job) -> Option<SoftnessParams> {
    let step = &job.look.negative.softness;
    let spread = step.spread * effective_amount(step);
    (spread > 0.0).then(|| SoftnessParams {
        mtf50_per_mm: stock(job).mtf50_per_mm,
        spread,
    })
}

fn grain_params(job: &Job) -> Option<GrainParams> {
    let negative = &job.look.negative;
    let (step, development) = (&negative.grain, &negative.development);
    let push = development.push * effective_amount(development);
    let strength = step.strength * effective_amount(step) * (1.0 + PUSH_GRAIN * push).max(0.2);
    let stock = stock(job);
    // Black-and-white film has one layer, and so one grain.
    let colour = if stock.balance_kelvin.is_some() {
        step.colour
    } else {
        0.0
    };
    (strength > 0.0).then(|| GrainParams {
        rms_x1000: stock.rms_x1000.map(|rms| rms * strength),
        correlation_um: stock.grain_um.map(|um| um * step.size),
        colour,
        density_max: stock.gamma * stock.span_log_e,
        seed: step.seed as u32,
        frame: job.frame_number,
    })
}
