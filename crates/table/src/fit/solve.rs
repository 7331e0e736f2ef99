//! The weighted least squares, by conjugate gradients with the diagonal as preconditioner.
//!
//! Channels share one matrix, so they are solved as one, with steps in common: channels that are
//! alike come out alike.

use super::cells::{CORNERS, Cells, TETRAHEDRA};

/// What pulls a node back to its sample, of the weight of a node among greys. Where colours are
/// met fifty times less often, nodes stay nearly as sampled.
const RIDGE: f32 = 0.02;
/// Steps of one solution; the next begins where it ended.
const STEPS: usize = 6;
/// A tetrahedron is a sixth of its cell, and its centre lies a quarter on each of its nodes.
const GATHERED: f32 = 0.25 / TETRAHEDRA as f32;
const SQUARED: f32 = 0.25 * GATHERED;

/// Three channels and a fourth number that stays 0, so that a node is one vector.
pub(super) type Node = [f32; 4];

/// Brings `correction` to the weighted least squares. Held nodes are left as they are.
pub(super) fn correct(
    cells: &Cells,
    weights: &[f32],
    missed: &[[f32; 3]],
    correction: &mut [Node],
) {
    let scale = inverse_diagonal(cells, weights);
    let mut moved = vec![[0.0; 4]; correction.len()];
    apply(cells, weights, correction, &mut moved);
    let mut left = wanted(cells, weights, missed);
    for (left, moved) in left.iter_mut().zip(&moved) {
        for c in 0..4 {
            left[c] -= moved[c];
        }
    }
    let mut along = vec![[0.0; 4]; correction.len()];
    let mut before = f64::INFINITY;
    for _ in 0..STEPS {
        let size = scaled_square(&left, &scale);
        if size <= 0.0 {
            return;
        }
        let turn = (size / before) as f32;
        before = size;
        for ((along, left), scale) in along.iter_mut().zip(&left).zip(&scale) {
            for c in 0..4 {
                along[c] = scale * left[c] + turn * along[c];
            }
        }
        apply(cells, weights, &along, &mut moved);
        let step = (size / dot(&along, &moved)) as f32;
        for (i, along) in along.iter().enumerate() {
            for c in 0..4 {
                correction[i][c] += step * along[c];
                left[i][c] -= step * moved[i][c];
            }
        }
    }
}

/// 1 over the matrix's diagonal; 0 for held nodes, which never move by that.
fn inverse_diagonal(cells: &Cells, weights: &[f32]) -> Vec<f32> {
    let mut diagonal = vec![RIDGE; cells.size.pow(3)];
    for ((_, first), weights) in cells.each().zip(weights.chunks_exact(TETRAHEDRA)) {
        for (corners, weight) in CORNERS.iter().zip(weights) {
            for &corner in corners {
                diagonal[first + cells.steps[corner]] += weight * SQUARED;
            }
        }
    }
    let inverse = |(i, d): (usize, f32)| if cells.is_held(i) { 0.0 } else { 1.0 / d };
    diagonal.into_iter().enumerate().map(inverse).collect()
}

/// `to` becomes the matrix times `of`.
fn apply(cells: &Cells, weights: &[f32], of: &[Node], to: &mut [Node]) {
    for (to, of) in to.iter_mut().zip(of) {
        *to = of.map(|v| RIDGE * v);
    }
    for ((_, first), weights) in cells.each().zip(weights.chunks_exact(TETRAHEDRA)) {
        let cell = cells.steps.map(|step| of[first + step]);
        let ends = sum(cell[0], cell[7]);
        let mut sums = [[0.0; 4]; 8];
        for (corners, weight) in CORNERS.iter().zip(weights) {
            let [_, a, ab, _] = *corners;
            let four = sum(ends, sum(cell[a], cell[ab]));
            let share = four.map(|v| weight * SQUARED * v);
            for corner in [0, a, ab] {
                sums[corner] = sum(sums[corner], share);
            }
        }
        sums[7] = sums[0];
        for (step, value) in cells.steps.iter().zip(sums) {
            let node = &mut to[first + step];
            *node = sum(*node, value);
        }
    }
}

#[inline(always)]
fn sum(a: Node, b: Node) -> Node {
    core::array::from_fn(|c| a[c] + b[c])
}

/// The right side: what is missed, gathered at the nodes.
fn wanted(cells: &Cells, weights: &[f32], missed: &[[f32; 3]]) -> Vec<Node> {
    let mut wanted = vec![[0.0; 4]; cells.size.pow(3)];
    let each = weights.iter().zip(missed);
    let mut each = each.map(|(weight, [r, g, b])| [*r, *g, *b, 0.0].map(|v| GATHERED * weight * v));
    for (_, first) in cells.each() {
        for (corners, value) in CORNERS.iter().zip(each.by_ref()) {
            for &corner in corners {
                let node = &mut wanted[first + cells.steps[corner]];
                *node = sum(*node, value);
            }
        }
    }
    wanted
}

fn dot(a: &[Node], b: &[Node]) -> f64 {
    let products = a.iter().flatten().zip(b.iter().flatten());
    products.map(|(a, b)| f64::from(*a) * f64::from(*b)).sum()
}

/// The sum of squares, each times its node's scale.
fn scaled_square(values: &[Node], scale: &[f32]) -> f64 {
    let one = |(value, scale): (&Node, &f32)| -> f64 {
        let squares = value.iter().map(|v| f64::from(*v) * f64::from(*v));
        squares.sum::<f64>() * f64::from(*scale)
    };
    values.iter().zip(scale).map(one).sum()
}
