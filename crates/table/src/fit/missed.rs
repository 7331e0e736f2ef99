//! What a sampled table lacks in the middle of every tetrahedron.

use super::cells::{CORNERS, Cells, TETRAHEDRA};
use super::solve::Node;
use crate::Grid3;

/// Differences below this (four thousandths of a code of 10 bits) are rounding: what is straight
/// comes back to the bit.
const ROUNDING: f32 = 4e-6;

/// The function less the table at the centres.
pub(super) fn by(
    cells: &Cells,
    sampled: &Grid3,
    mut exact: impl FnMut([&mut [f32]; 3]),
) -> Vec<[f32; 3]> {
    let along = cells.along();
    let (low, high) = (sampled.domain_min(), sampled.domain_max());
    let step: [f32; 3] = core::array::from_fn(|c| (high[c] - low[c]) / along as f32);
    let mut missed = Vec::with_capacity(along.pow(3) * TETRAHEDRA);
    let mut planes: [Vec<f32>; 3] = Default::default();
    // A layer at a time, so that inputs take little memory.
    for b in 0..along {
        planes.iter_mut().for_each(Vec::clear);
        for (at, _) in cells.layer(b) {
            for corners in CORNERS {
                for (c, plane) in planes.iter_mut().enumerate() {
                    plane.push(low[c] + cells.centre(at, corners)[c] * step[c]);
                }
            }
        }
        exact(planes.each_mut().map(Vec::as_mut_slice));
        let mut i = 0;
        for (_, first) in cells.layer(b) {
            for corners in CORNERS {
                let nodes = corners.map(|corner| sampled.nodes()[first + cells.steps[corner]]);
                let table = mean(nodes);
                missed.push(core::array::from_fn(|c| {
                    let value = planes[c][i] - table[c];
                    if value.abs() < ROUNDING { 0.0 } else { value }
                }));
                i += 1;
            }
        }
    }
    missed
}

/// What is left of it after a correction, as the mean square over the channels.
pub(super) fn left<'a>(
    cells: &'a Cells,
    missed: &'a [[f32; 3]],
    correction: &'a [Node],
) -> impl Iterator<Item = f32> + 'a {
    let tetrahedra = cells.each().flat_map(move |(_, first)| {
        CORNERS.map(|corners| corners.map(|corner| correction[first + cells.steps[corner]]))
    });
    missed.iter().zip(tetrahedra).map(|(missed, nodes)| {
        let got = mean(nodes);
        let left: [f32; 3] = core::array::from_fn(|c| missed[c] - got[c]);
        (left[0] * left[0] + left[1] * left[1] + left[2] * left[2]) * (1.0 / 3.0)
    })
}

/// What is read by tetrahedra in the middle of four nodes.
fn mean<const N: usize>(nodes: [[f32; N]; 4]) -> [f32; 3] {
    core::array::from_fn(|c| 0.25 * (nodes[0][c] + nodes[1][c] + nodes[2][c] + nodes[3][c]))
}
