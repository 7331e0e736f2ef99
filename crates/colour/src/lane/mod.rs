//! Lanes: the numbers that pixel formulas are written in.
//!
//! A formula of the light path is written once, over any [`Lane`]. With `f32` it is the scalar
//! reference; with a vector of several pixels it is the fast path. Both run the same operations
//! in the same order, so they give the same bits, and so do the browser and the command line:
//! there is no fused multiply-add, and `exp2` and `log2` are our own polynomials.

mod poly;
mod scalar;
mod widest;

pub use widest::widest;

use core::ops::{Add, Div, Mul, Neg, Sub};

/// One number per pixel: `f32`, or several pixels side by side.
///
/// Comparisons with NaN are false, so `min` and `max` return their second operand when either
/// side is NaN, in every implementation.
pub trait Lane:
    Copy
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
    + Add<f32, Output = Self>
    + Sub<f32, Output = Self>
    + Mul<f32, Output = Self>
    + Div<f32, Output = Self>
{
    /// The outcome of a comparison, one truth value per pixel.
    type Mask: Copy;

    /// `value` in every pixel, in a lane shaped like `self`.
    #[must_use]
    fn of(self, value: f32) -> Self;
    /// `self < other`.
    fn lt(self, other: Self) -> Self::Mask;
    /// `self <= other`.
    fn le(self, other: Self) -> Self::Mask;
    /// `yes` where the mask holds, `no` elsewhere. Both sides have been computed.
    fn select(mask: Self::Mask, yes: Self, no: Self) -> Self;
    /// Whether the mask holds for any pixel: to spare work that none of them needs. The outcome of that
    /// work must then be, for each of them, what is taken instead to the last bit, as pixels must not
    /// depend on their neighbours.
    fn any(mask: Self::Mask) -> bool;
    /// Absolute value.
    #[must_use]
    fn abs(self) -> Self;
    /// Square root, correctly rounded (IEEE 754). NaN below zero.
    #[must_use]
    fn sqrt(self) -> Self;
    /// Largest whole number not above `self`, for `|self| < 2^31`; -0 stays -0.
    #[must_use]
    fn floor(self) -> Self;
    /// The number whose bits are those of `self` moved up by 23, past the fraction: what was the
    /// lowest eight bits becomes the exponent.
    #[must_use]
    fn low_bits_as_exponent(self) -> Self;
    /// Splits a positive normal number into `(mantissa, exponent)`, mantissa in `[sqrt(1/2),
    /// sqrt(2))` and `self = mantissa * 2^exponent`.
    fn split_exponent(self) -> (Self, Self);

    /// Runs `f`, which may become a function of its own for all who call it, compiled for the same
    /// instructions as its callers. Without, everything is inlined into everything. `f` is
    /// `#[inline(always)]`.
    #[inline(always)]
    fn apart<T>(self, f: impl FnOnce() -> T) -> T {
        f()
    }

    /// The smaller of two; `other` if either is NaN.
    #[inline(always)]
    #[must_use]
    fn min(self, other: Self) -> Self {
        Self::select(self.lt(other), self, other)
    }

    /// The larger of two; `other` if either is NaN.
    #[inline(always)]
    #[must_use]
    fn max(self, other: Self) -> Self {
        Self::select(other.lt(self), self, other)
    }

    /// Limits to `low ..= high`; NaN becomes `low`.
    #[inline(always)]
    #[must_use]
    fn clamp_to(self, low: f32, high: f32) -> Self {
        self.max(self.of(low)).min(self.of(high))
    }

    /// `yes` where `self < edge`, else `no`.
    #[inline(always)]
    #[must_use]
    fn below(self, edge: f32, yes: Self, no: Self) -> Self {
        Self::select(self.lt(self.of(edge)), yes, no)
    }

    /// `self + (other - self) * amount`: exactly `self` at amount 0. The weight may exceed 1.
    #[inline(always)]
    #[must_use]
    fn mix(self, other: Self, amount: f32) -> Self {
        self + (other - self) * amount
    }

    /// `2^self`. Relative error below 2e-7; input limited to `-126 ..= 127`.
    #[inline(always)]
    #[must_use]
    fn exp2(self) -> Self {
        poly::exp2(self)
    }

    /// Logarithm to base 2. Absolute error below 1e-7 + 6e-8 |result|. Input is limited to the
    /// positive normal numbers, so zero and below give -126.
    #[inline(always)]
    #[must_use]
    fn log2(self) -> Self {
        poly::log2(self)
    }

    /// Logarithm to base 10, from [`Lane::log2`].
    #[inline(always)]
    #[must_use]
    fn log10(self) -> Self {
        self.log2() * core::f32::consts::LOG10_2
    }

    /// `10^self`, from [`Lane::exp2`].
    #[inline(always)]
    #[must_use]
    fn exp10(self) -> Self {
        (self * core::f32::consts::LOG2_10).exp2()
    }

    /// `max(self, 0)^exponent` for a positive exponent; exactly 0 at 0 and below.
    #[inline(always)]
    #[must_use]
    fn pow(self, exponent: f32) -> Self {
        let raised = (self.log2() * exponent).exp2();
        Self::select(self.of(0.0).lt(self), raised, self.of(0.0))
    }
}

/// The bits of sqrt(1/2). Taken off a number's bits, they make the exponent step at mantissa
/// sqrt(2) instead of 2, which puts what is left of the mantissa into `[sqrt(1/2), sqrt(2))`.
pub const SQRT_HALF_BITS: i32 = 0x3f35_04f3;
/// The bits of a number's fraction.
pub const FRACTION_BITS: i32 = 0x007f_ffff;

#[cfg(test)]
mod tests;
