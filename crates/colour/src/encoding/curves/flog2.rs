//! F-Log2.
//!
//! `0.245281 log10(5.555556 x + 0.064829) + 0.384316` from 0.000889 on,
//! `8.799461 x + 0.092864` below. Source: Fujifilm, F-Log2 Data Sheet, version 1.0, 2022.

use super::{LinLog, LogLine};

pub(in super::super) const CURVE: LinLog = LinLog::new(
    LogLine::base_10(5.555556, 0.064829, 0.245281, 0.384316),
    [8.799461, 0.092864],
    0.000889,
    0.100_686_685_370_811,
);
