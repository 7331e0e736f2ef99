//! Apple Log.
//!
//! `0.08550479 log2(x + 0.00964052) + 0.69336945` from 0.01 on, the parabola
//! `47.28711236 (x + 0.05641088)^2` down to -0.05641088, and 0 below. Source: Apple, Apple Log
//! Profile white paper, 2023.

use super::{LogLine, TransferCurve};
use crate::lane::Lane;

const LOG: LogLine = LogLine::base_2(1.0, 0.00964052, 0.08550479, 0.69336945);
const PARABOLA: f64 = 47.28711236;
/// Where the parabola ends, as a positive number.
const SHIFT: f64 = 0.05641088;
const LIN_CUT: f64 = 0.01;
const CODE_CUT: f64 = PARABOLA * (LIN_CUT + SHIFT) * (LIN_CUT + SHIFT);

#[derive(Clone, Copy)]
pub(in super::super) struct AppleLog;

impl TransferCurve for AppleLog {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        let root = (code.max(code.of(0.0)) * (1.0 / PARABOLA) as f32).sqrt();
        code.below(CODE_CUT as f32, root - SHIFT as f32, LOG.decode(code))
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        let above_end = (lin + SHIFT as f32).max(lin.of(0.0));
        let parabola = above_end * above_end * PARABOLA as f32;
        lin.below(LIN_CUT as f32, parabola, LOG.encode(lin))
    }
}
