//! A table whose nodes are fitted to a function rather than sampled from it.
//!
//! A sampled node lies on the function, so between the nodes a table is off to one side of every
//! bend. Here the nodes are moved so that what is read between them by tetrahedra is off least, in
//! the sense of least squares (lattice regression: Garcia, Arora and Gupta, "Optimized regression
//! for efficient function evaluation", IEEE Transactions on Image Processing 21, 2012; cited from
//! memory). Wanted is the correction `d` of the sampled nodes that makes
//!
//! ```text
//! 1/6 sum_t w_t |(T d)(p_t) - missed_t|^2  +  RIDGE sum_n |d_n|^2
//! ```
//!
//! least, over all tetrahedra `t` with their centres `p_t`, and all nodes `n`. `T d` is read by
//! tetrahedra; `missed` is what the sampled table lacks; `w` says how often such colours are met,
//! and spares what no plane can follow, so that a crease does not pull its neighbours off.
//!
//! Held as they were sampled are the nodes of greys and those on the lattice's outer faces, so that
//! greys, black, white and clipped channels are exact there. No channel leaves its range, nor do more nodes come
//! to its ends. Colours keep their order: nothing is turned over, and no channel falls, that did not.
//! Sums have one order, and nothing depends on the machine.

mod cells;
mod missed;
mod order;
mod solve;
mod weight;

use crate::Grid3;
use cells::Cells;
use lookwright_colour::error::Result;

/// Times that the weights are looked at again, after the first solution.
const LOOKS_AGAIN: usize = 2;

/// The table over `sampled`'s lattice whose nodes are fitted to the function that it samples.
///
/// `exact` puts the function's values in the place of inputs: red, green, blue, in slices of one
/// length. It is asked about six inputs a cell, a layer of cells at a time.
///
/// # Errors
/// If `exact` gives a value that is not finite.
pub fn fit(sampled: &Grid3, exact: impl FnMut([&mut [f32]; 3])) -> Result<Grid3> {
    let cells = Cells::of(sampled.size());
    let missed = missed::by(&cells, sampled, exact);
    let usual = weight::usual(&cells);
    let mut weights = usual.clone();
    let mut correction = vec![[0.0; 4]; sampled.nodes().len()];
    solve::correct(&cells, &weights, &missed, &mut correction);
    for _ in 0..LOOKS_AGAIN {
        let left = missed::left(&cells, &missed, &correction);
        for ((weight, usual), left) in weights.iter_mut().zip(&usual).zip(left) {
            *weight = usual * weight::spared(left);
        }
        solve::correct(&cells, &weights, &missed, &mut correction);
    }
    let fitted = bounded(sampled.nodes(), &correction);
    let nodes = order::kept(&cells, sampled.nodes(), &fitted);
    let (low, high) = (sampled.domain_min(), sampled.domain_max());
    Grid3::from_nodes(sampled.size(), low, high, nodes)
}

/// The corrected nodes, none of them more than half of its way to an end of its channel.
fn bounded(sampled: &[[f32; 3]], correction: &[solve::Node]) -> Vec<[f32; 3]> {
    let mut low = [f32::INFINITY; 3];
    let mut high = [f32::NEG_INFINITY; 3];
    for node in sampled {
        for c in 0..3 {
            low[c] = low[c].min(node[c]);
            high[c] = high[c].max(node[c]);
        }
    }
    let one = |(node, by): (&[f32; 3], &solve::Node)| {
        core::array::from_fn(|c| {
            let value = node[c];
            (value + by[c]).clamp(0.5 * (value + low[c]), 0.5 * (value + high[c]))
        })
    };
    sampled.iter().zip(correction).map(one).collect()
}

#[cfg(test)]
mod tests;
