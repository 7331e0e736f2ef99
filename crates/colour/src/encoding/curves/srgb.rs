//! The sRGB curve, also that of Display P3.
//!
//! `1.055 L^(1/2.4) - 0.055` above 0.0031308, `12.92 L` up to it and below zero; back from code
//! 0.04045. Source: IEC 61966-2-1:1999.

use super::TransferCurve;
use crate::lane::Lane;

#[derive(Clone, Copy)]
pub(in super::super) struct Srgb;

impl TransferCurve for Srgb {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        let line = code * (1.0 / 12.92_f64) as f32;
        let power = ((code + 0.055) * (1.0 / 1.055_f64) as f32).pow(2.4);
        L::select(code.le(code.of(0.040_45)), line, power)
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        let power = lin.pow((1.0 / 2.4_f64) as f32) * 1.055 - 0.055;
        L::select(lin.le(lin.of(0.003_130_8)), lin * 12.92, power)
    }
}
