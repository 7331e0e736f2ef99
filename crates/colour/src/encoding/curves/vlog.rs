//! V-Log.
//!
//! `0.241514 log10(x + 0.00873) + 0.598206` from 0.01 on, `5.6 x + 0.125` below. Source:
//! Panasonic, V-Log/V-Gamut Reference Manual, revision 1.0, 2014.

use super::{LinLog, LogLine};

pub(in super::super) const CURVE: LinLog = LinLog::new(
    LogLine::base_10(1.0, 0.00873, 0.241514, 0.598206),
    [5.6, 0.125],
    0.01,
    0.181,
);
