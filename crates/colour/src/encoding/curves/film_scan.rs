//! The 10-bit log code of film scans: what its numbers mean in density and in light.
//!
//! A code counts 0.002 of printing density. The base of the original negative sits at code 95, so
//! density above base is `0.002 (code - 95)`. With the 0.6 that is taken for the negative's gamma,
//! one code is `0.002 / 0.6 = 1/300` of log10 exposure, and with white at code 685
//! `light = 10^((code - 685) / 300)`. The *plain form* is that; the *offset form* moves code 95 to
//! exactly 0: `(plain - o) / (1 - o)`, `o = 10^((95 - 685) / 300)`.
//!
//! Here code 685 is light 1.0. Laboratories also read 685 as the 90 % card; then light is 0.9
//! of this.
//!
//! Sources: Kodak H-387 (2011) for density per code; Kodak, Grayscale Transformations of Digital
//! Film Data (1993) and Conversion of 10-bit Log Film Data (1995) for the rest.

use super::{FULL_10_BIT, LogLine, TransferCurve};
use crate::encoding::ScanDensity;
use crate::lane::Lane;

/// Printing density of one 10-bit code.
pub const DENSITY_PER_CODE: f64 = 0.002;
/// 10-bit code of the negative's base: density 0, black of the scene.
pub const BASE_CODE: f64 = 95.0;
/// 10-bit code of white: light 1.0.
pub const WHITE_CODE: f64 = 685.0;
/// Gamma of the negative that is built into the reading of codes as light.
pub const NEGATIVE_GAMMA: f64 = 0.6;
/// Largest 10-bit code.
pub const FULL_SCALE: f64 = FULL_10_BIT;

/// The same as a film scan's encoding. Mid-grey follows from white at code 685 being the 90 % card.
pub(in super::super) const DENSITY: ScanDensity = ScanDensity {
    full_scale: DENSITY_PER_CODE * FULL_SCALE,
    base: DENSITY_PER_CODE * BASE_CODE,
    gamma: NEGATIVE_GAMMA,
    grey: 0.760_618,
};

/// Density above base to code (fraction of full scale).
#[inline(always)]
pub fn code_from_density<L: Lane>(density: L) -> L {
    density * (1.0 / (DENSITY_PER_CODE * FULL_SCALE)) as f32 + (BASE_CODE / FULL_SCALE) as f32
}

/// Code (fraction of full scale) to density above base.
#[inline(always)]
pub fn density_from_code<L: Lane>(code: L) -> L {
    (code - (BASE_CODE / FULL_SCALE) as f32) * (DENSITY_PER_CODE * FULL_SCALE) as f32
}

/// Codes (fraction of full scale) per unit of log10 exposure.
const CODE_PER_LOG10: f64 = NEGATIVE_GAMMA / DENSITY_PER_CODE / FULL_SCALE;
/// `10^((95 - 685) / 300)`; a test repeats that.
const BLACK_LIGHT: f64 = 0.010_797_751_623_277_1;

pub(in super::super) const PLAIN_FORM: FilmScan = FilmScan(LogLine::base_10(
    1.0,
    0.0,
    CODE_PER_LOG10,
    WHITE_CODE / FULL_SCALE,
));
pub(in super::super) const OFFSET_FORM: FilmScan = FilmScan(LogLine::base_10(
    1.0 - BLACK_LIGHT,
    BLACK_LIGHT,
    CODE_PER_LOG10,
    WHITE_CODE / FULL_SCALE,
));

/// One of the two forms. Light too dark for a code above 0 has code 0.
#[derive(Clone, Copy)]
pub(in super::super) struct FilmScan(LogLine);

impl TransferCurve for FilmScan {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        self.0.decode(code)
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        self.0.encode(lin).max(lin.of(0.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn black_light_follows_from_its_formula() {
        let o = libm::pow(10.0, (BASE_CODE - WHITE_CODE) / 300.0);
        assert!((BLACK_LIGHT - o).abs() < 1e-16, "{o:.18}");
    }
}
