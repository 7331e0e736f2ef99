//! Dust: specks and hairs on the negative block the printing light, so they come out light.
//!
//! How many lie on a frame follows Poisson's law; where, how large and how far out of focus is
//! drawn from a hash of (seed, frame, item), so every frame has its own and another seed moves
//! them all. Sizes are log-normal in micrometres (common practice, no source). What blocks the
//! share `b` of the light adds the density `-log10(1 - b)`, the same to all layers. A soft edge
//! blocks as much light as a sharp one, and so does a small picture as a large one.

mod node;
mod shape;

pub use node::node;

use crate::path::negative::gauge::FilmScale;
use crate::spatial::{Planes, Window};
use lookwright_colour::lane::Lane;
use shape::{Draws, Shape};

/// Dust, ready for use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DustParams {
    /// Specks and hairs on a frame, on average, up to 500.
    pub rate_per_frame: f64,
    /// The specks' middle diameter in micrometres.
    pub size_um: f64,
    /// Share of hairs, 0 to 1.
    pub hair_share: f64,
    /// How far edges are out of focus, on average, in micrometres.
    pub softness_um: f64,
    /// Another number lays them elsewhere.
    pub seed: u32,
    /// Number of the frame in its sequence.
    pub frame: u32,
}

/// Rates beyond this count as this.
const LARGEST_RATE: f64 = 500.0;
/// The largest share of light that anything blocks: density 1.5.
const MOST_BLOCKED: f32 = 0.968;
/// Lays dust on density above base, in place. The same for every tile of a picture, to the bit.
pub fn add_dust(density: &mut Planes, window: &Window, scale: &FilmScale, params: &DustParams) {
    let (width, height) = (density.width, density.height);
    each_blocked(width, height, window, scale, params, |i, blocked| {
        // Below 1 by MOST_BLOCKED, so the logarithm is finite.
        let added = -Lane::log10(1.0 - blocked);
        for plane in &mut density.planes {
            plane[i] += added;
        }
    });
}

/// Calls `take(pixel, share of light that is blocked there)` for every item and pixel it covers.
fn each_blocked(
    width: usize,
    height: usize,
    window: &Window,
    scale: &FilmScale,
    params: &DustParams,
    mut take: impl FnMut(usize, f32),
) {
    let pixel_um = scale.um_per_pixel;
    let frame_um = [window.full_width, window.full_height]
        .map(|pixels| f64::from(pixels) * window.scale * pixel_um);
    let range = |low: f64, high: f64, first: i32, count: usize| {
        let from = libm::floor(low / pixel_um) - f64::from(first);
        let to = libm::ceil(high / pixel_um) - f64::from(first);
        (from.max(0.0) as usize)..(to.clamp(0.0, count as f64) as usize)
    };
    for item in 0..count(params) {
        let shape = Shape::new(&mut draws(params, item), params, frame_um, pixel_um);
        let [low, high] = shape.bounds();
        let columns = range(low[0], high[0], scale.first_pixel.0, width);
        for y in range(low[1], high[1], scale.first_pixel.1, height) {
            let centre = |first: i32, i: usize| (f64::from(first) + i as f64 + 0.5) * pixel_um;
            let y_um = centre(scale.first_pixel.1, y);
            for x in columns.clone() {
                let covered = shape.cover([centre(scale.first_pixel.0, x), y_um]);
                let blocked = (covered * shape.opacity) as f32;
                if blocked > 0.0 {
                    take(y * width + x, Lane::min(blocked, MOST_BLOCKED));
                }
            }
        }
    }
}

/// How many items lie on the frame: Poisson's law by Knuth's product of draws.
fn count(params: &DustParams) -> u32 {
    let limit = libm::exp(-params.rate_per_frame.clamp(0.0, LARGEST_RATE));
    let mut draws = draws(params, u32::MAX);
    let mut product = draws.unit();
    let mut count = 0;
    while product > limit {
        product *= draws.unit();
        count += 1;
    }
    count
}

fn draws(params: &DustParams, item: u32) -> Draws {
    Draws::new(params.seed, params.frame, item)
}

#[cfg(test)]
mod tests;
