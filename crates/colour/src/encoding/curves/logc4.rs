//! LogC4.
//!
//! `(log2(a x + 64) - 6) / 14 b + c` from `t` on, the tangent `(x - t) / s` below, with
//! `a = (2^18 - 16) / 117.45`, `b = (1023 - 95) / 1023`, `c = 95 / 1023`,
//! `s = 7 ln 2 2^(7 - 14 c / b) / (a b)` and `t = (2^(14 (-c / b) + 6) - 64) / a`.
//! Source: Cooper and Brendel, ARRI LogC4 Logarithmic Color Space Specification, 2022.

use super::{FULL_10_BIT, LinLog, LogLine};

const A: f64 = (262_144.0 - 16.0) / 117.45;
const B: f64 = (FULL_10_BIT - 95.0) / FULL_10_BIT;
const C: f64 = 95.0 / FULL_10_BIT;
// The two that need an exponential, evaluated from the formulas above; a test repeats that.
const S: f64 = 0.113_597_208_610_589_1;
const T: f64 = -0.018_056_996_119_911_31;

pub(in super::super) const CURVE: LinLog = LinLog::new(
    LogLine::base_2(A, 64.0, B / 14.0, C - 6.0 * B / 14.0),
    [1.0 / S, -T / S],
    T,
    0.0,
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_evaluated_constants_follow_from_their_formulas() {
        let s = 7.0 * core::f64::consts::LN_2 * libm::exp2(7.0 - 14.0 * C / B) / (A * B);
        let t = (libm::exp2(14.0 * (-C / B) + 6.0) - 64.0) / A;
        assert!((S - s).abs() < 1e-15, "{s:.17}");
        assert!((T - t).abs() < 1e-15, "{t:.17}");
    }
}
