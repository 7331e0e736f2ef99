//! LUT3D: a lattice over 0 ... 1, blue fastest in the file, red fastest in memory.

use super::depth::Depths;
use crate::number::{finite, quoted};
use crate::xml::Element;
use crate::{Grid3, Interpolation};
use lookwright_colour::error::{Error, Result};

/// The lattice of a LUT3D node.
#[derive(Clone, Debug, PartialEq)]
pub struct Lut3d {
    /// The nodes; their domain is 0 ... 1.
    pub grid: Grid3,
    /// How the node asks to be read between them.
    pub how: Interpolation,
}

impl Lut3d {
    pub(super) fn apply(&self, input: [f32; 3]) -> [f32; 3] {
        self.grid.apply(input, self.how)
    }

    pub(super) fn read(element: Element<'_, '_>, depths: Depths) -> Result<Self> {
        let how = match element.attribute("interpolation") {
            None | Some("trilinear") => Interpolation::Trilinear,
            Some("tetrahedral") => Interpolation::Tetrahedral,
            Some(other) => {
                return Err(element.error(format_args!(
                    "interpolation {} is not trilinear or tetrahedral",
                    quoted(other)
                )));
            }
        };
        let array = super::read::array(element)?;
        let dim = array.required("dim")?;
        let size = match super::read::dimensions(dim)[..] {
            [r, g, b, 3] if r == g && g == b => r,
            _ => {
                return Err(array.error(format_args!(
                    "dim {} is not \"N N N 3\" with the same N three times",
                    quoted(dim)
                )));
            }
        };
        // The grid's own check of its size comes before room is made for it.
        let refused = |error: Error| array.error(error.message());
        Grid3::check_size(size).map_err(refused)?;
        let scale = depths.output.scale();
        let count = size * size * size * 3;
        let mut values = Vec::with_capacity(count.min(array.text_length() / 2 + 1));
        super::read::counted(array, count, |word| {
            values.push((f64::from(finite(word)?) / scale) as f32);
            Ok(())
        })?;
        let nodes = turned(values.as_chunks::<3>().0, size);
        let grid = Grid3::from_nodes(size, [0.0; 3], [1.0; 3], nodes).map_err(refused)?;
        Ok(Self { grid, how })
    }

    pub(super) fn write(&self) -> Result<String> {
        let grid = &self.grid;
        if grid.domain_min() != [0.0; 3] || grid.domain_max() != [1.0; 3] {
            return Err(Error::new(
                "a LUT3D has the domain 0 to 1; put a Range before it instead",
            ));
        }
        let size = grid.size();
        let nodes = turned(grid.nodes(), size);
        let mut text = String::with_capacity(nodes.len() * 30 + 64);
        text.push_str(&format!("    <Array dim=\"{size} {size} {size} 3\">\n"));
        crate::number::write_rows(&mut text, &nodes);
        text.push_str("    </Array>\n");
        Ok(text)
    }

    /// The `interpolation` attribute.
    pub(super) fn interpolation(&self) -> &'static str {
        match self.how {
            Interpolation::Tetrahedral => "tetrahedral",
            Interpolation::Trilinear => "trilinear",
        }
    }
}

/// Nodes with the fastest and slowest axis exchanged.
fn turned(nodes: &[[f32; 3]], size: usize) -> Vec<[f32; 3]> {
    let mut out = Vec::with_capacity(nodes.len());
    for slow in 0..size {
        for middle in 0..size {
            out.extend((0..size).map(|fast| nodes[slow + size * (middle + size * fast)]));
        }
    }
    out
}
