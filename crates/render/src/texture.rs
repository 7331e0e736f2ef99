//! The texture part of a look, between the point passes: from settings to the spatial steps.
//!
//! A step's amount scales its strength: half the amount is half the stray light, half the spread,
//! half the granularity, half as many specks.

use super::plan::Job;
use lookwright_film::look::effective_amount;
use lookwright_film::path::lens::diffusion::{self, Diffusion, DiffusionParams};
use lookwright_film::path::negative::StockData;
use lookwright_film::path::negative::dust::{self, DustParams};
use lookwright_film::path::negative::gauge::FilmScale;
use lookwright_film::path::negative::grain::{self, GrainParams, KeptGrain};
use lookwright_film::path::negative::halation::{self, HalationParams, Returning, ring::Base};
use lookwright_film::path::negative::softness::{self, Softening, SoftnessParams};
use lookwright_film::spatial::Planes;
use lookwright_film::spatial::step::SpreadStep;

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
    dust(density, job);
}

/// [`grain_and_dust`] with a field of grain that is kept as long as it serves.
pub(super) fn kept_grain_and_dust(density: &mut Planes, job: &Job, kept: &mut Option<KeptGrain>) {
    if let Some(params) = grain_params(job) {
        let (width, height) = (density.width, density.height);
        let grain = KeptGrain::new(width, height, &film_scale(job), &params, kept.take());
        grain.add_still(density);
        *kept = Some(grain);
    }
    dust(density, job);
}

fn dust(density: &mut Planes, job: &Job) {
    if let Some(params) = dust_params(job) {
        dust::add_dust(density, &job.window, &film_scale(job), &params);
    }
}

/// How many pixels around a part of a picture its rendering depends on, but for a share of the
/// stray light that is told at each step: what a part has to be rendered with, to look as it does
/// in the whole picture.
pub fn reach_px(job: &Job) -> usize {
    let diffusion = diffusion_params(job).map_or(0, |p| diffusion::reach_px(&job.window, &p));
    let halation = halation_params(job).map_or(0, |p| halation::reach_px(&film_scale(job), &p));
    let softness = softness_params(job).map_or(0, |p| softness::reach_px(&film_scale(job), &p));
    diffusion + halation + softness
}

/// Diffusion, halation and softness for a picture of `width` by `height` pixels, those that act.
pub(super) fn spread_steps(
    job: &Job,
    width: usize,
    height: usize,
) -> [Option<Box<dyn SpreadStep>>; 3] {
    let scale = film_scale(job);
    let diffusion = diffusion_params(job)
        .and_then(|params| Diffusion::new(width, height, &job.window, &params))
        .map(|step| Box::new(step) as Box<dyn SpreadStep>);
    let halation = halation_params(job)
        .map(|params| Box::new(Returning::new(width, height, &scale, &params)) as _);
    let softness = softness_params(job)
        .map(|params| Box::new(Softening::new(width, height, &scale, &params)) as _);
    [diffusion, halation, softness]
}

/// How much one stop of push raises granularity (common practice, no source).
const PUSH_GRAIN: f64 = 0.2;

pub(super) fn film_scale(job: &Job) -> FilmScale {
    FilmScale::of(job.look.negative.stock.gauge, &job.window)
}

pub(super) fn diffusion_params(job: &Job) -> Option<DiffusionParams> {
    let step = &job.look.lens.diffusion;
    let strength = step.strength * effective_amount(step);
    (strength > 0.0).then_some(DiffusionParams {
        strength: strength.min(1.0),
        reach_percent_of_diagonal: step.reach,
        shadow_hold: step.shadow_hold,
    })
}

pub(super) fn halation_params(job: &Job) -> Option<HalationParams> {
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

pub(super) fn softness_params(job: &Job) -> Option<SoftnessParams> {
    let step = &job.look.negative.softness;
    let spread = step.spread * effective_amount(step);
    (spread > 0.0).then(|| SoftnessParams {
        mtf50_per_mm: stock(job).mtf50_per_mm,
        spread,
    })
}

pub(super) fn grain_params(job: &Job) -> Option<GrainParams> {
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

pub(super) fn dust_params(job: &Job) -> Option<DustParams> {
    let step = &job.look.negative.dust;
    let rate_per_frame = step.rate * effective_amount(step);
    (rate_per_frame > 0.0).then_some(DustParams {
        rate_per_frame,
        size_um: step.size,
        hair_share: step.hairs,
        softness_um: step.softness,
        seed: step.seed as u32,
        frame: job.frame_number,
    })
}

#[cfg(test)]
mod tests {
    use crate::{Job, render};
    use lookwright_film::look::{Delivery, Frame, Gauge, Look, StageId, StockClass};
    use lookwright_film::spatial::{Planes, Window};

    /// A dark frame with one lamp eight stops above mid-grey, in linear light.
    fn night() -> (Planes, Job) {
        let (width, height) = (160, 90);
        let mut picture = Planes::filled(width, height, 0.02);
        for plane in &mut picture.planes {
            for y in 43..47 {
                for x in 78..82 {
                    plane[y * width + x] = 0.18 * 256.0;
                }
            }
        }
        let mut look = Look::starting(StockClass::Daylight250).without_texture();
        look.negative.stock.gauge = Gauge::Gauge8;
        let job = Job {
            look,
            frame: Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap(),
            delivery: Delivery::default(),
            stage: StageId::Screen,
            window: Window::whole(width, height),
            frame_number: 1,
        };
        (picture, job)
    }

    fn beside_the_lamp(look: impl Fn(&mut Look)) -> [f32; 3] {
        let (picture, mut job) = night();
        look(&mut job.look);
        let out = render(picture, &job);
        [0, 1, 2].map(|channel| out.row(channel, 45)[84])
    }

    #[test]
    fn halation_glows_red_beside_a_lamp_because_it_acts_before_the_curve() {
        let plain = beside_the_lamp(|_| {});
        let glowing = beside_the_lamp(|look| look.negative.halation.on = true);
        assert!(glowing[0] > plain[0] + 0.05, "{plain:?} {glowing:?}");
        // The light comes back to the red layer first, then green, then blue.
        let gained = [0, 1, 2].map(|i| glowing[i] - plain[i]);
        assert!(
            gained[0] > gained[1] && gained[1] >= gained[2],
            "{gained:?}"
        );
        // A lamp four times as bright gives a glow that exceeds it by far less: the curve comes
        // after. (Light laid over the finished picture would be clipped the same in both.)
        let under = beside_the_lamp(|look| {
            look.negative.halation.on = true;
            look.lens.exposure.stops = -2.0;
        });
        assert!(under[0] < glowing[0] && under[0] > glowing[0] * 0.4);
    }

    #[test]
    fn diffusion_comes_before_the_film_and_grain_after_it() {
        let diffused = |density: f32| {
            beside_the_lamp(|look| {
                look.lens.diffusion.on = true;
                look.lens.diffusion.shadow_hold = 0.0;
                look.lens.diffusion.strength = f64::from(density);
            })
        };
        let plain = beside_the_lamp(|_| {});
        assert!(diffused(0.3)[1] > plain[1] + 0.02);
        // Grain is on density: the same seed moves the density, and so the scan, by the same
        // amount whatever the scan is then made to look like.
        let grain_at = |stage: StageId, slope: f64| {
            let (picture, mut job) = night();
            job.look.negative.grain.on = true;
            job.look.scan.contrast.slope = slope;
            job.stage = stage;
            render(picture, &job).row(1, 10)[10]
        };
        assert_eq!(
            grain_at(StageId::Negative, 1.2),
            grain_at(StageId::Negative, 2.0)
        );
        assert_ne!(grain_at(StageId::Scan, 1.2), grain_at(StageId::Scan, 2.0));
    }

    #[test]
    fn dust_comes_out_light_on_the_positive() {
        let (picture, mut job) = night();
        let clean = render(picture.clone(), &job);
        job.look.negative.dust.on = true;
        job.look.negative.dust.rate = 200.0;
        job.look.negative.dust.size = 80.0;
        let dusty = render(picture, &job);
        let lighter = |(a, b): (&f32, &f32)| a > b;
        let count = dusty.planes[1]
            .iter()
            .zip(&clean.planes[1])
            .filter(|p| lighter(*p))
            .count();
        let darker = dusty.planes[1]
            .iter()
            .zip(&clean.planes[1])
            .filter(|(a, b)| a < b)
            .count();
        assert!(
            count > 50 && darker == 0,
            "{count} lighter, {darker} darker"
        );
    }

    #[test]
    fn a_look_without_texture_reaches_nowhere_and_stray_light_reaches_as_far_as_its_steps() {
        let (_, mut job) = night();
        job.look.lens.diffusion.on = true;
        job.look.negative.halation.on = true;
        let (halation, all) = {
            let mut alone = job.clone();
            alone.look.lens.diffusion.on = false;
            alone.look.negative.softness.on = false;
            (super::reach_px(&alone), super::reach_px(&job))
        };
        assert!(halation > 0 && all > halation);
        job.look = job.look.without_texture();
        assert_eq!(super::reach_px(&job), 0);
    }
}
