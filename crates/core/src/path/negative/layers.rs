//! Scene light to layer exposure: which part of the light each of the three layers sees.
//!
//! `E = floor(G M rgb)`: `M` is the stock's layer matrix, `G` the gain that the scene's light has
//! on each layer when it is not the light that the stock is balanced for (green layer 1). The
//! floor keeps exposures positive: very saturated light can fall outside what a layer sees.

use super::stock::StockData;
use crate::lane::Lane;
use crate::space::{primaries::AP1, white_of};
use crate::{Mat3, PixelMatrix, Rgb};

/// Where the floor begins, in exposure: 8.5 stops below mid-grey (0.18), where the toe has ended.
const FLOOR: f32 = 0.0005;

/// Layer exposure, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layers {
    matrix: PixelMatrix,
}

impl Layers {
    /// For a stock, mixed in by `amount` over layers that see AP1 as it is, under `cast`.
    pub fn new(stock: &StockData, amount: f64, cast: [f64; 3]) -> Self {
        let matrix = Mat3::diagonal(cast).after(&stock.layers.blend(amount));
        Self {
            matrix: matrix.for_pixels(),
        }
    }

    /// AP1 scene light to layer exposure, 0.18 at mid-grey in the stock's own light.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, scene_lin: Rgb<L>) -> Rgb<L> {
        self.matrix.apply(scene_lin).map(floor)
    }
}

/// The identity from [`FLOOR`] up; below, an exponential that joins it in value and slope and
/// stays above zero: `c exp(e / c - 1)`.
#[inline(always)]
fn floor<L: Lane>(exposure: L) -> L {
    let below = ((exposure * (1.0 / FLOOR) - 1.0) * core::f32::consts::LOG2_E).exp2() * FLOOR;
    exposure.below(FLOOR, below, exposure)
}

/// The gains that a scene's light has on a stock's layers: 1, 1, 1 under the stock's own light.
///
/// A balanced camera shows grey as equal numbers whatever the light. Film does not adapt, so the
/// light itself, seen through the layers, is put back: `M w(scene) / M w(balance)`, divided by
/// its green layer so that exposure stays.
pub fn cast_gains(stock: &StockData, amount: f64, scene_kelvin: f64) -> [f64; 3] {
    let Some(balance_kelvin) = stock.balance_kelvin else {
        return [1.0; 3];
    };
    let layers = stock.layers.blend(amount.min(1.0));
    let seen = |kelvin: f64| {
        // Light of one colour temperature as AP1 numbers, with AP1's own white as 1, 1, 1.
        let xyz = white_of(kelvin, 0.0).to_xyz();
        layers.apply(AP1.xyz_to_rgb().apply(xyz))
    };
    let (scene, own) = (seen(scene_kelvin), seen(balance_kelvin));
    let ratio = [0, 1, 2].map(|i| (scene[i] / own[i]).clamp(0.02, 50.0));
    let mixed = |gain: f64| libm::pow(gain / ratio[1], amount.min(1.0));
    ratio.map(mixed)
}
