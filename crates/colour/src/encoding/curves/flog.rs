//! F-Log.
//!
//! `0.344676 log10(0.555556 x + 0.009468) + 0.790453` from 0.00089 on, `8.735631 x + 0.092864`
//! below; at the
//! break the code falls by 0.1 of a 10-bit code. Source: Fujifilm, F-Log Data Sheet, version 1.1, 2022.

use super::{LinLog, LogLine};

pub(in super::super) const CURVE: LinLog = LinLog::new(
    LogLine::base_10(0.555556, 0.009468, 0.344676, 0.790453),
    [8.735631, 0.092864],
    0.00089,
    0.100_537_775_223_865,
);
