//! `exp2` and `log2` as polynomials, the same bits on every machine.
//!
//! `2^x = 2^n 2^f` with `n` the nearest whole number and `f` in `[-1/2, 1/2]`: a degree-6
//! Chebyshev fit of `2^f`, largest error 2e-9 before rounding.
//! `log2(x) = e + log2(m)` with `m` in `[sqrt(1/2), sqrt(2))`: `2 atanh(s) / ln 2` of
//! `s = (m - 1) / (m + 1)`, `|s| < 0.172`, as `s` times a cubic of `s^2` fitted by Remez's exchange,
//! largest error 2e-10 before rounding.

use super::Lane;

/// Smallest and largest power of two that `exp2` returns: `f32`'s normal numbers.
const EXPONENT_MIN: f32 = -126.0;
const EXPONENT_MAX: f32 = 127.0;
/// 1.5 * 2^23 + 127.
const WHOLE_FROM: f32 = 12_583_039.0;

#[inline(always)]
pub(super) fn exp2<L: Lane>(x: L) -> L {
    let x = x.clamp_to(EXPONENT_MIN, EXPONENT_MAX);
    // Far up the fraction's last bit is 1, so the sum is rounded to a whole number; its lowest
    // bits are that number plus 127, which is how an exponent is written.
    let rounded = x + WHOLE_FROM;
    let f = x - (rounded - WHOLE_FROM);
    let p = f * 1.546_144_5e-4 + 1.340_042_8e-3;
    let p = p * f + 9.618_057e-3;
    let p = p * f + 5.550_327e-2;
    let p = p * f + 2.402_265e-1;
    let p = p * f + 6.931_472e-1;
    // The last step as 1 + f p keeps 2^0 = 1 and whole powers exact.
    (p * f + 1.0) * rounded.low_bits_as_exponent()
}

#[inline(always)]
pub(super) fn log2<L: Lane>(x: L) -> L {
    let (m, e) = x.clamp_to(f32::MIN_POSITIVE, f32::MAX).split_exponent();
    let s = (m - 1.0) / (m + 1.0);
    let q = s * s;
    let p = q * 0.434_163_53 + 0.576_589_7;
    let p = p * q + 0.961_800_7;
    let p = p * q + 2.885_39;
    p * s + e
}
