//! D-Log.
//!
//! `0.256663 log10(0.9892 x + 0.0108) + 0.584555` above 0.0078, `6.025 x + 0.0929` up to it; back
//! up to code 0.14. The way back is the exact inverse of the way there: the printed one rounds
//! the same constants and differs by about 1e-6 of the value. Source: DJI, White Paper on D-Log
//! and D-Gamut of DJI Cinema Color System, 2017.

use super::{LinLog, LogLine};

pub(in super::super) const CURVE: LinLog = LinLog::new(
    LogLine::base_10(0.9892, 0.0108, 0.256663, 0.584555),
    [6.025, 0.0929],
    0.0078,
    0.14,
);
