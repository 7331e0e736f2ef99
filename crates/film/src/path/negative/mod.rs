//! Negative: scene light to layer exposure, and exposure to developed density.
//!
//! Between the two, halation and softness act on exposure; after development, grain and dust act
//! on density.

mod characteristic;
pub mod dust;
pub mod edge;
mod fitted;
pub mod gauge;
pub mod grain;
pub mod halation;
mod interimage;
mod layers;
pub mod softness;
mod stock;

pub use characteristic::{GREY_DENSITY, GREY_SCENE_LIN, Shape};
pub use fitted::{DISPLAY, DYES, PRINTING};
pub use layers::own_kelvin;
pub use stock::{SPEED_MAX, SPEED_MIN, StockData};

use crate::look::{self, effective_amount};
use crate::path::scan::code;
use crate::path::{Density, LayerExposure, SceneLin};
use characteristic::Characteristic;
use interimage::Interimage;
use layers::{Layers, cast_gains};
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// The negative's point part, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NegativePoint {
    layers: Layers,
    characteristic: Characteristic,
    interimage: Option<Interimage>,
    timing: [f32; 3],
}

impl NegativePoint {
    /// From the look's negative stage.
    pub fn new(settings: &look::Negative) -> Self {
        let amount = effective_amount(&settings.stock);
        let stock = StockData::of(&settings.stock);
        let push = settings.development.push * effective_amount(&settings.development);
        let times = settings.interimage.separation * effective_amount(&settings.interimage);
        let cast = cast_gains(&stock, amount, settings.stock.scene_light);
        let interimage =
            (times > 0.0 && !stock.one_emulsion()).then(|| Interimage::new(&stock, amount, times));

        // What a grey card measures: as the stock's own light and normal development leave it,
        // and as this scene's light and this development do. The scan's set-up brings the second
        // to the first: all of what development did, and the timed share of the cast. Measured as
        // printing density, which is what the scan is timed in.
        let card = |push: f64, cast: [f64; 3]| {
            let curve = Characteristic::new(&stock, push, amount);
            let exposure = cast.map(|gain| (gain * GREY_SCENE_LIN) as f32);
            let density = curve.apply(Rgb::from_array(exposure));
            let developed = interimage.map_or(density, |step| step.apply(density));
            code::printing(developed).to_array()
        };
        let (aim, developed, seen) = (card(0.0, [1.0; 3]), card(push, [1.0; 3]), card(push, cast));
        let timed = settings.stock.timed as f32;
        let timing = [0, 1, 2].map(|i| aim[i] - developed[i] - timed * (seen[i] - developed[i]));

        Self {
            layers: Layers::new(&stock, amount, cast),
            characteristic: Characteristic::new(&stock, push, amount),
            interimage,
            timing,
        }
    }

    /// AP1 scene light to layer exposure, 0.18 at mid-grey.
    #[inline(always)]
    pub fn expose<L: Lane>(&self, scene_lin: SceneLin<L>) -> LayerExposure<L> {
        LayerExposure(self.layers.apply(scene_lin.0))
    }

    /// Layer exposure to density above base.
    #[inline(always)]
    pub fn develop<L: Lane>(&self, exposure: LayerExposure<L>) -> Density<L> {
        self.coupled(self.characteristic.apply(exposure.0))
    }

    /// AP1 scene light to density above base, where nothing stands between.
    #[inline(always)]
    pub fn develop_light<L: Lane>(&self, scene_lin: SceneLin<L>) -> Density<L> {
        self.coupled(self.characteristic.of_log(self.layers.log(scene_lin.0)))
    }

    #[inline(always)]
    fn coupled<L: Lane>(&self, density: Rgb<L>) -> Density<L> {
        Density(match &self.interimage {
            Some(step) => step.apply(density),
            None => density,
        })
    }

    /// All that exposing depends on.
    pub(in crate::path) const fn exposing(&self) -> &Layers {
        &self.layers
    }

    /// All that developing depends on.
    pub(in crate::path) const fn developing(&self) -> (Characteristic, Option<Interimage>) {
        (self.characteristic, self.interimage)
    }

    /// The densities that the scan's set-up adds so that grey comes out neutral.
    pub const fn timing(&self) -> [f32; 3] {
        self.timing
    }
}
