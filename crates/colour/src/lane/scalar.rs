//! The scalar lane: one pixel at a time, the reference for every other.

use super::{FRACTION_BITS, Lane, SQRT_HALF_BITS};

impl Lane for f32 {
    type Mask = bool;

    #[inline(always)]
    fn of(self, value: f32) -> f32 {
        value
    }
    #[inline(always)]
    fn lt(self, other: f32) -> bool {
        self < other
    }
    #[inline(always)]
    fn le(self, other: f32) -> bool {
        self <= other
    }
    #[inline(always)]
    fn select(mask: bool, yes: f32, no: f32) -> f32 {
        if mask { yes } else { no }
    }
    #[inline(always)]
    fn any(mask: bool) -> bool {
        mask
    }
    #[inline(always)]
    fn abs(self) -> f32 {
        f32::abs(self)
    }
    #[inline(always)]
    fn sqrt(self) -> f32 {
        f32::sqrt(self)
    }
    #[inline(always)]
    fn floor(self) -> f32 {
        // Not f32::floor: without SSE4.1 that is a function call.
        let toward_zero = self as i32 as f32;
        let lower = if self < toward_zero {
            toward_zero - 1.0
        } else {
            toward_zero
        };
        lower.copysign(self)
    }
    #[inline(always)]
    fn low_bits_as_exponent(self) -> f32 {
        f32::from_bits(self.to_bits() << 23)
    }
    #[inline(always)]
    fn split_exponent(self) -> (f32, f32) {
        let moved = self.to_bits().cast_signed().wrapping_sub(SQRT_HALF_BITS);
        let mantissa = (moved & FRACTION_BITS).wrapping_add(SQRT_HALF_BITS);
        (
            f32::from_bits(mantissa.cast_unsigned()),
            (moved >> 23) as f32,
        )
    }
}
