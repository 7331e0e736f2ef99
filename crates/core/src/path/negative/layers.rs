//! Scene light to layer exposure: which part of the light each of the three layers sees.
//!
//! `E = floor(G M rgb)`: `M` is the stock's layer matrix, `G` the gain that the scene's light has
//! on each layer when it is not the light that the stock is balanced for (green layer 1).
//!
//! The matrix sends very saturated light below zero, where film can't go: every layer sees a
//! little of all light. So exposure below a floor `c` follows `c^2 / (2 c - E)`, which joins the
//! identity in value and slope and stays above zero. The floor grows with the light itself,
//! `c = c0 + k mean(rgb)`, so that bright saturated colours bend as softly as dim ones; a floor
//! that did not would let the logarithm fall off a cliff there.

use super::stock::StockData;
use crate::lane::Lane;
use crate::space::{primaries::AP1, white_of};
use crate::{Mat3, PixelMatrix, Rgb};

/// The floor in the dark, in exposure: 8.5 stops below mid-grey (0.18), where the toe has ended.
const FLOOR: f32 = 0.0005;
/// The share of all light that every layer sees at least. Below what any of the 24-patch chart's
/// colours leaves a layer.
const FLOOR_SHARE: f32 = 0.06;

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
        let mean = (scene_lin.r + scene_lin.g + scene_lin.b) * (1.0 / 3.0);
        let floor = mean.max(mean.of(0.0)) * FLOOR_SHARE + FLOOR;
        self.matrix.apply(scene_lin).map(
            #[inline(always)]
            |exposure| {
                let below = floor * floor / (floor * 2.0 - exposure).max(floor);
                L::select(exposure.lt(floor), below, exposure)
            },
        )
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::{ContrastFilter, StockClass};

    fn layers() -> (StockData, Layers) {
        let stock = StockData::of(StockClass::Daylight250, ContrastFilter::None);
        (stock, Layers::new(&stock, 1.0, [1.0; 3]))
    }

    #[test]
    fn grey_is_exposure_as_it_is_at_every_brightness() {
        for light in [0.001_f32, 0.18, 40.0] {
            let exposure = layers().1.apply(Rgb::grey(light));
            for layer in exposure.to_array() {
                assert!((layer / light - 1.0).abs() < 1e-5);
            }
        }
    }

    #[test]
    fn saturated_light_leaves_every_layer_some_exposure_and_falls_softly() {
        // From white to pure cyan at eight stops over: the red layer's log exposure falls without
        // a cliff, at most 0.2 (two thirds of a stop) per hundredth of the way.
        let mut last: Option<f32> = None;
        for step in 0..=100 {
            let red = 46.0 * (1.0 - step as f32 / 100.0);
            let exposure = layers().1.apply(Rgb::new(red, 46.0, 46.0)).r;
            assert!(exposure > 0.0);
            let log_e = libm::log10f(exposure);
            if let Some(last) = last {
                assert!(
                    log_e <= last && last - log_e < 0.2,
                    "{step}: {last} to {log_e}"
                );
            }
            last = Some(log_e);
        }
    }

    #[test]
    fn a_stock_is_neutral_under_its_own_light_and_leans_under_another() {
        let (stock, _) = layers();
        for gain in cast_gains(&stock, 1.0, 5500.0) {
            assert!((gain - 1.0).abs() < 1e-12);
        }
        // Tungsten stock in daylight: blue over-exposed against red by about two stops (1.96 in
        // BT.709 terms for Planckian 5500 K).
        let tungsten = StockData::of(StockClass::Tungsten200, ContrastFilter::None);
        let [red, green, blue] = cast_gains(&tungsten, 1.0, 5500.0);
        assert_eq!(green, 1.0);
        let stops = libm::log2(blue / red);
        assert!((1.4..2.6).contains(&stops), "{stops} stops");
    }
}
