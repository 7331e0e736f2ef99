//! Several pixels side by side in one native vector.

use core::ops::{Add, Div, Mul, Neg, Sub};

use fearless_simd::prelude::*;

use super::backend::Backend;
use lookwright_colour::lane::{FRACTION_BITS, Lane, SQRT_HALF_BITS};

/// Two native vectors of pixels. Two, because a formula is a long chain of operations that wait
/// for each other: the second vector runs in the gaps of the first.
#[derive(Clone, Copy)]
pub(super) struct Pixels<S: Backend>(S::f32s, S::f32s);

impl<S: Backend> Pixels<S> {
    /// Pixels in one lane.
    pub(super) const LEN: usize = 2 * S::f32s::LEN;

    /// From `LEN` values.
    #[inline(always)]
    pub(super) fn load(simd: S, values: &[f32]) -> Self {
        let (first, second) = values.split_at(S::f32s::LEN);
        Self(
            S::f32s::from_slice(simd, first),
            S::f32s::from_slice(simd, second),
        )
    }

    /// Whole numbers from 0 to below 2^23, to the first `LEN` integers.
    #[inline(always)]
    pub(super) fn store_whole(self, values: &mut [i32]) {
        let (first, rest) = values.split_at_mut(S::f32s::LEN);
        let (second, _) = rest.split_at_mut(S::f32s::LEN);
        let simd = self.0.token();
        simd.whole(self.0).store_slice(first);
        simd.whole(self.1).store_slice(second);
    }

    /// To the first `LEN` values.
    #[inline(always)]
    pub(super) fn store(self, values: &mut [f32]) {
        let (first, rest) = values.split_at_mut(S::f32s::LEN);
        let (second, _) = rest.split_at_mut(S::f32s::LEN);
        self.0.store_slice(first);
        self.1.store_slice(second);
    }
}

macro_rules! arithmetic {
    ($($op:ident $method:ident),*) => {$(
        impl<S: Backend> $op for Pixels<S> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                Self($op::$method(self.0, other.0), $op::$method(self.1, other.1))
            }
        }
        impl<S: Backend> $op<f32> for Pixels<S> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: f32) -> Self {
                Self($op::$method(self.0, other), $op::$method(self.1, other))
            }
        }
    )*};
}
arithmetic!(Add add, Sub sub, Mul mul, Div div);

impl<S: Backend> Neg for Pixels<S> {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        Self(-self.0, -self.1)
    }
}

impl<S: Backend> Lane for Pixels<S> {
    type Mask = (S::mask32s, S::mask32s);

    #[inline(always)]
    fn of(self, value: f32) -> Self {
        let all = S::f32s::splat(self.0.token(), value);
        Self(all, all)
    }
    #[inline(always)]
    fn lt(self, other: Self) -> Self::Mask {
        (self.0.simd_lt(other.0), self.1.simd_lt(other.1))
    }
    #[inline(always)]
    fn le(self, other: Self) -> Self::Mask {
        (self.0.simd_le(other.0), self.1.simd_le(other.1))
    }
    #[inline(always)]
    fn select(mask: Self::Mask, yes: Self, no: Self) -> Self {
        Self(mask.0.select(yes.0, no.0), mask.1.select(yes.1, no.1))
    }
    #[inline(always)]
    fn any(mask: Self::Mask) -> bool {
        mask.0.any_true() || mask.1.any_true()
    }
    #[inline(always)]
    fn min(self, other: Self) -> Self {
        let simd = self.0.token();
        Self(simd.smaller(self.0, other.0), simd.smaller(self.1, other.1))
    }
    #[inline(always)]
    fn max(self, other: Self) -> Self {
        let simd = self.0.token();
        Self(simd.larger(self.0, other.0), simd.larger(self.1, other.1))
    }
    #[inline(always)]
    fn abs(self) -> Self {
        Self(self.0.abs(), self.1.abs())
    }
    #[inline(always)]
    fn sqrt(self) -> Self {
        Self(self.0.sqrt(), self.1.sqrt())
    }
    #[inline(always)]
    fn floor(self) -> Self {
        let simd = self.0.token();
        Self(simd.floor(self.0), simd.floor(self.1))
    }
    #[inline(always)]
    fn apart<T>(self, f: impl FnOnce() -> T) -> T {
        self.0.token().vectorize(f)
    }
    #[inline(always)]
    fn low_bits_as_exponent(self) -> Self {
        Self(
            low_bits_as_exponent::<S>(self.0),
            low_bits_as_exponent::<S>(self.1),
        )
    }
    #[inline(always)]
    fn split_exponent(self) -> (Self, Self) {
        let (first, second) = (split_exponent::<S>(self.0), split_exponent::<S>(self.1));
        (Self(first.0, second.0), Self(first.1, second.1))
    }
}

#[inline(always)]
fn low_bits_as_exponent<S: Backend>(value: S::f32s) -> S::f32s {
    let bits: S::u32s = value.bitcast();
    (bits << 23).bitcast()
}

#[inline(always)]
fn split_exponent<S: Backend>(value: S::f32s) -> (S::f32s, S::f32s) {
    let bits: S::i32s = value.bitcast();
    let moved = bits - SQRT_HALF_BITS;
    let mantissa = (moved & FRACTION_BITS) + SQRT_HALF_BITS;
    (mantissa.bitcast(), (moved >> 23).to_float())
}
