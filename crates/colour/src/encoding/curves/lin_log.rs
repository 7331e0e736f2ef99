//! A straight line near black and a logarithm above it: the form of most camera curves.

use super::{LogLine, TransferCurve};
use crate::lane::Lane;

/// `slope * lin + offset` below `lin_cut`, the logarithm from there on; back below `code_cut`.
#[derive(Clone, Copy)]
pub(in super::super) struct LinLog {
    log: LogLine,
    slope: f32,
    per_slope: f32,
    offset: f32,
    lin_cut: f32,
    code_cut: f32,
}

impl LinLog {
    /// From the logarithm, the line's slope and offset, and the break in light and in code.
    pub(super) const fn new(log: LogLine, line: [f64; 2], lin_cut: f64, code_cut: f64) -> Self {
        Self {
            log,
            slope: line[0] as f32,
            per_slope: (1.0 / line[0]) as f32,
            offset: line[1] as f32,
            lin_cut: lin_cut as f32,
            code_cut: code_cut as f32,
        }
    }
}

impl TransferCurve for LinLog {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        let line = (code - self.offset) * self.per_slope;
        code.below(self.code_cut, line, self.log.decode(code))
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        let line = lin * self.slope + self.offset;
        lin.below(self.lin_cut, line, self.log.encode(lin))
    }
}
