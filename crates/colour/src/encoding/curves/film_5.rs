//! Blackmagic Film Generation 5.
//!
//! `A ln(x + B) + C` from 0.005 on, `D x + E` below. Source: Blackmagic Design, Generation 5 Color
//! Science, 2021.

use super::{LinLog, LogLine};

const SLOPE: f64 = 8.283_605_932_402_494;
const OFFSET: f64 = 0.092_465_753_424_657_53;
const CUT: f64 = 0.005;

pub(in super::super) const CURVE: LinLog = LinLog::new(
    LogLine::base_e(
        1.0,
        0.005_494_072_432_257_808,
        0.086_928_760_654_912_24,
        0.530_013_339_229_193_9,
    ),
    [SLOPE, OFFSET],
    CUT,
    SLOPE * CUT + OFFSET,
);
