//! What instruction sets do differently and pixels need the same everywhere.

use fearless_simd::Simd;
use fearless_simd::prelude::*;

/// A token whose native vectors pixels can live in.
pub(super) trait Backend: Simd {
    /// `a < b ? a : b` in every place: the second if either is NaN, or if both are zero.
    #[inline(always)]
    fn smaller(self, a: Self::f32s, b: Self::f32s) -> Self::f32s {
        a.simd_lt(b).select(a, b)
    }

    /// `b < a ? a : b` in every place: the second if either is NaN, or if both are zero.
    #[inline(always)]
    fn larger(self, a: Self::f32s, b: Self::f32s) -> Self::f32s {
        b.simd_lt(a).select(a, b)
    }

    /// The largest whole number not above, with the sign of what it was made from.
    #[inline(always)]
    fn floor(self, a: Self::f32s) -> Self::f32s {
        a.floor()
    }

    /// Whole numbers from 0 to below 2^23 as integers.
    #[inline(always)]
    fn whole(self, a: Self::f32s) -> Self::i32s {
        a.to_int()
    }
}

#[cfg(target_arch = "aarch64")]
impl Backend for fearless_simd::Neon {}

#[cfg(all(target_arch = "wasm32", target_feature = "simd128"))]
mod wasm {
    use super::Backend;
    use core::arch::wasm32::{f32x4_pmax, f32x4_pmin};
    use fearless_simd::WasmSimd128;
    use fearless_simd::prelude::*;

    // `pmin(x, y)` is `y < x ? y : x`, one instruction of the machine underneath.
    impl Backend for WasmSimd128 {
        #[inline(always)]
        fn smaller(self, a: Self::f32s, b: Self::f32s) -> Self::f32s {
            f32x4_pmin(b.into(), a.into()).simd_into(self)
        }
        #[inline(always)]
        fn larger(self, a: Self::f32s, b: Self::f32s) -> Self::f32s {
            f32x4_pmax(b.into(), a.into()).simd_into(self)
        }
        #[inline(always)]
        fn whole(self, a: Self::f32s) -> Self::i32s {
            // The conversion is defined for every number, and takes seven instructions of the
            // machine underneath. From 2^23 on the places of a fraction hold the whole number.
            let bits: Self::i32s = (a + 8_388_608.0).bitcast();
            bits & 0x7f_ffff
        }
    }
}

#[cfg(any(target_arch = "x86", target_arch = "x86_64"))]
mod x86 {
    use super::Backend;
    use fearless_simd::prelude::*;
    use fearless_simd::{Avx2, Avx512, Sse2};

    // `minps` and `maxps` are defined as `a < b ? a : b` and `b < a ? a : b`.
    macro_rules! by_minps {
        () => {
            #[inline(always)]
            fn smaller(self, a: Self::f32s, b: Self::f32s) -> Self::f32s {
                a.min(b)
            }
            #[inline(always)]
            fn larger(self, a: Self::f32s, b: Self::f32s) -> Self::f32s {
                a.max(b)
            }
        };
    }

    impl Backend for Avx512 {
        by_minps!();
    }
    impl Backend for Avx2 {
        by_minps!();
    }
    impl Backend for Sse2 {
        by_minps!();

        #[inline(always)]
        fn floor(self, a: Self::f32s) -> Self::f32s {
            // There is no such instruction; the scalar formula is the scalar `f32`'s.
            let whole: Self::i32s = a.to_int();
            let toward_zero: Self::f32s = whole.to_float();
            let lower = a
                .simd_lt(toward_zero)
                .select(toward_zero - 1.0, toward_zero);
            lower.copysign(a)
        }
    }
}
