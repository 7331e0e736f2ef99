//! N-Log.
//!
//! In 10-bit codes: `650 (x + 0.0075)^(1/3)` below 0.328, `150 ln(x) + 619` from there on; back
//! below code 452. The two parts miss each other by 0.13 of a 10-bit code. Below -0.0075 the
//! root is not real: code 0 is as dark as it gets. Source: Nikon, N-Log Specification, version
//! 1.0.0, 2018.

use super::{FULL_10_BIT, LogLine, TransferCurve};
use crate::lane::Lane;

const LOG: LogLine = LogLine::base_e(1.0, 0.0, 150.0 / FULL_10_BIT, 619.0 / FULL_10_BIT);
const ROOT_GAIN: f64 = 650.0 / FULL_10_BIT;
const SHIFT: f32 = 0.0075;
const LIN_CUT: f32 = 0.328;
const CODE_CUT: f32 = (452.0 / FULL_10_BIT) as f32;

#[derive(Clone, Copy)]
pub(in super::super) struct NLog;

impl TransferCurve for NLog {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        let root = code.max(code.of(0.0)) * (1.0 / ROOT_GAIN) as f32;
        code.below(CODE_CUT, root * root * root - SHIFT, LOG.decode(code))
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        let root = (lin + SHIFT).pow(1.0 / 3.0) * ROOT_GAIN as f32;
        lin.below(LIN_CUT, root, LOG.encode(lin))
    }
}
