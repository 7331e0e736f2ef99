//! A plain power: what a screen makes of its signal.
//!
//! ITU-R BT.1886 (2011): `L = a max(V + b, 0)^2.4`; with black at 0 and white at 1, `a = 1` and
//! `b = 0`. SMPTE RP 431-2 and ST 428-1, theatres: `L = V^2.6`. Nothing is below black: negative numbers give 0, both ways.

use super::TransferCurve;
use crate::lane::Lane;

#[derive(Clone, Copy)]
pub(in super::super) struct Power {
    exponent: f64,
}

impl Power {
    /// BT.1886 with black at 0.
    pub(in super::super) const BT1886: Self = Self { exponent: 2.4 };
    /// A theatre's projector.
    pub(in super::super) const THEATRE: Self = Self { exponent: 2.6 };
}

impl TransferCurve for Power {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        code.pow(self.exponent as f32)
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        lin.pow((1.0 / self.exponent) as f32)
    }
}
