//! Colours keep their order: what the sampled table does not turn over stays as it is.

use super::cells::{CORNERS, Cells};
use crate::health::{FALL, FOLD, ORDERS, determinant};

/// What a node keeps of its correction when something beside it is turned over.
const KEPT: f32 = 0.5;
/// Times that it is cut before it is given up.
const CUTS: usize = 5;
/// Findings begin at the thresholds of the health check; here a little earlier, so that numbers
/// rounded in a file are on the same side.
const EARLIER: f64 = 0.9;

type Nodes = [[f32; 3]];

/// The `fitted` nodes, nearer to `sampled` where a tetrahedron would be turned over, or a channel
/// fall along its own axis, that is not or does not when sampled.
pub(super) fn kept(cells: &Cells, sampled: &Nodes, fitted: &Nodes) -> Vec<[f32; 3]> {
    let mut nodes = fitted.to_vec();
    let mut share = vec![1.0_f32; nodes.len()];
    // The nodes that were changed in the last round; at first all.
    let mut changed = vec![true; nodes.len()];
    for round in 0.. {
        let cut = turned(cells, sampled, &nodes, &changed);
        if !cut.contains(&true) {
            break;
        }
        for (i, _) in cut.iter().enumerate().filter(|(_, cut)| **cut) {
            share[i] = if round < CUTS { share[i] * KEPT } else { 0.0 };
            for c in 0..3 {
                nodes[i][c] = sampled[i][c] + share[i] * (fitted[i][c] - sampled[i][c]);
            }
        }
        changed = cut;
    }
    nodes
}

/// The nodes of all that is newly turned over or falls, as far as it has `changed`.
fn turned(cells: &Cells, sampled: &Nodes, nodes: &Nodes, changed: &[bool]) -> Vec<bool> {
    let mut found = vec![false; nodes.len()];
    let steps = cells.along() as f64;
    for (_, first) in cells.each() {
        let cell = cells.steps.map(|step| first + step);
        if !cell.iter().any(|&node| changed[node]) {
            continue;
        }
        for (corners, order) in CORNERS.into_iter().zip(ORDERS) {
            let at = corners.map(|corner| cell[corner]);
            let slopes = |nodes: &Nodes| determinant(at.map(|node| nodes[node]), order, steps);
            let now = slopes(nodes);
            if now < FOLD * EARLIER {
                let before = slopes(sampled);
                if before >= FOLD && now < before {
                    at.iter().for_each(|&node| found[node] = true);
                }
            }
        }
    }
    let fall = FALL * EARLIER as f32;
    for (channel, step) in [cells.steps[1], cells.steps[2], cells.steps[4]]
        .into_iter()
        .enumerate()
    {
        for low in (0..nodes.len() - step).filter(|low| low / step % cells.size < cells.along()) {
            let high = low + step;
            let fall_of = |nodes: &Nodes| nodes[low][channel] - nodes[high][channel];
            let (now, before) = (fall_of(nodes), fall_of(sampled));
            let is_new = now > fall && before <= FALL && now > before;
            if (changed[low] || changed[high]) && is_new {
                (found[low], found[high]) = (true, true);
            }
        }
    }
    found
}
