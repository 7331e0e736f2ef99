//! Loops that the compiler turns into vectors by itself, on the widest vectors that there are.

#[cfg(any(target_arch = "x86", target_arch = "x86_64"))]
use fearless_simd::{Level, Simd};

/// Runs `f` compiled for the newest instructions that this machine has. `f` is
/// `#[inline(always)]`, with all that it calls; the result is the same on every machine, because
/// nothing is fused or summed in another order.
#[inline]
pub fn widest<T>(f: impl FnOnce() -> T) -> T {
    #[cfg(any(target_arch = "x86", target_arch = "x86_64"))]
    {
        let level = Level::new();
        if let Some(simd) = level.as_avx512() {
            return simd.vectorize(f);
        }
        if let Some(simd) = level.as_avx2() {
            return simd.vectorize(f);
        }
    }
    f()
}
