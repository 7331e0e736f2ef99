//! Density above base to the layers' codes under the printer's lights: dyes, set-up, lights and couplers
//! undone, all of which add and multiply by constants, in one matrix.

use super::{Points, Straight, lit};
use lookwright_colour::lane::Lane;
use lookwright_colour::{Mat3, PixelMatrix, Rgb};

/// The way from density to codes, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LayerCodes {
    matrix: PixelMatrix,
    offset: Rgb,
}

impl LayerCodes {
    /// Under these lights; with no finish that asks for layers, to the flat scan's codes.
    pub fn new(timing: [f32; 3], points: Option<&Points>, straight: Option<&Straight>) -> Self {
        let layers = |density: [f32; 3]| {
            let code = lit(Rgb::from_array(density), timing, points);
            straight.map_or(code, |straight| straight.unmixed(code))
        };
        let offset = layers([0.0; 3]);
        let column = |unit| layers(unit).zip(offset, |x, o| x - o).to_array();
        let columns = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]].map(column);
        Self {
            matrix: PixelMatrix([0, 1, 2].map(|row| columns.map(|column| column[row]))),
            offset,
        }
    }

    /// Density above base to codes of 1.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, density: Rgb<L>) -> Rgb<L> {
        self.matrix.apply(density).zip(
            self.offset,
            #[inline(always)]
            |x, offset| x + offset,
        )
    }

    /// The matrix back, and what is taken off a code before it.
    pub fn back(&self) -> (Mat3, [f32; 3]) {
        let matrix = Mat3(self.matrix.0.map(|row| row.map(f64::from)));
        let back = matrix.inverse().unwrap_or(Mat3::IDENTITY);
        (back, self.offset.to_array())
    }
}
