//! `.csp`: a plain-text table with curves before it, through points at any distance.
//!
//! ```text
//! CSPLUTV100
//! 3D                       or 1D
//! BEGIN METADATA           optional
//! ...
//! END METADATA
//! 2                        for red, green, blue: how many points the curve has,
//! 0.0 1.0                  their inputs
//! 0.0 1.0                  and values
//! ...
//! 33 33 33                 3D: the size, then rows, red fastest; 1D: how many rows
//! 0.0 0.0 0.0
//! ```
//!
//! Source: the files of OpenColorIO 2.6.0's test suite and what its reader makes of them; no
//! specification is at hand. The curves before the table reach any light, so that scene light fits:
//! points stand where stops are, not at equal steps of light.

mod prelut;
mod read;
mod write;

use super::{Curve1, Grid3, Interpolation};

pub use prelut::Prelut;
pub use read::read;
pub use write::write;

/// What a `.csp` file holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Csp {
    /// The curves before the table; `None` where the file's are the identity over 0 ... 1.
    pub prelut: Option<[Prelut; 3]>,
    /// The table, over 0 ... 1.
    pub table: CspTable,
}

/// The table of a `.csp` file.
#[derive(Clone, Debug, PartialEq)]
pub enum CspTable {
    /// Of one dimension.
    Curve(Curve1),
    /// Of three dimensions.
    Grid(Grid3),
}

impl Csp {
    /// The table's value at `input`: the curves first.
    #[must_use]
    pub fn apply(&self, input: [f32; 3], how: Interpolation) -> [f32; 3] {
        let shaped = match &self.prelut {
            Some(prelut) => core::array::from_fn(|c| prelut[c].apply(input[c])),
            None => input,
        };
        match &self.table {
            CspTable::Curve(curve) => curve.apply(shaped),
            CspTable::Grid(grid) => grid.apply(shaped, how),
        }
    }

    /// The range of inputs that the table speaks about.
    pub fn domain(&self) -> ([f32; 3], [f32; 3]) {
        match &self.prelut {
            Some(prelut) => (
                prelut.each_ref().map(|p| p.domain()[0]),
                prelut.each_ref().map(|p| p.domain()[1]),
            ),
            None => ([0.0; 3], [1.0; 3]),
        }
    }
}
