//! Negative: scene light to layer exposure, and exposure to developed density.
//!
//! Between the two, halation and softness act on exposure; after development, grain, dust and
//! flicker act on density.

mod characteristic;
pub mod dust;
pub mod edge;
mod fitted;
mod flash;
pub mod flicker;
pub mod gauge;
pub mod grain;
pub mod halation;
mod interimage;
mod layers;
pub mod softness;
mod stock;

pub use characteristic::{GREY_DENSITY, GREY_SCENE_LIN};
pub use fitted::{DISPLAY, DYES, PRINTING};
pub use layers::own_kelvin;
pub use stock::{SPEED_MAX, SPEED_MIN, StockData};

use crate::look::{self, effective_amount};
use crate::path::scan::code;
use crate::path::{Density, LayerExposure, SceneLin};
use characteristic::Characteristic;
use flash::Flash;
use interimage::Interimage;
use layers::{Layers, cast_gains};
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// log10 exposure in which no film sees anything.
const NO_LIGHT_LOG_E: f32 = -30.0;

/// The negative's point part, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NegativePoint {
    layers: Layers,
    flash: Option<Flash>,
    characteristic: Characteristic,
    interimage: Option<Interimage>,
    record: Record,
}

/// What a scan has to know of the film that it scans.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Record {
    /// The densities that the scan's set-up adds so that grey comes out neutral.
    pub timing: [f32; 3],
    /// Density above base where no light fell: fog.
    pub base: Density<f32>,
    /// Density above base of a grey card in the scene's light.
    pub grey: Density<f32>,
    /// Width of the toe's bend in log10 exposure.
    pub toe_log_e: f64,
    /// log10 exposure of a density above the toe.
    pub log_e_per_density: f64,
}

impl Default for Record {
    /// The reference film's, in its own light: daylight, ISO 250.
    fn default() -> Self {
        let shape = characteristic::REFERENCE;
        Self {
            timing: [0.0; 3],
            base: Density(Rgb::grey(0.0)),
            grey: Density(Rgb::grey(GREY_DENSITY as f32)),
            toe_log_e: shape.toe,
            log_e_per_density: shape.log_e_per_density(characteristic::REFERENCE_GAMMA),
        }
    }
}

impl NegativePoint {
    /// From the look's negative stage.
    pub fn new(settings: &look::Negative) -> Self {
        let amount = effective_amount(&settings.stock);
        let stock = StockData::of(&settings.stock);
        let development = effective_amount(&settings.development);
        let push = settings.development.push * development;
        let wrong = settings.development.wrong_kind * development;
        let silver = settings.development.silver * development;
        let times = settings.interimage.separation * effective_amount(&settings.interimage);
        let cast = cast_gains(&stock, amount, settings.stock.scene_light);
        let interimage = ((times > 0.0 || silver > 0.0) && !stock.one_emulsion())
            .then(|| Interimage::new(&stock, amount, times, silver));

        let plain = (times > 0.0 && !stock.one_emulsion())
            .then(|| Interimage::new(&stock, amount, times, 0.0));
        let coupled = |density| interimage.map_or(density, |step| step.apply(density));
        // What a grey card measures: as the stock's own light and normal development leave it,
        // and as this scene's light and this development do. The scan's set-up brings the second
        // to the first: all of what development did, and the timed share of the cast. Measured as
        // printing density, which is what the scan is timed in.
        let normal = Characteristic::new(&stock, 0.0, amount);
        let characteristic = Characteristic::new(&stock, push, amount).crossed(&stock, wrong);
        let exposed = |curve: &Characteristic, cast: [f64; 3]| {
            let exposure = cast.map(|gain| (gain * GREY_SCENE_LIN) as f32);
            curve.apply(Rgb::from_array(exposure))
        };
        let own = exposed(&normal, [1.0; 3]);
        let aim = plain.map_or(own, |step| step.apply(own));
        let grey = coupled(exposed(&characteristic, cast));
        let developed = coupled(exposed(&characteristic, [1.0; 3]));
        let [aim, developed, seen] =
            [aim, developed, grey].map(|density| code::printing(density).to_array());
        let timed = settings.stock.timed as f32;
        let timing: [f32; 3] =
            [0, 1, 2].map(|i| aim[i] - developed[i] - timed * (seen[i] - developed[i]));

        let dark = characteristic.of_log(Rgb::grey(NO_LIGHT_LOG_E));
        // The plain negative is taken for the reference film.
        let reference = Record::default();
        let mixed = |reference: f64, own: f64| reference + (own - reference) * amount.min(1.0);
        let shape = stock.shape();
        Self {
            layers: Layers::new(&stock, amount, cast),
            characteristic,
            flash: Flash::new(&settings.flash, effective_amount(&settings.flash)),
            interimage,
            record: Record {
                timing,
                base: Density(coupled(dark)),
                grey: Density(grey),
                toe_log_e: mixed(reference.toe_log_e, shape.toe),
                log_e_per_density: mixed(
                    reference.log_e_per_density,
                    shape.log_e_per_density(stock.gamma),
                ),
            },
        }
    }

    /// AP1 scene light to layer exposure, 0.18 at mid-grey.
    #[inline(always)]
    pub fn expose<L: Lane>(&self, scene_lin: SceneLin<L>) -> LayerExposure<L> {
        let exposure = self.layers.apply(scene_lin.0);
        LayerExposure(match &self.flash {
            Some(flash) => flash.apply(exposure),
            None => exposure,
        })
    }

    /// Layer exposure to density above base.
    #[inline(always)]
    pub fn develop<L: Lane>(&self, exposure: LayerExposure<L>) -> Density<L> {
        self.coupled(self.characteristic.apply(exposure.0))
    }

    /// AP1 scene light to density above base, where nothing stands between.
    #[inline(always)]
    pub fn develop_light<L: Lane>(&self, scene_lin: SceneLin<L>) -> Density<L> {
        match self.flash {
            Some(_) => self.develop(self.expose(scene_lin)),
            None => self.coupled(self.characteristic.of_log(self.layers.log(scene_lin.0))),
        }
    }

    #[inline(always)]
    fn coupled<L: Lane>(&self, density: Rgb<L>) -> Density<L> {
        Density(match &self.interimage {
            Some(step) => step.apply(density),
            None => density,
        })
    }

    /// All that exposing depends on.
    pub(in crate::path) const fn exposing(&self) -> (&Layers, Option<Flash>) {
        (&self.layers, self.flash)
    }

    /// All that developing depends on.
    pub(in crate::path) const fn developing(&self) -> (Characteristic, Option<Interimage>) {
        (self.characteristic, self.interimage)
    }

    /// What a scan has to know of the film.
    pub const fn record(&self) -> &Record {
        &self.record
    }
}

#[cfg(test)]
mod tests;
