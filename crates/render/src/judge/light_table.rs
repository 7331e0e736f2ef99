//! How the developed negative looks on a light table.
//!
//! Each layer's dye absorbs its own light and a little of its neighbours'; the coupler's orange
//! mask lies over everything. Transmission `T = 10^-(D_base + A D)`, shown in sRGB code with the
//! brightest film base near white. The mask's densities are consistent with published aims for
//! laboratory control (0.15, 0.51, 0.88 above clear; from memory of Status M aims).

use crate::pointwise::PointOp;
use lookwright_colour::Rgb;
use lookwright_colour::encoding::Curve;
use lookwright_colour::lane::Lane;

/// Densities of the masked base for red, green and blue light.
const BASE: [f32; 3] = [0.15, 0.51, 0.88];
/// Density of each dye (cyan, magenta, yellow; columns) for red, green and blue light (rows).
const ABSORPTION: [[f32; 3]; 3] = [[0.95, 0.05, 0.0], [0.12, 0.85, 0.05], [0.05, 0.15, 0.80]];
/// Light of the table: brings the base's red to a bright code.
const TABLE_LIGHT: f32 = 1.25;

/// The view as a point pass over densities.
pub struct LightTable {
    /// Black-and-white stock has no mask.
    pub masked: bool,
}

impl PointOp for LightTable {
    #[inline(always)]
    fn apply<L: Lane>(&self, density: Rgb<L>) -> Rgb<L> {
        negative_view(density, self.masked)
    }
}

/// Density above base to sRGB code, 0 ... 1, as seen on a light table.
#[inline(always)]
pub fn negative_view<L: Lane>(density: Rgb<L>, masked: bool) -> Rgb<L> {
    let share = if masked { 1.0 } else { 0.0 };
    let seen = |base: f32, row: &[f32; 3]| {
        let dyes = density.r * row[0] + density.g * row[1] + density.b * row[2];
        let transmitted = (-(dyes + base * share)).exp10() * TABLE_LIGHT;
        Curve::Srgb.encode(transmitted.clamp_to(0.0, 1.0))
    };
    Rgb::new(
        seen(BASE[0], &ABSORPTION[0]),
        seen(BASE[1], &ABSORPTION[1]),
        seen(BASE[2], &ABSORPTION[2]),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_density_is_darker_and_the_base_is_orange() {
        let base = negative_view(Rgb::grey(0.0_f32), true);
        assert!(base.r > base.g && base.g > base.b);
        let dense = negative_view(Rgb::grey(1.5_f32), true);
        assert!(dense.r < base.r && dense.g < base.g && dense.b < base.b);
    }
}
