//! LogC3 at exposure index 800, in terms of scene reflectance.
//!
//! `c log10(a x + b) + d` above the cut, `e x + f` below. Source: ARRI, Log C Curve - Usage in
//! VFX, 2012 (SUP 3.x, linear scene exposure factor).

use super::{LinLog, LogLine};

const CUT: f64 = 0.010591;
const E: f64 = 5.367655;
const F: f64 = 0.092809;

pub(in super::super) const CURVE: LinLog = LinLog::new(
    LogLine::base_10(5.555556, 0.052272, 0.247190, 0.385537),
    [E, F],
    CUT,
    E * CUT + F,
);
