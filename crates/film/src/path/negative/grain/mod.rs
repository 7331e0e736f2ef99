//! Grain: the picture is made of clouds of dye, and every layer has its own.
//!
//! Each layer's density gets
//!
//! ```text
//! D' = D + rms/1000 sqrt(v(D)) n + skew,      v(1) = 1
//! ```
//!
//! where `n` is a field on film, white noise clumped into clouds, seen through the pixel's own area,
//! and scaled so that an aperture of 48 um across sees a standard deviation of 1: so at density 1
//! that aperture measures the stock's RMS granularity (ISO 10505), at any resolution.
//!
//! - *Sizes*: large clouds of the fast sublayers and small ones of the slow; the share of large ones,
//!   and with it the mean size, falls with density; see [`clouds`].
//! - *Strength*: `v` is the dot model's variance `d (1 - d / d_max)` (Siedentopf's law at low density,
//!   with saturation), with `d = D + fog` for the base's own grain, times `1 / (1 + c D)` because the
//!   fast sublayers have the coarser grain (*chosen*); see [`law`].
//! - *Skewness*: clouds are counted, so few of them swing farther up than down; see [`law`].
//!
//! The field is exact, in [`exact`], as a sum over cells of 1 um. The fast path takes the
//! coarsest cells that pixel and clump allow and keeps rows ([`field::Field`]): the same grains,
//! with a correlation above 0.93 to the exact field and its deviation within 2 %. Nothing is
//! tiled, so nothing repeats.

mod aperture;
mod clouds;
pub mod exact;
mod field;
mod kept;
mod lattice;
mod law;
mod node;

use crate::path::negative::gauge::FilmScale;
use crate::spatial::Planes;
use aperture::RMS_APERTURE_RADIUS_UM;
use clouds::{Clouds, gains, half_length, small_sigma};
use field::{Field, Plan};
pub use kept::KeptGrain;
use lattice::Seed;
pub use law::DensityLaw;
use law::LayerLaw;
use lookwright_colour::lane::widest;
pub use node::node;

/// Grain, ready for use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GrainParams {
    /// RMS granularity x1000 per layer, red, green, blue: 48 um aperture, density 1.0. Push and
    /// strength are in it.
    pub rms_x1000: [f64; 3],
    /// Correlation length per layer in um: where the grain's autocorrelation has fallen to 1/e, at
    /// density 1. Push is in it.
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

/// Adds grain to density above base in place. The same for every tile of a picture, to the bit.
/// Always finite for finite densities; not-a-number becomes 0.
pub fn add_grain(density: &mut Planes, scale: &FilmScale, params: &GrainParams) {
    let laws = laws(scale, params);
    each_run(
        density.width,
        density.height,
        scale,
        params,
        |x, y, small, large| {
            for (layer, law) in laws.iter().enumerate() {
                let densities = &mut density.row_mut(layer, y)[x..];
                widest(
                    #[inline(always)]
                    || law.grain_run(densities, small[layer], &large[layer]),
                );
            }
        },
    );
}

/// What density makes of the fields, per layer.
fn laws(scale: &FilmScale, params: &GrainParams) -> [LayerLaw; 3] {
    let law = DensityLaw::of_stock(params.density_max);
    [0, 1, 2].map(|layer| {
        let clouds = Clouds::new(params, layer, scale.um_per_pixel);
        LayerLaw::new(law, params.rms_x1000[layer], &clouds)
    })
}

/// Pixels in a run: so few that the rows of cells that they see stay in the cache.
const RUN: usize = 1024;

/// Hands out the fields of small and of large clouds in runs of a row: column, row, three layers
/// each. The small ones are of unit granularity.
fn each_run(
    width: usize,
    height: usize,
    scale: &FilmScale,
    params: &GrainParams,
    mut take: impl FnMut(usize, usize, [&[f32]; 3], &[Vec<f32>; 3]),
) {
    if width == 0 || height == 0 || params.rms_x1000.iter().all(|&rms| rms <= 0.0) {
        return;
    }
    let clouds = [0, 1, 2].map(|layer| Clouds::new(params, layer, scale.um_per_pixel));
    let margin = clouds.iter().map(|c| c.distance).max().unwrap_or(0);
    let plan = Plan::new(width, height, margin, scale, &Clump::new(params));
    let mut down = Vec::new();
    for x in (0..width).step_by(RUN) {
        let run = x..width.min(x + RUN);
        let columns = run.len();
        let mut field = Field::new(&plan, x..run.end + 2 * margin);
        // As many rows as lie between the farthest above and below, row `y` at `y mod their count`.
        let row = [(); 3].map(|()| vec![0.0; columns + 2 * margin]);
        let mut small = vec![row; 2 * margin + 1];
        let mut large = [(); 3].map(|()| vec![0.0; columns]);
        for (y, row) in small.iter_mut().enumerate().take(2 * margin) {
            field.row(y, row);
        }
        for y in 0..height {
            let last = y + 2 * margin;
            let count = small.len();
            field.row(last, &mut small[last % count]);
            for (layer, clouds) in clouds.iter().enumerate() {
                let far = clouds.distance;
                let rows = [margin - far, margin, margin + far]
                    .map(|at| &small[(y + at) % count][layer][margin - far..]);
                clouds.enlarge(rows, &mut down, &mut large[layer]);
            }
            let here = &small[(y + margin) % count];
            let here = here.each_ref().map(|row| &row[margin..margin + columns]);
            take(x, y, here, &large);
        }
    }
}

/// How the noise of cells becomes grain: what [`exact`] and [`field`] share.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Clump {
    seed: Seed,
    /// Standard deviation of the small clouds per layer. Two of them correlate over `2 sigma`.
    sigma_um: [f64; 3],
    /// What the size of cells follows.
    finest_um: f64,
    /// Weights of a layer's own noise and of the shared one, for unit granularity.
    own: [f32; 3],
    shared: [f32; 3],
}

impl Clump {
    fn new(params: &GrainParams) -> Self {
        let sigma_um = [0, 1, 2].map(|layer| small_sigma(params, layer));
        let gain = [0, 1, 2].map(|layer| gains(half_length(params, layer))[0]);
        let colour = params.colour.clamp(0.0, 1.0);
        let weights = |share: f64| gain.map(|gain| (gain * share.sqrt()) as f32);
        let finest = |a: f64, layer| a.min(half_length(params, layer));
        Self {
            seed: Seed {
                seed: params.seed,
                frame: params.frame,
            },
            sigma_um,
            finest_um: (0..3).fold(f64::INFINITY, finest),
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

#[cfg(test)]
mod tests;
