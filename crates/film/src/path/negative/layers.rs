//! Scene light to layer exposure: which part of the light each of the three layers sees.
//!
//! `E = floor(G M rgb)`: `M` is the stock's layer matrix, `G` the gain that the scene's light has
//! on each layer when it is not the light that the stock is balanced for (green layer 1).
//!
//! The matrix sends very saturated light below zero, where film can't go: every layer sees a
//! little of all light. So exposure below a floor `c` follows `c^2 / (2 c - E)`, which joins the
//! identity in value and slope and stays above zero. The floor grows with the light itself,
//! `c = c0 + k m`, so that bright saturated colours bend as softly as dim ones; a floor that did
//! not would let the logarithm fall off a cliff there.
//!
//! `m` is a mean of the three exposures, not of the light, and so no two colours change places:
//! with `u` the slope of the floored exposures by `E` (diagonal, positive) and `v` by `c` (zero or
//! more), the Jacobian's determinant is `det(G M) det(u) (1 + k w . v / u)` (matrix determinant
//! lemma), which keeps the sign of `det M`.

use super::stock::StockData;
use lookwright_colour::lane::Lane;
use lookwright_colour::space::{primaries::AP1, white_of};
use lookwright_colour::{Mat3, PixelMatrix, Rgb};

/// The floor in the dark, in exposure: 8.5 stops below mid-grey (0.18), where the toe has ended.
const FLOOR: f32 = 0.0005;
/// The share of all light that every layer sees at least. Below what the 24-patch chart's colours
/// leave a layer, all but the cyan, which lies outside BT.709 (yellow is nearest, 0.15).
const FLOOR_SHARE: f32 = 0.12;
/// What each layer counts in the mean of the exposures. Seen through the layer matrix, red, green
/// and blue light then count about alike.
const SEEN: [f32; 3] = [0.25, 0.5, 0.25];
/// The share of all light that each of its channels has at least, for an emulsion blind to colour.
const LIGHT_SHARE: f32 = 0.06;

/// Layer exposure, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layers {
    matrix: PixelMatrix,
    /// One emulsion sees all: what one colour lacks must not take from another.
    blind_to_colour: bool,
}

impl Layers {
    /// For a stock, mixed in by `amount` over layers that see AP1 as it is, under `cast`.
    pub fn new(stock: &StockData, amount: f64, cast: [f64; 3]) -> Self {
        let matrix = Mat3::diagonal(cast).after(&stock.layers.blend(amount));
        Self {
            matrix: matrix.for_pixels(),
            blind_to_colour: stock.balance_kelvin.is_none(),
        }
    }

    /// AP1 scene light to layer exposure, 0.18 at mid-grey in the stock's own light.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, scene_lin: Rgb<L>) -> Rgb<L> {
        let light = if self.blind_to_colour {
            positive(scene_lin)
        } else {
            scene_lin
        };
        let exposure = self.matrix.apply(light);
        above(exposure, mean(exposure, SEEN) * FLOOR_SHARE + FLOOR)
    }
}

/// Light without what is below zero: a camera's matrix gives that for colours that are none.
#[inline(always)]
fn positive<L: Lane>(scene_lin: Rgb<L>) -> Rgb<L> {
    above(
        scene_lin,
        mean(scene_lin, [1.0 / 3.0; 3]) * LIGHT_SHARE + FLOOR,
    )
}

/// Weighted mean, 0 or more.
#[inline(always)]
fn mean<L: Lane>(Rgb { r, g, b }: Rgb<L>, weights: [f32; 3]) -> L {
    let mean = r * weights[0] + g * weights[1] + b * weights[2];
    mean.max(mean.of(0.0))
}

/// Each channel as it is above the floor, and between 0 and the floor for what is below.
#[inline(always)]
fn above<L: Lane>(rgb: Rgb<L>, floor: L) -> Rgb<L> {
    rgb.map(
        #[inline(always)]
        |x| {
            let below = floor * floor / (floor * 2.0 - x).max(floor);
            L::select(x.lt(floor), below, x)
        },
    )
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
    use proptest::prelude::*;

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

    proptest! {
        #[test]
        fn no_light_changes_places_with_another(
            light in [-0.2_f32..1.0, -0.2_f32..1.0, -0.2_f32..1.0],
            stops in -6.0_f32..8.0,
        ) {
            let (_, layers) = layers();
            let light = light.map(|channel| channel * libm::exp2f(stops));
            let step = 2e-3 * libm::exp2f(stops);
            let exposed = |channel: usize, by: f32| {
                let mut light = light;
                light[channel] += by;
                layers.apply(Rgb::from_array(light)).to_array()
            };
            let slopes = [0, 1, 2].map(|channel| {
                let (up, down) = (exposed(channel, step), exposed(channel, -step));
                [0, 1, 2].map(|layer| f64::from((up[layer] - down[layer]) / (2.0 * step)))
            });
            let [r, g, b] = slopes;
            let turned = r[0] * (g[1] * b[2] - g[2] * b[1]) - r[1] * (g[0] * b[2] - g[2] * b[0])
                + r[2] * (g[0] * b[1] - g[1] * b[0]);
            prop_assert!(turned > 0.0, "{slopes:?}");
        }
    }

    #[test]
    fn one_emulsion_is_not_darkened_by_light_that_a_camera_takes_from_red_and_green() {
        // A wide-gamut camera's blue in AP1, of rising strength (LogC3 Wide Gamut, colour-science).
        let stock = StockData::of(StockClass::Panchromatic250, ContrastFilter::Yellow);
        let film = Layers::new(&stock, 1.0, [1.0; 3]);
        for strength in [1.0_f32, 4.0, 16.0, 50.0] {
            let lamp = film
                .apply(Rgb::new(-0.082, -0.233, 1.059).map(|c| c * strength))
                .g;
            // At least 6 stops below the light's own mean, not black.
            assert!(lamp > 0.015 * 0.25 * strength, "{strength}: {lamp}");
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
