//! The logarithmic part that nearly all log curves share.
//!
//! `code = slope * log2(gain * lin + bias) + offset`, and back
//! `lin = (2^((code - offset) / slope) - bias) / gain`.

use core::f64::consts::{LN_2, LOG10_2};

use crate::lane::Lane;

/// The constants of the logarithmic part, rounded to single precision from their printed form.
#[derive(Clone, Copy)]
pub(super) struct LogLine {
    gain: f32,
    bias: f32,
    slope: f32,
    offset: f32,
    per_gain: f32,
    per_slope: f32,
}

impl LogLine {
    /// `c * log2(a * lin + b) + d`.
    pub(super) const fn base_2(a: f64, b: f64, c: f64, d: f64) -> Self {
        Self {
            gain: a as f32,
            bias: b as f32,
            slope: c as f32,
            offset: d as f32,
            per_gain: (1.0 / a) as f32,
            per_slope: (1.0 / c) as f32,
        }
    }

    /// `c * log10(a * lin + b) + d`.
    pub(super) const fn base_10(a: f64, b: f64, c: f64, d: f64) -> Self {
        Self::base_2(a, b, c * LOG10_2, d)
    }

    /// `c * ln(a * lin + b) + d`.
    pub(super) const fn base_e(a: f64, b: f64, c: f64, d: f64) -> Self {
        Self::base_2(a, b, c * LN_2, d)
    }

    #[inline(always)]
    pub(super) fn encode<L: Lane>(self, lin: L) -> L {
        (lin * self.gain + self.bias).log2() * self.slope + self.offset
    }

    #[inline(always)]
    pub(super) fn decode<L: Lane>(self, code: L) -> L {
        (((code - self.offset) * self.per_slope).exp2() - self.bias) * self.per_gain
    }
}
