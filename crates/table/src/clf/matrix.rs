//! Matrix: `out = M in + offset`, row-major, column vectors.

use super::depth::Depths;
use crate::number::quoted;
use crate::xml::Element;
use lookwright_colour::error::Result;
use lookwright_colour::rgb::{Mat3, Rgb};

/// A 3x3 matrix and an offset, in units of 1.0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Matrix {
    /// The matrix.
    pub matrix: Mat3,
    /// What is added after it.
    pub offset: [f64; 3],
}

impl Matrix {
    pub(super) fn apply(&self, input: [f32; 3]) -> [f32; 3] {
        let rgb = self.matrix.for_pixels().apply(Rgb::from_array(input));
        rgb.zip(Rgb::from_array(self.offset.map(|v| v as f32)), |v, o| v + o)
            .to_array()
    }

    /// `dim` is "3 3", or "3 4" with the offset as fourth column; version 2 wrote a further 3.
    pub(super) fn read(element: Element<'_, '_>, depths: Depths) -> Result<Self> {
        let array = super::read::array(element)?;
        let dim = array.required("dim")?;
        let (matrix, offset) = match dim.split_whitespace().collect::<Vec<_>>()[..] {
            ["3", "3"] | ["3", "3", "3"] => {
                let m: [f64; 9] = array.numbers()?;
                (
                    [[m[0], m[1], m[2]], [m[3], m[4], m[5]], [m[6], m[7], m[8]]],
                    [0.0; 3],
                )
            }
            ["3", "4"] | ["3", "4", "3"] => {
                let m: [f64; 12] = array.numbers()?;
                (
                    [[m[0], m[1], m[2]], [m[4], m[5], m[6]], [m[8], m[9], m[10]]],
                    [m[3], m[7], m[11]],
                )
            }
            _ => {
                return Err(array.error(format_args!(
                    "dim {} is not \"3 3\" or \"3 4\"",
                    quoted(dim)
                )));
            }
        };
        let (from, to) = (depths.input.scale(), depths.output.scale());
        Ok(Self {
            matrix: Mat3(matrix.map(|row| row.map(|cell| cell * from / to))),
            offset: offset.map(|value| value / to),
        })
    }

    pub(super) fn write(&self) -> String {
        let has_offset = self.offset != [0.0; 3];
        let dim = if has_offset { "3 4" } else { "3 3" };
        let mut text = format!("    <Array dim=\"{dim}\">\n");
        for (row, offset) in self.matrix.0.iter().zip(self.offset) {
            text.push_str(&format!("{} {} {}", row[0], row[1], row[2]));
            if has_offset {
                text.push_str(&format!(" {offset}"));
            }
            text.push('\n');
        }
        text.push_str("    </Array>\n");
        text
    }
}
