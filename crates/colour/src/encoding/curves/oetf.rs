//! The camera curves of television: scene light to signal.
//!
//! `alpha L^0.45 - (alpha - 1)` from `beta` on, `4.5 L` below; back from code `4.5 beta`.
//! ITU-R BT.709-6 prints alpha 1.099 and beta 0.018, which leaves a step of 0.25 of a 10-bit
//! code; ITU-R BT.2020-2 gives the values that remove it.

use super::TransferCurve;
use crate::lane::Lane;

#[derive(Clone, Copy)]
pub(in super::super) struct Oetf {
    alpha: f64,
    beta: f64,
}

/// Slope near black.
const LINE: f64 = 4.5;
const EXPONENT: f64 = 0.45;

impl Oetf {
    /// With the rounded constants of BT.709.
    pub(in super::super) const BT709: Self = Self {
        alpha: 1.099,
        beta: 0.018,
    };
    /// With the exact constants of BT.2020.
    pub(in super::super) const BT2020: Self = Self {
        alpha: 1.099_296_826_809_44,
        beta: 0.018_053_968_510_807,
    };
}

impl TransferCurve for Oetf {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        let line = code * (1.0 / LINE) as f32;
        let base = (code + (self.alpha - 1.0) as f32) * (1.0 / self.alpha) as f32;
        let power = base.pow((1.0 / EXPONENT) as f32);
        code.below((LINE * self.beta) as f32, line, power)
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        let power = lin.pow(EXPONENT as f32) * self.alpha as f32 - (self.alpha - 1.0) as f32;
        lin.below(self.beta as f32, lin * LINE as f32, power)
    }
}
