//! Density to the scan's log code and back.
//!
//! The published code of film scans (H-387; Grayscale Transformations of Digital Film Data,
//! 1993): 10 bits, 0.002 printing density per code, the negative's base at code 95, 90 % white
//! at 685. Here a code is a share of 1023.
//!
//! Printing density is what positive film sees of the negative (ST 2065-2): each layer's dye takes
//! a little of its neighbours' light too, so it is a matrix on the three dyes. The matrix is fitted
//! so that the 24-patch chart on the reference film has the differences between its densities that
//! it has in the Academy's density encoding (ADX10). The orange of the base is the same everywhere
//! and is taken out by the set-up.

use crate::path::negative::{DYES, GREY_DENSITY};
use lookwright_colour::lane::Lane;
use lookwright_colour::{PixelMatrix, Rgb};

/// Largest 10-bit code.
pub const CODE_MAX: f32 = 1023.0;
/// Code of the negative's base.
pub const BASE_CODE: f32 = 95.0;
/// Density of one code.
pub const DENSITY_PER_CODE: f32 = DENSITY_STEP as f32;
const DENSITY_STEP: f64 = 0.002;
/// The 10-bit code of mid-grey on a timed scan.
pub fn grey_code() -> f64 {
    f64::from(BASE_CODE) + GREY_DENSITY / DENSITY_STEP
}

/// Dye densities to printing densities.
const PRINTING: PixelMatrix = for_pixels(DYES);

/// Layers' dye densities to printing densities, above base.
#[inline(always)]
pub fn printing<L: Lane>(density: Rgb<L>) -> Rgb<L> {
    PRINTING.apply(density)
}

/// Dye densities above base to log code of 1, `timing` added as printing density.
#[inline(always)]
pub fn to_code<L: Lane>(density: Rgb<L>, timing: [f32; 3]) -> Rgb<L> {
    printing(density).zip(
        Rgb::from_array(timing),
        #[inline(always)]
        |d, t| (d + t) * (1.0 / (DENSITY_PER_CODE * CODE_MAX)) + BASE_CODE / CODE_MAX,
    )
}

const fn for_pixels(m: [[f64; 3]; 3]) -> PixelMatrix {
    let [r, g, b] = m;
    PixelMatrix([
        [r[0] as f32, r[1] as f32, r[2] as f32],
        [g[0] as f32, g[1] as f32, g[2] as f32],
        [b[0] as f32, b[1] as f32, b[2] as f32],
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_published_code_points_hold() {
        let code = |density: f32| to_code(Rgb::grey(density), [0.0; 3]).g * CODE_MAX;
        for (density, expected) in [(0.0, 95.0), (0.70, 445.0), (1.18, 685.0)] {
            assert!((code(density) - expected).abs() < 1e-3);
        }
        // One camera stop at gamma 0.6 is 90.309 codes (0.6 log10 2 / 0.002).
        assert!((code(0.180_618) - code(0.0) - 90.309).abs() < 1e-3);
        assert!((grey_code() - f64::from(code(0.760_618))).abs() < 1e-3);
    }
}
