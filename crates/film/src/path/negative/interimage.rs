//! Couplers: one layer's development holds back its neighbours.
//!
//! `D' = (I + k S) D` on the three layer densities. The rows of `S` sum to 0, so grey stays grey at
//! every density; what lies off its diagonal is negative, so colours move apart. `k` is the
//! stock's own separation, times the step's. Silver that a skipped bleach leaves adds a share of the three
//! densities' mean to all of them: greys get steeper, and what sets colours apart stays as it is. The dyes' unwanted absorptions, which this counters,
//! come with the scan.

use super::stock::StockData;
use lookwright_colour::lane::Lane;
use lookwright_colour::{Mat3, PixelMatrix, Rgb};

/// A direction of more separation: reds dense, whites clean. *Chosen.*
const SEPARATION: [[f64; 3]; 3] = [
    [0.25, -0.13, -0.12],
    [-0.10, 0.22, -0.12],
    [-0.08, -0.17, 0.25],
];
/// Separation of the plain negative, and of daylight film of ISO 250. *Chosen.*
pub const SEPARATION_MIDDLE: f64 = 1.5;

/// Density of all the silver, for each density of the dyes' mean. *Chosen.*
const SILVER: f64 = 0.5;

/// Couplers, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interimage {
    matrix: PixelMatrix,
}

impl Interimage {
    /// The stock's own separation, mixed in by `amount` over the plain negative's and exaggerated
    /// beyond 1, `times` over; and the share of the `silver` that is kept.
    pub fn new(stock: &StockData, amount: f64, times: f64, silver: f64) -> Self {
        let own = SEPARATION_MIDDLE + (stock.separation - SEPARATION_MIDDLE) * amount.min(1.0);
        let k = own * amount.max(1.0) * times;
        let mut matrix = Mat3::IDENTITY;
        for (row, more) in matrix.0.iter_mut().zip(SEPARATION) {
            for (cell, more) in row.iter_mut().zip(more) {
                *cell += more * k + SILVER * silver / 3.0;
            }
        }
        Self {
            matrix: matrix.for_pixels(),
        }
    }

    /// Layer densities to densities after development.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, density: Rgb<L>) -> Rgb<L> {
        self.matrix.apply(density)
    }
}
