//! Softness: light spreads a little inside the emulsion, before development.
//!
//! Each layer's spread is `exp(-r / a)` in two dimensions, whose modulation transfer is
//! `(1 + (2 pi a f)^2)^(-3/2)`; so for half contrast at the frequency `f50`,
//! `a = sqrt(2^(2/3) - 1) / (2 pi f50)`. Light spreads farther the deeper a layer lies, so the red
//! layer is the softest. Typical `f50` of colour negative: 35 to 60 cycles per mm in the green
//! layer, less in the red, more in the blue (from memory, unverified).

use super::StockData;
use crate::look::{Negative, effective_amount};
use crate::path::negative::gauge::FilmScale;
use crate::path::negative::halation::finite_exposure;
use crate::path::plan::{InMotion, OnFilm, Reach, Spreading};
use crate::spatial::gaussian::{Fineness, exponential};
use crate::spatial::step::{SpreadStep, spread_whole};
use crate::spatial::{Gaussian, Planes, Spread, Window};

/// Softness, ready for use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoftnessParams {
    /// Frequency at half contrast per layer, red, green, blue, in cycles per mm.
    pub mtf50_per_mm: [f64; 3],
    /// Times the spread that follows from it; 0 changes nothing.
    pub spread: f64,
}

/// The scale `a` in micrometres of an emulsion with half contrast at `mtf50_per_mm`.
#[must_use]
pub fn scale_um(mtf50_per_mm: f64) -> f64 {
    let half = (libm::cbrt(4.0) - 1.0).sqrt();
    1000.0 * half / (2.0 * core::f64::consts::PI * mtf50_per_mm)
}

/// Contrast that is left at a frequency, both in cycles per mm, by an emulsion with half contrast at
/// `mtf50_per_mm`: `(1 + (2 pi a f)^2)^(-3/2)`.
#[must_use]
pub fn spread_transfer(mtf50_per_mm: f64, per_mm: f64) -> f64 {
    let turn = 2.0 * core::f64::consts::PI * scale_um(mtf50_per_mm) * per_mm / 1000.0;
    let falls = 1.0 + turn * turn;
    1.0 / (falls * falls.sqrt())
}

/// Softens layer exposure in place. `exposure` is the whole picture. Always finite and not negative.
pub fn soften(exposure: &mut Planes, scale: &FilmScale, params: &SoftnessParams) {
    let step = Softening::new(exposure.width, exposure.height, scale, params);
    spread_whole(&step, exposure);
}

/// Softness of pictures of one size.
#[derive(Clone, Debug)]
pub struct Softening {
    kernels: [Option<Spread>; 3],
}

impl Softening {
    /// For a picture of `width` by `height` pixels.
    #[must_use]
    pub fn new(width: usize, height: usize, scale: &FilmScale, params: &SoftnessParams) -> Self {
        let kernel = |reach_px: f64| {
            let gaussians: Vec<Gaussian> = exponential(reach_px, Fineness::Octaves);
            Spread::new(width, height, &gaussians, None)
        };
        Self {
            kernels: [0, 1, 2].map(|layer| {
                let reach_px = reach(scale, params, layer);
                (reach_px >= SMALLEST_REACH_PX).then(|| kernel(reach_px))
            }),
        }
    }
}

impl SpreadStep for Softening {
    fn kernel(&self, layer: usize) -> Option<&Spread> {
        self.kernels[layer].as_ref()
    }

    fn source(&self, layer: &[f32], light: &mut [f32]) {
        for (to, from) in light.iter_mut().zip(layer) {
            *to = finite_exposure(*from);
        }
    }

    fn join(&self, row: [&mut [f32]; 3], spread: [&[f32]; 3]) {
        for ((row, spread), kernel) in row.into_iter().zip(spread).zip(&self.kernels) {
            if kernel.is_some() {
                row.copy_from_slice(spread);
            }
        }
    }
}

/// The look's softness, if it acts. Half the amount is half the spread.
pub fn node(negative: &Negative) -> Option<OnFilm<SoftnessParams>> {
    let (step, stock) = (&negative.softness, &negative.stock);
    let spread = step.spread * effective_amount(step);
    (spread > 0.0).then(|| OnFilm {
        gauge: stock.gauge,
        params: SoftnessParams {
            mtf50_per_mm: StockData::of(stock).mtf50_per_mm,
            spread,
        },
    })
}

impl Spreading for OnFilm<SoftnessParams> {
    fn reach(&self) -> Reach {
        let widest = (0..3).map(|layer| reach_um(&self.params, layer));
        Reach::Um(6.6 * widest.fold(0.0, f64::max))
    }

    fn step(&self, size: (usize, usize), window: &Window) -> Option<Box<dyn SpreadStep>> {
        let step = Softening::new(size.0, size.1, &self.scale(window), &self.params);
        let shows = step.kernels.iter().any(Option::is_some);
        shows.then(|| Box::new(step) as Box<dyn SpreadStep>)
    }

    fn in_motion(&self, window: &Window) -> InMotion {
        // `exp(-r / a)` has a variance of `3 a^2` along each axis.
        InMotion::Gaussian([0, 1, 2].map(|layer| {
            let reach_px = reach(&self.scale(window), &self.params, layer);
            3.0 * reach_px * reach_px
        }))
    }
}

/// Spread below this does not show: a pixel keeps all but 1 % of its light.
const SMALLEST_REACH_PX: f64 = 0.04;

fn reach(scale: &FilmScale, params: &SoftnessParams, layer: usize) -> f64 {
    scale.px(reach_um(params, layer))
}

fn reach_um(params: &SoftnessParams, layer: usize) -> f64 {
    scale_um(params.mtf50_per_mm[layer].max(0.1)) * params.spread.max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    const PARAMS: SoftnessParams = SoftnessParams {
        mtf50_per_mm: [40.0, 50.0, 60.0],
        spread: 1.0,
    };

    fn film(um_per_pixel: f64) -> FilmScale {
        FilmScale {
            um_per_pixel,
            first_pixel: (0, 0),
        }
    }

    /// Contrast that a grating of `per_mm` cycles keeps in each layer.
    fn contrast(um_per_pixel: f64, per_mm: f64) -> [f64; 3] {
        let width = 400;
        let turn = |x: usize| {
            2.0 * core::f64::consts::PI * per_mm * (x as f64 + 0.5) * um_per_pixel / 1000.0
        };
        let mut planes = Planes::filled(width, 3, 0.0);
        for plane in &mut planes.planes {
            for (i, v) in plane.iter_mut().enumerate() {
                *v = (0.5 + 0.4 * libm::sin(turn(i % width))) as f32;
            }
        }
        soften(&mut planes, &film(um_per_pixel), &PARAMS);
        [0, 1, 2].map(|layer| {
            let row = planes.row(layer, 1);
            let sum = |f: fn(f64) -> f64| -> f64 {
                (100..300)
                    .map(|x| f64::from(row[x] - 0.5) * f(turn(x)))
                    .sum()
            };
            let (s, c) = (sum(libm::sin), sum(libm::cos));
            (s * s + c * c).sqrt() / 100.0 / 0.4
        })
    }

    #[test]
    fn contrast_is_half_at_the_stated_frequency() {
        // Whole cycles in 200 pixels, at three scan resolutions.
        for (layer, per_mm) in [(0, 40.0), (1, 50.0), (2, 60.0)] {
            for um_per_pixel in [0.5, 1.0, 2.5] {
                let found = contrast(um_per_pixel, per_mm)[layer];
                assert!(
                    (found - 0.5).abs() < 0.02,
                    "{per_mm} {um_per_pixel}: {found}"
                );
            }
        }
    }

    #[test]
    fn the_scale_is_that_of_the_exponential_of_equal_half_contrast() {
        // For 40 cycles per mm: 3.049492 um.
        assert!((scale_um(40.0) - 3.049_492).abs() < 1e-6);
    }

    #[test]
    fn the_red_layer_is_the_softest_and_light_is_kept() {
        let mut planes = Planes::filled(64, 64, 0.0);
        for c in 0..3 {
            planes.row_mut(c, 32)[32] = 1.0;
        }
        soften(&mut planes, &film(3.0), &PARAMS);
        let peak = |c: usize| planes.row(c, 32)[32];
        assert!(peak(0) < peak(1) && peak(1) < peak(2));
        for plane in &planes.planes {
            assert!((plane.iter().sum::<f32>() - 1.0).abs() < 1e-4);
        }
    }

    #[test]
    fn no_spread_is_the_identity_and_odd_input_stays_finite() {
        let mut planes = Planes::filled(3, 2, 0.3);
        planes.planes[0][1] = 7.0;
        let before = planes.clone();
        soften(
            &mut planes,
            &film(6.0),
            &SoftnessParams {
                spread: 0.0,
                ..PARAMS
            },
        );
        assert_eq!(planes, before);
        planes.planes[1][0] = f32::NAN;
        planes.planes[2][0] = f32::INFINITY;
        soften(&mut planes, &film(1e-6), &PARAMS);
        soften(&mut planes, &film(6.0), &PARAMS);
        assert!(planes.planes.iter().flatten().all(|v| v.is_finite()));
    }
}
