//! Canon Log, Canon Log 2 and Canon Log 3, in their forms of 2020.
//!
//! All count in `s = x / 0.9` and are mirrored about the code of black:
//! - Log: `0.45310179 log10(1 + 10.1596 |s|)`, added to or taken from 0.12512248.
//! - Log 2: `0.24136077 log10(1 + 87.09937546 |s|)`, added to or taken from 0.092864125.
//! - Log 3: `0.36726845 log10(1 + 14.98325 |s|)` added to 0.12240537 above `s = 0.014` and taken
//!   from 0.12783901 below `-0.014`; between them `1.9754798 s + 0.12512219`.
//!
//! The forms of 2016 scale to narrow range first and have other constants. Source: Canon's input
//! transforms, version of July 2020.

use super::{LogLine, TransferCurve};
use crate::lane::Lane;

/// Reflectance at `s = 1`.
const WHITE: f64 = 0.9;

/// The upper branch of Log 3 over reflectance, without its offset.
const BRANCH_3: LogLine = LogLine::base_10(14.98325 / WHITE, 1.0, 0.36726845, 0.0);
const ABOVE_3: f32 = 0.122_405_37;
const BELOW_3: f32 = 0.127_839_01;
const LINE_SLOPE_3: f64 = 1.9754798 / WHITE;
const LINE_OFFSET_3: f32 = 0.125_122_19;
const LIN_CUT_3: f32 = (0.014 * WHITE) as f32;
const CODE_CUT_LOW_3: f32 = 0.097_465_473_f64 as f32;
const CODE_CUT_HIGH_3: f32 = 0.152_778_91_f64 as f32;

/// A logarithm and its mirror image below black.
#[derive(Clone, Copy)]
pub(in super::super) struct Mirrored {
    /// The upper branch over reflectance, black at 0.
    branch: LogLine,
    black: f32,
}

impl Mirrored {
    /// Canon Log.
    pub(in super::super) const LOG: Self = Self {
        branch: LogLine::base_10(10.1596 / WHITE, 1.0, 0.45310179, 0.0),
        black: 0.125_122_48,
    };
    /// Canon Log 2.
    pub(in super::super) const LOG_2: Self = Self {
        branch: LogLine::base_10(87.09937546 / WHITE, 1.0, 0.24136077, 0.0),
        black: 0.092_864_125,
    };
}

impl TransferCurve for Mirrored {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        let above_black = code - self.black;
        let size = self.branch.decode(above_black.abs());
        above_black.below(0.0, -size, size)
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        let size = self.branch.encode(lin.abs());
        lin.below(0.0, -size, size) + self.black
    }
}

#[derive(Clone, Copy)]
pub(in super::super) struct CanonLog3;

impl TransferCurve for CanonLog3 {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        let line = (code - LINE_OFFSET_3) * (1.0 / LINE_SLOPE_3) as f32;
        let upper = BRANCH_3.decode(code - ABOVE_3);
        let lower = -BRANCH_3.decode(-code + BELOW_3);
        let not_above = L::select(code.le(code.of(CODE_CUT_HIGH_3)), line, upper);
        code.below(CODE_CUT_LOW_3, lower, not_above)
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        let line = lin * LINE_SLOPE_3 as f32 + LINE_OFFSET_3;
        let size = BRANCH_3.encode(lin.abs());
        let outside = lin.below(0.0, -size + BELOW_3, size + ABOVE_3);
        L::select(lin.abs().le(lin.of(LIN_CUT_3)), line, outside)
    }
}
