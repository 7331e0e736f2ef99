//! ACEScc: a logarithm all the way down.
//!
//! `(log2(x) + 9.72) / 17.52` from `2^-15` on; `(log2(2^-16 + x / 2) + 9.72) / 17.52` from 0 to
//! there; everything at and below 0 has the code of 0, -0.3584, so negative light is lost.
//! Source: Academy S-2014-003. As in ACEScct, codes beyond that of 65,504 are not cut off.

use super::{LogLine, TransferCurve};
use crate::lane::Lane;

const SLOPE: f64 = 1.0 / 17.52;
const OFFSET: f64 = 9.72 / 17.52;
/// `2^-16`.
const FLOOR: f64 = 1.0 / 65_536.0;
/// `2^-15`, where the two parts meet.
const LIN_CUT: f32 = 1.0 / 32_768.0;
/// `(9.72 - 15) / 17.52`.
const CODE_CUT: f32 = ((9.72 - 15.0) / 17.52) as f32;

const PURE: LogLine = LogLine::base_2(1.0, 0.0, SLOPE, OFFSET);
const NEAR_BLACK: LogLine = LogLine::base_2(0.5, FLOOR, SLOPE, OFFSET);

#[derive(Clone, Copy)]
pub(in super::super) struct AcesCc;

impl TransferCurve for AcesCc {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        let near_black = NEAR_BLACK.decode(code).max(code.of(0.0));
        code.below(CODE_CUT, near_black, PURE.decode(code))
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        let lin = lin.max(lin.of(0.0));
        lin.below(LIN_CUT, NEAR_BLACK.encode(lin), PURE.encode(lin))
    }
}
