//! S-Log3.
//!
//! `(420 + 261.5 log10((x + 0.01) / 0.19)) / 1023` from 0.01125 on, a line from code 95 below.
//! The slope has a real kink at the break (6.62 below, 5.22 above). Source: Sony, Technical
//! Summary for S-Gamut3.Cine/S-Log3 and S-Gamut3/S-Log3, version 1.0, 2013.

use super::{FULL_10_BIT, LinLog, LogLine};

const CUT: f64 = 0.01125;
const CODE_AT_CUT: f64 = 171.210_294_692_9;

pub(in super::super) const CURVE: LinLog = LinLog::new(
    LogLine::base_10(
        1.0 / 0.19,
        0.01 / 0.19,
        261.5 / FULL_10_BIT,
        420.0 / FULL_10_BIT,
    ),
    [(CODE_AT_CUT - 95.0) / CUT / FULL_10_BIT, 95.0 / FULL_10_BIT],
    CUT,
    CODE_AT_CUT / FULL_10_BIT,
);
