//! S-Log2.
//!
//! `0.432699 log10(s + 0.037584) + 0.646596` with `s = 155/219 x / 0.9`, a line of slope 5 below
//! black, in parts of the narrow range (64 ... 940). Source: Sony, S-Log2 and S-Gamut, 2012.

use super::{FULL_10_BIT, LinLog, LogLine};

/// Narrow range in parts of full scale.
const SPAN: f64 = 876.0 / FULL_10_BIT;
const FLOOR: f64 = 64.0 / FULL_10_BIT;
/// What reflectance is multiplied by.
const GAIN: f64 = 155.0 / 219.0 / 0.9;
const BLACK: f64 = 0.030_001_222_851_889_303 * SPAN + FLOOR;

pub(in super::super) const CURVE: LinLog = LinLog::new(
    LogLine::base_10(
        GAIN,
        0.037584,
        0.432699 * SPAN,
        (0.616596 + 0.03) * SPAN + FLOOR,
    ),
    [5.0 * GAIN * SPAN, BLACK],
    0.0,
    BLACK,
);
