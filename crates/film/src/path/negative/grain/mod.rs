//! Grain: the picture is made of clouds of dye, and every layer has its own.
//!
//! Each layer's density gets
//!
//! ```text
//! D' = D + rms/1000 sqrt(v(D)) n,      v(1) = 1
//! ```
//!
//! where `n` is a field on film, white noise clumped by a Gaussian, seen through the pixel's own
//! area, and scaled so that an aperture of 48 um across sees a standard deviation of 1: so at
//! density 1 that aperture measures the stock's RMS granularity (ISO 10505), at any resolution.
//!
//! `v` is the dot model's variance `d (1 - d / d_max)` (Siedentopf's law at low density, with
//! saturation), with `d = D + fog` for the base's own grain, times `1 / (1 + c D)` because the
//! fast sublayers, which expose first, have the coarser grain (common practice, no source).
//!
//! The field is exact, in [`exact`], as a sum over cells of 1 um. The fast path takes the
//! coarsest cells that pixel and clump allow and keeps rows ([`field::Field`]): the same grains,
//! with a correlation above 0.93 to the exact field and its deviation within 7 %. Nothing is
//! tiled, so nothing repeats.

mod aperture;
pub mod exact;
mod field;
mod kept;
mod lattice;
mod node;

use crate::path::negative::gauge::FilmScale;
use crate::spatial::Planes;
use aperture::{RMS_APERTURE_RADIUS_UM, seen_variance};
use field::{Field, Plan};
pub use kept::KeptGrain;
use lattice::Seed;
use lookwright_colour::lane::{Lane, widest};
pub use node::node;

/// Grain, ready for use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GrainParams {
    /// RMS granularity x1000 per layer, red, green, blue: 48 um aperture, density 1.0. Push and
    /// strength are in it.
    pub rms_x1000: [f64; 3],
    /// Correlation length per layer in um: where the grain's autocorrelation has fallen to 1/e.
    pub correlation_um: [f64; 3],
    /// How far the layers' grains differ: 0 is one grain for all three, 1 one for each. The
    /// correlation between two layers of the same correlation length is `1 - colour`.
    pub colour: f64,
    /// Largest density above base that the stock can reach.
    pub density_max: f64,
    /// Another number gives another pattern.
    pub seed: u32,
    /// Number of the frame in its sequence.
    pub frame: u32,
}

/// Density of the unexposed base's own grain.
const FOG_DENSITY: f64 = 0.06;
/// How much coarser the fast sublayers are, per unit of density.
const COARSER_FIRST: f64 = 1.0;
/// Density at which RMS granularity is stated.
const RMS_DENSITY: f64 = 1.0;

/// Adds grain to density above base in place. The same for every tile of a picture, to the bit.
/// Always finite for finite densities; not-a-number becomes 0.
pub fn add_grain(density: &mut Planes, scale: &FilmScale, params: &GrainParams) {
    let law = DensityLaw::new(params.density_max, FOG_DENSITY, COARSER_FIRST);
    let rms = params.rms_x1000.map(|rms| (rms / 1000.0) as f32);
    each_run(
        density.width,
        density.height,
        scale,
        params,
        |x, y, grain| {
            for (layer, (grain, &rms)) in grain.iter().zip(&rms).enumerate() {
                let densities = &mut density.row_mut(layer, y)[x..];
                widest(
                    #[inline(always)]
                    || law.grain_run(densities, grain, rms),
                );
            }
        },
    );
}

/// A plate of the grain alone, around mid-grey, for a picture that is an even grey of `density`
/// above base: `0.5 + dD / 0.002 / 1023 / 2` per layer, limited to 0 ... 1. Blend it on log scan
/// code with `code + 2 plate - 1` ("linear light").
#[must_use]
pub fn grain_plate(
    width: usize,
    height: usize,
    scale: &FilmScale,
    params: &GrainParams,
    density: f64,
) -> Planes {
    let mut plate = Planes::filled(width, height, density as f32);
    add_grain(&mut plate, scale, params);
    for value in plate.planes.iter_mut().flatten() {
        let code = (*value - density as f32) / (CODE_DENSITY * CODE_MAX);
        *value = Lane::clamp_to(code * 0.5 + 0.5, 0.0, 1.0);
    }
    plate
}

/// Density per step of the 10-bit log scan code, and its largest code.
const CODE_DENSITY: f32 = 0.002;
const CODE_MAX: f32 = 1023.0;

/// Pixels in a run: so few that the rows of cells that they see stay in the cache.
const RUN: usize = 1024;

/// Hands out the field of unit granularity in runs of a row: column, row, three layers.
fn each_run(
    width: usize,
    height: usize,
    scale: &FilmScale,
    params: &GrainParams,
    mut take: impl FnMut(usize, usize, &[Vec<f32>; 3]),
) {
    if width == 0 || height == 0 || params.rms_x1000.iter().all(|&rms| rms <= 0.0) {
        return;
    }
    let plan = Plan::new(width, height, scale, &Clump::new(params));
    for x in (0..width).step_by(RUN) {
        let run = x..width.min(x + RUN);
        let mut rows = [(); 3].map(|()| vec![0.0; run.len()]);
        let mut field = Field::new(&plan, run);
        for y in 0..height {
            field.row(y, &mut rows);
            take(x, y, &rows);
        }
    }
}

/// How the noise of cells becomes grain: what [`exact`] and [`field`] share.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Clump {
    seed: Seed,
    /// Standard deviation of the clumping Gaussian per layer. Two of them correlate over `2 sigma`.
    sigma_um: [f64; 3],
    /// Weights of a layer's own noise and of the shared one, for unit granularity.
    own: [f32; 3],
    shared: [f32; 3],
}

impl Clump {
    fn new(params: &GrainParams) -> Self {
        let sigma_um = params.correlation_um.map(|um| um.clamp(0.0, 1000.0) / 2.0);
        let gain = sigma_um.map(|s| 1.0 / seen_variance(RMS_APERTURE_RADIUS_UM, s).sqrt());
        let colour = params.colour.clamp(0.0, 1.0);
        let weights = |share: f64| gain.map(|gain| (gain * share.sqrt()) as f32);
        Self {
            seed: Seed {
                seed: params.seed,
                frame: params.frame,
            },
            sigma_um,
            own: weights(colour),
            shared: weights(1.0 - colour),
        }
    }

    /// A cell's noise for a layer, from the layer's own number and the shared one.
    #[inline(always)]
    fn mixed(&self, layer: usize, own: f32, shared: f32) -> f32 {
        own * self.own[layer] + shared * self.shared[layer]
    }
}

/// How the variance of grain depends on density.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DensityLaw {
    fog: f32,
    saturation: f32,
    coarser_first: f32,
    scale: f32,
    largest: f32,
}

impl DensityLaw {
    /// `v(D) ~ d (1 - d / (d_max + fog)) / (1 + c D)`, `d = D + fog`, `v(1) = 1`. With no fog and
    /// `c = 0` it is the dot model's law alone.
    #[must_use]
    pub fn new(density_max: f64, fog: f64, coarser_first: f64) -> Self {
        // At 1.0, where v is 1, there must be something left.
        let saturation = 1.0 / (density_max.clamp(RMS_DENSITY + 0.1, 100.0) + fog);
        let d = RMS_DENSITY + fog;
        let at_one = d * (1.0 - d * saturation) / (1.0 + coarser_first * RMS_DENSITY);
        Self {
            fog: fog as f32,
            saturation: saturation as f32,
            coarser_first: coarser_first as f32,
            scale: (1.0 / at_one) as f32,
            largest: (1.0 / saturation - fog) as f32,
        }
    }

    /// `v(D)`, at least 0.
    #[inline(always)]
    pub fn variance<L: Lane>(&self, density: L) -> L {
        let density = density.clamp_to(0.0, self.largest);
        let d = density + self.fog;
        let dots = d * (-(d * self.saturation) + 1.0);
        (dots * self.scale / (density * self.coarser_first + 1.0)).max(d.of(0.0))
    }

    /// Grains a run of densities.
    #[inline(always)]
    fn grain_run(self, densities: &mut [f32], grain: &[f32], rms: f32) {
        for (density, noise) in densities.iter_mut().zip(grain) {
            *density = self.grained(*density, *noise * rms);
        }
    }

    /// Density with grain of strength `noise` at density 1.
    #[inline(always)]
    fn grained<L: Lane>(&self, density: L, noise: L) -> L {
        // A comparison with not-a-number is false: it becomes 0.
        let density = L::select(density.le(density), density, density.of(0.0));
        density + self.variance(density).sqrt() * noise
    }
}

#[cfg(test)]
mod tests;
