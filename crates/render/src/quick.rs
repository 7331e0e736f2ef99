//! What follows the negative, as a dense table: for looking at while a control moves.
//!
//! Density to screen is a smooth map without neighbours, so between 45 nodes per layer over the
//! densities that a picture has it is off by less than one step of 8 bits in 999 of 1000 pixels
//! (measured: 0.4 of a step on noise for lamp film of ISO 500, but 3.6 for vivid day film of ISO 40), and several times
//! as fast. At rest the exact picture takes its place; saved pictures never take it.

use super::fast::TablePass;
use super::pointwise::{self, PointOp};
use lookwright_colour::error::Result;
use lookwright_film::spatial::Planes;
use lookwright_table::Grid3;

/// Nodes per layer.
const NODES: usize = 45;
/// Fewest pixels that making the table is worth.
pub(super) const WORTHWHILE: usize = NODES * NODES * NODES;

/// Densities to the stage's numbers by `op`, in place, through a table over the densities that are
/// there.
///
/// # Errors
/// None for finite densities.
pub(super) fn finish(density: &mut Planes, op: &impl PointOp) -> Result<()> {
    let (lowest, highest) = range(density);
    table_of(op, lowest, highest)?.run(density);
    Ok(())
}

/// `op` as a table over `lowest` to `highest` of all three channels.
///
/// # Errors
/// None for finite limits.
pub(super) fn table_of(op: &impl PointOp, lowest: f32, highest: f32) -> Result<TablePass> {
    let span = (highest - lowest).max(1e-3);
    let step = span / (NODES - 1) as f32;
    let mut lattice = Planes::filled(NODES * NODES * NODES, 1, 0.0);
    for (axis, plane) in lattice.planes.iter_mut().enumerate() {
        for (i, value) in plane.iter_mut().enumerate() {
            let node = i / NODES.pow(axis as u32) % NODES;
            *value = lowest + node as f32 * step;
        }
    }
    pointwise::run(op, &mut lattice);
    let [r, g, b] = &lattice.planes;
    let nodes = r.iter().zip(g).zip(b).map(|((r, g), b)| [*r, *g, *b]);
    let grid = Grid3::from_nodes(NODES, [lowest; 3], [lowest + span; 3], nodes.collect())?;
    Ok(TablePass::new(grid))
}

/// The lowest and the highest of all values.
fn range(picture: &Planes) -> (f32, f32) {
    // Side by side, so that they are compared in vectors.
    let (mut low, mut high) = ([f32::MAX; 16], [f32::MIN; 16]);
    for plane in &picture.planes {
        let (blocks, rest) = plane.as_chunks::<16>();
        for block in blocks {
            for i in 0..16 {
                low[i] = if block[i] < low[i] { block[i] } else { low[i] };
                high[i] = if block[i] > high[i] {
                    block[i]
                } else {
                    high[i]
                };
            }
        }
        for value in rest {
            low[0] = low[0].min(*value);
            high[0] = high[0].max(*value);
        }
    }
    let lowest = low.into_iter().fold(f32::MAX, f32::min);
    (lowest, high.into_iter().fold(lowest, f32::max))
}
