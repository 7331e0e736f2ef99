//! Interimage effects: one layer's development holds back its neighbours.
//!
//! `D' = N D` on the three layer densities. The rows of `N` sum to 1, so grey stays grey at every
//! density; what lies off the diagonal is negative, so colours move apart.

use super::stock::StockData;
use lookwright_colour::lane::Lane;
use lookwright_colour::{PixelMatrix, Rgb};

/// Interimage, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interimage {
    matrix: PixelMatrix,
}

impl Interimage {
    /// The stock's own matrix, `share` times over.
    pub fn new(stock: &StockData, share: f64) -> Self {
        Self {
            matrix: stock.interimage.blend(share).for_pixels(),
        }
    }

    /// Layer densities to densities after development.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, density: Rgb<L>) -> Rgb<L> {
        self.matrix.apply(density)
    }
}
