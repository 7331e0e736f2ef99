//! Log3G10, version 3.
//!
//! With `t = x + 0.01`: `0.224282 log10(155.975327 t + 1)` for `t >= 0`, `15.1927 t` below.
//! Source: RED, white paper on REDWideGamutRGB and Log3G10, 2017.

use super::{LinLog, LogLine};

const GAIN: f64 = 155.975327;
const SLOPE: f64 = 15.1927;
const SHIFT: f64 = 0.01;

pub(in super::super) const CURVE: LinLog = LinLog::new(
    LogLine::base_10(GAIN, GAIN * SHIFT + 1.0, 0.224282, 0.0),
    [SLOPE, SLOPE * SHIFT],
    -SHIFT,
    0.0,
);
