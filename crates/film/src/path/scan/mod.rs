//! Scan: density to flat log code, and what a colourist does on it.

mod bearings;
pub mod code;
mod contrast;
mod curves;
mod dye_density;
mod entry;
mod hue;
mod layer_codes;
mod monotone_curve;
mod points;
mod saturation;
mod skin_guard;
mod split_tone;
mod straight;
mod tones;

pub use bearings::Bearings;
pub use contrast::Contrast;
pub use curves::Curves;
pub use dye_density::DyeDensity;
pub use entry::Entry;
pub use layer_codes::LayerCodes;
pub use lookwright_colour::luma::{LUMA, luma};
pub use monotone_curve::MonotoneCurve;
pub use points::{POINT_LOG_E, Points};
pub use saturation::Saturation;
pub use skin_guard::{SkinGuard, skin};
pub use split_tone::SplitTone;
pub use straight::Straight;
pub use tones::Tones;

use crate::look::{self, effective_amount};
use crate::path::negative::Record;
use crate::path::{Density, ScanCode};
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// The scan, prepared for pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct ScanPoint {
    timing: [f32; 3],
    points: Option<Points>,
    contrast: Option<Contrast>,
    /// What the contrast is given, where its finish needs nothing but the layers.
    layers: Option<LayerCodes>,
    curves: Option<Curves>,
    tones: Option<Tones>,
    split_tone: Option<SplitTone>,
    bearings: Option<Bearings>,
    dye_density: Option<DyeDensity>,
    saturation: Option<Saturation>,
    skin_guard: Option<SkinGuard>,
}

impl ScanPoint {
    /// From the look's scan stage, for a film.
    pub fn new(settings: &look::Scan, film: &Record) -> Self {
        let points = Points::new(&settings.points, effective_amount(&settings.points));
        let codes =
            [film.base, film.grey].map(|density| lit(density.0, film.timing, points.as_ref()));
        let amount = effective_amount(&settings.contrast);
        let contrast = Contrast::on(&settings.contrast, amount, film, codes);
        let straight = contrast.as_ref().and_then(Contrast::straight);
        Self {
            timing: film.timing,
            layers: straight
                .filter(Straight::is_all)
                .map(|straight| LayerCodes::new(film.timing, points.as_ref(), Some(&straight))),
            points,
            contrast,
            curves: Curves::new(&settings.curves, effective_amount(&settings.curves)),
            tones: Tones::new(&settings.tones, effective_amount(&settings.tones)),
            split_tone: SplitTone::new(
                &settings.split_tone,
                effective_amount(&settings.split_tone),
            ),
            bearings: Bearings::new(&settings.bearings, effective_amount(&settings.bearings)),
            dye_density: DyeDensity::new(
                &settings.dye_density,
                effective_amount(&settings.dye_density),
            ),
            saturation: Saturation::new(
                &settings.saturation,
                effective_amount(&settings.saturation),
            ),
            skin_guard: SkinGuard::new(
                &settings.skin_guard,
                effective_amount(&settings.skin_guard),
            ),
        }
    }

    /// Density above base to the finished scan's code of 1.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, density: Density<L>) -> ScanCode<L> {
        match (&self.layers, &self.contrast) {
            (Some(layers), Some(contrast)) => {
                self.coloured(contrast.of_layers(layers.apply(density.0)))
            }
            _ => self.grade(ScanCode(code::to_code(density.0, self.timing))),
        }
    }

    /// Density above base to the codes that the contrast works on.
    pub(in crate::path) fn layer_codes(&self) -> LayerCodes {
        let straight = self.straight();
        LayerCodes::new(self.timing, self.points.as_ref(), straight.as_ref())
    }

    /// How the contrast treats colour, if there is one.
    pub(in crate::path) fn straight(&self) -> Option<Straight> {
        self.contrast.as_ref().and_then(Contrast::straight)
    }

    /// The flat scan's code of 1 to the finished scan's.
    ///
    /// The balance comes first, in log code, where it is a balance of light. Contrast and curves
    /// shape each channel. What mixes channels comes last, on the shaped code, so that its
    /// strength does not depend on the contrast before it; density before saturation, so that
    /// saturation can take back purity and leave the density.
    #[inline(always)]
    pub fn grade<L: Lane>(&self, ScanCode(flat): ScanCode<L>) -> ScanCode<L> {
        let mut code = flat;
        if let Some(step) = &self.points {
            code = step.apply(code);
        }
        if let Some(step) = &self.contrast {
            code = step.apply(code);
        }
        self.coloured(code)
    }

    /// All that comes behind the contrast.
    #[inline(always)]
    fn coloured<L: Lane>(&self, shaped: Rgb<L>) -> ScanCode<L> {
        let mut code = shaped;
        if let Some(step) = &self.curves {
            code = step.apply(code);
        }
        if let Some(step) = &self.tones {
            code = step.apply(code);
        }
        let toned = code;
        if let Some(step) = &self.split_tone {
            code = step.apply(code);
        }
        if let Some(step) = &self.bearings {
            code = step.apply(code);
        }
        if let Some(step) = &self.dye_density {
            code = step.apply(code);
        }
        if let Some(step) = &self.saturation {
            code = step.apply(code);
        }
        if let Some(step) = &self.skin_guard {
            code = step.apply(toned, code);
        }
        ScanCode(code)
    }
}

/// Density above base to code of 1 under the printer's lights.
#[inline(always)]
fn lit<L: Lane>(density: Rgb<L>, timing: [f32; 3], points: Option<&Points>) -> Rgb<L> {
    let code = code::to_code(density, timing);
    match points {
        Some(step) => step.apply(code),
        None => code,
    }
}
