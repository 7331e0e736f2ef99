//! Hybrid log-gamma as scene light.
//!
//! With the scene's light `E` as 0 ... 1: `sqrt(3 E)` up to 1/12, `a ln(12 E - b) + c` above. Below
//! black the root is mirrored. Light 1.0 is a white reflector, whose code is 0.75; then an 18 %
//! card has code 0.38. Sources: ITU-R BT.2100-2, table 5; ITU-R BT.2408-7, table 1.

use super::{LogLine, TransferCurve};
use crate::lane::Lane;

const A: f64 = 0.178_832_77;
const B: f64 = 0.284_668_92;
const C: f64 = 0.559_910_73;
/// The scene's light at code 0.75; a test repeats its formula.
pub(in super::super) const WHITE: f64 = 0.2649625597864002;
const LOG: LogLine = LogLine::base_e(12.0 * WHITE, -B, A, C);
const LIN_CUT: f64 = 1.0 / 12.0 / WHITE;
const CODE_CUT: f32 = 0.5;

#[derive(Clone, Copy)]
pub(in super::super) struct Hlg;

impl TransferCurve for Hlg {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        // Straight below -0.5, so that no square leaves single precision; encoding keeps the root.
        let square = code * code.abs().min(code.of(CODE_CUT)) * (1.0 / 3.0 / WHITE) as f32;
        code.below(CODE_CUT, square, LOG.decode(code))
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        let root = (lin.abs() * (3.0 * WHITE) as f32).sqrt();
        let low = lin.below(0.0, -root, root);
        lin.below(LIN_CUT as f32, low, LOG.encode(lin))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn white_light_follows_from_its_formula() {
        let white = (libm::exp((0.75 - C) / A) + B) / 12.0;
        assert!((WHITE - white).abs() < 1e-15, "{white:.17}");
    }
}
