//! How the developed negative looks on a light table.
//!
//! Each layer's dye absorbs its own light and a little of its neighbours'; the couplers' orange mask
//! lies over everything. Transmission `T = 10^-(D_base + A D)` in sRGB's channels, the brightest film
//! base near white. `A` and the base are fitted to spectral integration over the dyes of a class of
//! film on a table of D50 (`tests/reference/film/light_table.py`; CIEDE2000 to it: .7 on average, 2.6
//! in one of a hundred). A single emulsion's silver is grey.

use crate::pointwise::PointOp;
use lookwright_colour::Rgb;
use lookwright_colour::encoding::Curve;
use lookwright_colour::lane::Lane;

/// Densities of the masked base in red, green and blue.
const BASE: [f32; 3] = [0.121, 0.522, 1.002];
/// Density of each dye (cyan, magenta, yellow; columns) in red, green and blue (rows).
const ABSORPTION: [[f32; 3]; 3] = [
    [0.695, 0.222, -0.019],
    [0.167, 0.856, 0.092],
    [-0.052, -0.065, 1.065],
];
/// Silver has no colour.
const SILVER: [f32; 3] = [1.0 / 3.0; 3];
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
    let seen = |channel: usize| {
        let (row, base) = if masked {
            (&ABSORPTION[channel], BASE[channel])
        } else {
            (&SILVER, 0.0)
        };
        let dyes = density.r * row[0] + density.g * row[1] + density.b * row[2];
        let transmitted = (-(dyes + base)).exp10() * TABLE_LIGHT;
        Curve::Srgb.encode(transmitted.clamp_to(0.0, 1.0))
    };
    Rgb::new(seen(0), seen(1), seen(2))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_density_is_darker_and_the_base_is_orange() {
        let base = negative_view(Rgb::grey(0.0_f32), true);
        assert!(base.r > base.g + 0.2 && base.g > base.b + 0.1);
        let dense = negative_view(Rgb::grey(1.5_f32), true);
        assert!(dense.r < base.r && dense.g < base.g && dense.b < base.b);
    }

    #[test]
    fn silver_is_grey() {
        let silver = negative_view(Rgb::grey(0.8_f32), false);
        assert!(silver.r == silver.g && silver.g == silver.b);
    }
}
