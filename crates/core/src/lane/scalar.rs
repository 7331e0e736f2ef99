//! The scalar lane: one pixel at a time, the reference for every other.

use super::Lane;

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
        if self < toward_zero {
            toward_zero - 1.0
        } else {
            toward_zero
        }
    }
    #[inline(always)]
    fn exp2_whole(self) -> f32 {
        f32::from_bits((self as i32 + 127).cast_unsigned() << 23)
    }
    #[inline(always)]
    fn split_exponent(self) -> (f32, f32) {
        // Moving the origin to the bits of sqrt(1/2) puts the mantissa into [sqrt(1/2), sqrt(2)).
        const ORIGIN: u32 = 0x3f35_04f3;
        let moved = self.to_bits().wrapping_sub(ORIGIN);
        let exponent = (moved.cast_signed() >> 23) as f32;
        let mantissa = f32::from_bits((moved & 0x007f_ffff).wrapping_add(ORIGIN));
        (mantissa, exponent)
    }
}
