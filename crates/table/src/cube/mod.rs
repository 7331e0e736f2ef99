//! `.cube`: the plain-text table that nearly every grading and editing tool reads.
//!
//! ```text
//! TITLE "..."              optional
//! LUT_3D_SIZE 33           or LUT_1D_SIZE; both when a shaper precedes the 3D table
//! DOMAIN_MIN 0 0 0         optional, also as LUT_1D_INPUT_RANGE / LUT_3D_INPUT_RANGE low high
//! DOMAIN_MAX 1 1 1
//! 0.0 0.0 0.0              rows of three numbers, red fastest
//! ```
//!
//! Source: "Cube LUT Specification 1.0" (2013), from memory, and the reader of OpenColorIO 2.6.0
//! for what the specification leaves open. Read: comments and blank lines anywhere, tabs, CRLF,
//! exponents, the two-number range dialect, a 1D shaper before the 3D table. Refused: unknown
//! keywords (one may change what the rows mean), `nan` and `inf`, missing and surplus rows.
//! Written: the plain form, one size keyword and the domain only where it is not 0 ... 1.

mod read;
mod write;

use super::{Curve1, Grid3, Interpolation};

pub use read::read;
pub use write::write;

/// What a `.cube` file holds: curves, a grid, or curves that act before a grid.
#[derive(Clone, Debug, PartialEq)]
pub struct Cube {
    /// The words of TITLE.
    pub title: Option<String>,
    /// Comment lines without their `#`, in order.
    pub comments: Vec<String>,
    /// The 1D table.
    pub curve: Option<Curve1>,
    /// The 3D table.
    pub grid: Option<Grid3>,
}

impl Cube {
    /// A 3D table without words.
    pub fn of_grid(grid: Grid3) -> Self {
        Self {
            title: None,
            comments: Vec::new(),
            curve: None,
            grid: Some(grid),
        }
    }

    /// The table's value at `input`: curves first, then the grid.
    #[must_use]
    pub fn apply(&self, input: [f32; 3], how: Interpolation) -> [f32; 3] {
        let shaped = self.curve.as_ref().map_or(input, |c| c.apply(input));
        self.grid.as_ref().map_or(shaped, |g| g.apply(shaped, how))
    }
}
