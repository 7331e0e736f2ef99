//! Printing on positive film: printing density to dyes to the light that they let through.
//!
//! ```text
//! d_i = 0.002 * 1023 * sum_j N_ij (c_j - 445/1023) - 0.025 points     what each layer is printed through
//! D_i = curve(u0 - gamma d_i)                                         neutral density that its dye makes
//! light = what dyes D_r, D_g, D_b (and silver) let through of D55, relative to the clear base
//! ```
//!
//! `c` is the scan's code of printing density, the same for all three on a grey. `N`, rows summing
//! to 1, stands for the positive's own couplers: *chosen*, fitted so that the 24-patch chart's hues
//! come through the three starting points' negatives and every class of print (OKLab;
//! `tests/reference/film/couplers.py`).
//! `u0` is set so that code 445 prints to visual density 1.00 above the base, the aim of laboratory
//! density control (Pytlak and Fleischer, SMPTE J., October 1976; Kodak H-61), one point being
//! 0.025 log10 exposure. Slopes of 2.6 to 3.8: common practice, no source.
//!
//! In film whose bleach was skipped, silver stays beside the dyes: grey density in proportion to
//! the mean of the three, `SILVER` of it at most (*chosen*).

mod curve;
mod dyes;
#[cfg(test)]
mod spectral;

use crate::look::{self, PositiveClass};
use crate::path::scan::POINT_LOG_E;
use crate::path::scan::code::{CODE_MAX, DENSITY_PER_CODE};
use crate::path::{DisplayLin, ScanCode};
use curve::Curve;
use dyes::Dyes;
use lookwright_colour::lane::Lane;
use lookwright_colour::{Mat3, PixelMatrix};

/// The laboratory aim's code: printing density 0.890 (Kodak H-387).
pub const AIM_CODE: f64 = 445.0;
/// Visual density, above the base, to which it prints.
pub const AIM_DENSITY: f64 = 1.0;
/// Code of the negative's base, which prints to black.
const BASE_CODE: f64 = 95.0;
/// The positive's couplers.
const COUPLERS: Mat3 = Mat3([
    [0.867, -0.228, 0.361],
    [-0.252, 1.133, 0.119],
    [0.154, -0.156, 1.002],
]);
/// Density of the silver that stays, as a share of the dyes' mean.
const SILVER: f64 = 0.4;
/// How much an amount of 2 adds to gamma and greatest density.
const EXAGGERATION: f64 = 0.3;

/// What sets one class of positive apart; all *chosen*.
struct Class {
    /// Times the gamma that is set.
    gamma: f64,
    /// Width of the toe's and the shoulder's bends, in density.
    toe: f64,
    shoulder: f64,
    /// How much farther apart the layers' densities are driven about their mean.
    apart: f64,
}

const fn class_of(class: PositiveClass) -> Class {
    match class {
        PositiveClass::Soft => Class {
            gamma: 0.93,
            toe: 0.62,
            shoulder: 0.35,
            apart: -0.08,
        },
        PositiveClass::Normal => Class {
            gamma: 1.0,
            toe: 0.7,
            shoulder: 0.75,
            apart: 0.0,
        },
        PositiveClass::Rich => Class {
            gamma: 1.125,
            toe: 0.75,
            shoulder: 0.8,
            apart: 0.08,
        },
    }
}

/// The positive, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Positive {
    printed: PixelMatrix,
    offset: f32,
    curve: Curve,
    silver: f32,
    dyes: Dyes,
}

impl Positive {
    /// From the look's step at an amount of more than 0: from 1 on the positive gets harder and
    /// deeper.
    pub fn new(settings: &look::Positive, amount: f64) -> Self {
        let harder = 1.0 + EXAGGERATION * (amount - 1.0).max(0.0);
        let class = class_of(settings.class);
        let gamma = settings.gamma * class.gamma * harder;
        let silver = SILVER * settings.silver;
        let curve = Curve::new(settings.dmax * harder, class.toe, class.shoulder);
        let density_per_code = f64::from(DENSITY_PER_CODE * CODE_MAX);
        let light = settings.light * f64::from(POINT_LOG_E);
        let aim = curve.place_of(AIM_DENSITY / (1.0 + silver));
        let layers = COUPLERS
            .0
            .map(|row| row.map(|cell| cell - class.apart / 3.0));
        let mut printed = Mat3(layers);
        for i in 0..3 {
            printed.0[i][i] += class.apart;
        }
        let per_code = -gamma * density_per_code;
        let at = |code: f64| {
            let offset = aim + gamma * light - per_code * AIM_CODE / f64::from(CODE_MAX);
            curve.density(offset + per_code * code / f64::from(CODE_MAX)) * (1.0 + silver)
        };
        let darkest = if settings.black_point {
            libm::pow(10.0, -at(BASE_CODE))
        } else {
            0.0
        };
        Self {
            printed: Mat3(printed.0.map(|row| row.map(|cell| cell * per_code))).for_pixels(),
            offset: (aim + gamma * light - per_code * AIM_CODE / f64::from(CODE_MAX)) as f32,
            curve,
            silver: (silver / 3.0) as f32,
            dyes: Dyes::new(darkest),
        }
    }

    /// The scan's code of printing density to display light.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, ScanCode(code): ScanCode<L>) -> DisplayLin<L> {
        let density = self.printed.apply(code).map(
            #[inline(always)]
            |exposed| self.curve.of_pixel(exposed + self.offset),
        );
        let silver = (density.r + density.g + density.b) * self.silver;
        DisplayLin(self.dyes.light(density, silver))
    }
}

#[cfg(test)]
mod tests;
