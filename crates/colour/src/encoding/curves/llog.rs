//! L-Log.
//!
//! `0.27 log10(1.3 x + 0.0115) + 0.6` above 0.006, `8 x + 0.09` up to there; back from code 0.138.
//! At the break the printed constants let the code fall by 0.92 of a 10-bit code. Source: Leica,
//! L-Log Reference Manual, 2022.

use super::{LinLog, LogLine};

pub(in super::super) const CURVE: LinLog = LinLog::new(
    LogLine::base_10(1.3, 0.0115, 0.27, 0.6),
    [8.0, 0.09],
    0.006,
    0.138,
);
