//! The fast path: the same formulas on as many pixels at a time as the machine's vectors hold.
//!
//! [`Pixels`] is a lane over two native vectors: 32 pixels with AVX-512, 16 with AVX2, 8 with
//! SSE2, NEON and WebAssembly's simd128. Which one runs is found out at run time; all give the
//! bits of the scalar `f32`, which is what the tests hold them to.
//!
//! Everything between [`run`] and the operations of a lane has to be `#[inline(always)]`,
//! closures too: a function on its own is compiled for the oldest machine, and calls each vector
//! operation instead of containing it. That is as correct, and thirty times slower.

/// Returns what `$work` gives with the token of the chosen vectors, by default of the widest that
/// the machine has; goes on where that is none.
macro_rules! on_vectors {
    ($chosen:expr, |$simd:ident| $work:expr) => {{
        let level = Level::new();
        let allowed = |vectors: Vectors| $chosen.is_none_or(|chosen: Vectors| chosen == vectors);
        #[cfg(any(target_arch = "x86", target_arch = "x86_64"))]
        {
            if let Some($simd) = level.as_avx512().filter(|_| allowed(Vectors::Avx512)) {
                return $work;
            }
            if let Some($simd) = level.as_avx2().filter(|_| allowed(Vectors::Avx2)) {
                return $work;
            }
            if let Some($simd) = level.as_sse2().filter(|_| allowed(Vectors::Sse2)) {
                return $work;
            }
        }
        #[cfg(target_arch = "aarch64")]
        if let Some($simd) = level.as_neon().filter(|_| allowed(Vectors::Neon)) {
            return $work;
        }
        #[cfg(all(target_arch = "wasm32", target_feature = "simd128"))]
        if let Some($simd) = level
            .as_wasm_simd128()
            .filter(|_| allowed(Vectors::Simd128))
        {
            return $work;
        }
    }};
}

mod backend;
mod pixels;
mod table;
#[cfg(test)]
mod tests;

use fearless_simd::Level;
pub use table::TablePass;

use super::pointwise::PointOp;
use backend::Backend;
use lookwright_colour::Rgb;
use pixels::Pixels;

/// The vectors that pixels run on. All give the same bits; the difference is speed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Vectors {
    /// 512 bits (x86 from Ice Lake and Zen 4 on).
    Avx512,
    /// 256 bits (x86 from about 2013 on).
    Avx2,
    /// 128 bits, on every x86-64.
    Sse2,
    /// 128 bits, on every 64-bit ARM.
    Neon,
    /// 128 bits, in WebAssembly.
    Simd128,
    /// One pixel at a time: the reference.
    Scalar,
}

impl Vectors {
    /// All that this machine has, the widest first.
    pub fn all() -> Vec<Self> {
        let level = Level::new();
        let mut all = Vec::new();
        #[cfg(any(target_arch = "x86", target_arch = "x86_64"))]
        {
            all.extend(level.as_avx512().map(|_| Self::Avx512));
            all.extend(level.as_avx2().map(|_| Self::Avx2));
            all.extend(level.as_sse2().map(|_| Self::Sse2));
        }
        #[cfg(target_arch = "aarch64")]
        all.extend(level.as_neon().map(|_| Self::Neon));
        #[cfg(all(target_arch = "wasm32", target_feature = "simd128"))]
        all.extend(level.as_wasm_simd128().map(|_| Self::Simd128));
        all.push(Self::Scalar);
        all
    }
}

/// Runs `op` over three slices of one length, in place, on the chosen vectors: one of
/// [`Vectors::all`], or by default the first of them.
pub(super) fn run(chosen: Option<Vectors>, op: &impl PointOp, planes: [&mut [f32]; 3]) {
    on_vectors!(chosen, |simd| run_with(simd, op, planes));
    run_scalar(op, planes);
}

/// [`run`] one pixel at a time: the reference, and what machines without vectors run.
fn run_scalar(op: &impl PointOp, [red, green, blue]: [&mut [f32]; 3]) {
    for ((r, g), b) in red.iter_mut().zip(green).zip(blue) {
        let out = op.apply(Rgb::new(*r, *g, *b));
        (*r, *g, *b) = (out.r, out.g, out.b);
    }
}

/// [`run`] with the vectors of one instruction set.
#[inline(always)]
fn run_with<S: Backend>(simd: S, op: &impl PointOp, planes: [&mut [f32]; 3]) {
    simd.vectorize(
        #[inline(always)]
        || {
            let width = Pixels::<S>::LEN;
            let whole = planes[0].len() / width * width;
            let [(red, red_rest), (green, green_rest), (blue, blue_rest)] =
                planes.map(|plane| plane.split_at_mut(whole));
            let rest = [red_rest, green_rest, blue_rest];
            let count = rest[0].len();
            // One more vector, of which the last places are thrown away.
            let mut padded = [[0.0_f32; LANES_MAX]; 3];
            for (padded, rest) in padded.iter_mut().zip(&rest) {
                padded[..count].copy_from_slice(rest);
            }
            let last = if count > 0 { width } else { 0 };
            // Both by one loop, as what is done to a pixel is put into it, however long it is.
            for [red, green, blue] in [
                [red, green, blue],
                padded.each_mut().map(|plane| &mut plane[..last]),
            ] {
                let places = red
                    .chunks_exact_mut(width)
                    .zip(green.chunks_exact_mut(width))
                    .zip(blue.chunks_exact_mut(width));
                for ((r, g), b) in places {
                    apply(simd, op, [r, g, b]);
                }
            }
            for (padded, rest) in padded.iter().zip(rest) {
                rest.copy_from_slice(&padded[..count]);
            }
        },
    );
}

/// Pixels in the widest lane.
const LANES_MAX: usize = 32;

/// One vector of pixels.
#[inline(always)]
fn apply<S: Backend>(simd: S, op: &impl PointOp, [r, g, b]: [&mut [f32]; 3]) {
    let code = Rgb::new(
        Pixels::load(simd, r),
        Pixels::load(simd, g),
        Pixels::load(simd, b),
    );
    let out: Rgb<Pixels<S>> = op.apply(code);
    out.r.store(r);
    out.g.store(g);
    out.b.store(b);
}
