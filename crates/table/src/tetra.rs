//! Between the nodes of a 3D table: tetrahedral and trilinear interpolation of one cell.
//!
//! Trilinear: the sum over 8 corners of `V * prod(d or 1 - d)`. Tetrahedral: the cell is split
//! along its neutral diagonal into six tetrahedra. With the fractions sorted `d1 >= d2 >= d3`
//!
//! ```text
//! V = V000 (1 - d1) + Va (d1 - d2) + Vab (d2 - d3) + V111 d3
//! ```
//!
//! where `a` is the axis of `d1` and `ab` the axes of `d1` and `d2`. Source: the matrices of the
//! Common LUT Format specification 3.0, appendix A (Academy S-2014-006). Its table of cases
//! compares strictly, so that ties fall through to the last one and give wrong values; here ties
//! compare by `>=`, so equal fractions have an order and weigh nothing where they differ.
//!
//! On the neutral axis only diagonal nodes weigh, so greys stay grey.

use lookwright_colour::lane::Lane;
use lookwright_colour::rgb::Rgb;

/// How a 3D table is read between its nodes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Interpolation {
    /// Six tetrahedra on the neutral diagonal: greys stay grey.
    #[default]
    Tetrahedral,
    /// Linear along each axis in turn.
    Trilinear,
}

/// Four nodes of a cell and their weights: which nodes, as distances from the cell's first node.
///
/// `step_a` and `step_ab` are whole numbers made of the strides given to [`TetraSplit::of`], so
/// that a fast path can turn them into addresses; `f32` holds them exactly for every grid size.
#[derive(Clone, Copy, Debug)]
pub struct TetraSplit<L> {
    /// Weights of the first node, node `a`, node `ab` and the last node; they sum to 1.
    pub weight: [L; 4],
    /// Distance from the first node to node `a`.
    pub step_a: L,
    /// Distance from the first node to node `ab`.
    pub step_ab: L,
}

impl<L: Lane> TetraSplit<L> {
    /// The tetrahedron that `d` falls into.
    ///
    /// `d`: position inside the cell, each 0 ... 1. `stride`: distance between neighbouring nodes
    /// along red, green and blue.
    #[inline(always)]
    #[must_use]
    pub fn of(d: Rgb<L>, stride: [f32; 3]) -> Self {
        let largest = d.r.max(d.g).max(d.b);
        let smallest = d.r.min(d.g).min(d.b);
        let of = |value: f32| d.r.of(value);
        let (step_r, step_g, step_b) = (of(stride[0]), of(stride[1]), of(stride[2]));
        // The first of red, green, blue that is the largest; the last that is the smallest.
        let step_a = L::select(
            largest.le(d.r),
            step_r,
            L::select(largest.le(d.g), step_g, step_b),
        );
        let step_c = L::select(
            d.b.le(smallest),
            step_b,
            L::select(d.g.le(smallest), step_g, step_r),
        );
        let middle = middle_of(d);
        Self {
            weight: [
                -largest + 1.0,
                largest - middle,
                middle - smallest,
                smallest,
            ],
            step_a,
            step_ab: of(stride[0] + stride[1] + stride[2]) - step_c,
        }
    }
}

/// The middle one of three, without rounding.
#[inline(always)]
fn middle_of<L: Lane>(d: Rgb<L>) -> L {
    let low = d.r.min(d.g);
    let high = d.r.max(d.g);
    low.max(high.min(d.b))
}

/// Position of corner (r, g, b) among the eight corners of a cell, red fastest.
const CORNER_STRIDE: [f32; 3] = [1.0, 2.0, 4.0];

/// Tetrahedral interpolation from the eight `corners` of a cell, red fastest (000, 100, 010,
/// 110, 001, 101, 011, 111), at position `d`, each 0 ... 1.
#[inline(always)]
#[must_use]
pub fn tetrahedral<L: Lane>(corners: &[Rgb<L>; 8], d: Rgb<L>) -> Rgb<L> {
    let split = TetraSplit::of(d, CORNER_STRIDE);
    let pick = |step: L| {
        let mut picked = corners[1];
        for (index, corner) in (2_u8..=6).zip(&corners[2..=6]) {
            let here = step.of(f32::from(index)).le(step);
            picked = Rgb::new(
                L::select(here, corner.r, picked.r),
                L::select(here, corner.g, picked.g),
                L::select(here, corner.b, picked.b),
            );
        }
        picked
    };
    let nodes = [
        corners[0],
        pick(split.step_a),
        pick(split.step_ab),
        corners[7],
    ];
    weigh(&nodes, &split.weight)
}

/// `sum_i weight[i] nodes[i]`, from left to right.
#[inline(always)]
pub(crate) fn weigh<L: Lane>(nodes: &[Rgb<L>; 4], weight: &[L; 4]) -> Rgb<L> {
    let sum = |channel: fn(&Rgb<L>) -> L| {
        channel(&nodes[0]) * weight[0]
            + channel(&nodes[1]) * weight[1]
            + channel(&nodes[2]) * weight[2]
            + channel(&nodes[3]) * weight[3]
    };
    Rgb::new(sum(|n| n.r), sum(|n| n.g), sum(|n| n.b))
}

/// Trilinear interpolation from the eight `corners` of a cell, red fastest, at position `d`.
#[inline(always)]
#[must_use]
pub fn trilinear<L: Lane>(corners: &[Rgb<L>; 8], d: Rgb<L>) -> Rgb<L> {
    let between = |low: Rgb<L>, high: Rgb<L>, at: L| low.zip(high, |a, b| a * (-at + 1.0) + b * at);
    let red = |first: usize| between(corners[first], corners[first + 1], d.r);
    let near = between(red(0), red(2), d.g);
    let far = between(red(4), red(6), d.g);
    between(near, far, d.b)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Corner values of a worked cell, red fastest.
    const CORNERS: [f32; 8] = [0.0, 0.30, 0.60, 0.85, 0.10, 0.45, 0.72, 1.0];

    /// Position, trilinear, tetrahedral: worked by hand from the matrices of the Common LUT
    /// Format 3.0, appendix A. The tied rows tell `>=` from the printed `>`.
    const WORKED: [([f32; 3], f32, f32); 6] = [
        ([0.2, 0.5, 0.9], 0.4612, 0.4560),
        ([0.9, 0.5, 0.2], 0.5767, 0.5750),
        ([0.25, 0.25, 0.25], 0.250_937_5, 0.25),
        ([0.5, 0.5, 0.0], 0.4375, 0.425),
        ([0.5, 0.0, 0.5], 0.2125, 0.225),
        ([0.7, 0.7, 0.1], 0.61942, 0.61),
    ];

    fn corners() -> [Rgb; 8] {
        CORNERS.map(Rgb::grey)
    }

    #[test]
    fn worked_points_of_the_common_lut_format() {
        for (d, linear, tetra) in WORKED {
            let d = Rgb::from_array(d);
            assert!((trilinear(&corners(), d).g - linear).abs() < 1e-6, "{d:?}");
            assert!((tetrahedral(&corners(), d).g - tetra).abs() < 1e-6, "{d:?}");
        }
    }

    #[test]
    fn every_tie_gives_what_both_neighbouring_tetrahedra_give() {
        let nudge = 1e-4;
        for tied in [
            [0.6, 0.6, 0.2],
            [0.2, 0.6, 0.6],
            [0.6, 0.2, 0.6],
            [0.6, 0.3, 0.3],
            [0.3, 0.6, 0.3],
            [0.3, 0.3, 0.6],
        ] {
            let here = tetrahedral(&corners(), Rgb::from_array(tied)).r;
            for channel in 0..3 {
                for sign in [-1.0, 1.0] {
                    let mut moved = tied;
                    moved[channel] += sign * nudge;
                    let near = tetrahedral(&corners(), Rgb::from_array(moved)).r;
                    assert!((near - here).abs() < 2.0 * nudge, "{tied:?} {near} {here}");
                }
            }
        }
    }

    #[test]
    fn corners_come_back_exactly() {
        for (index, &value) in CORNERS.iter().enumerate() {
            let d = [index & 1, (index >> 1) & 1, index >> 2].map(|bit| bit as f32);
            let d = Rgb::from_array(d);
            assert_eq!(tetrahedral(&corners(), d).r, value);
            assert_eq!(trilinear(&corners(), d).r, value);
        }
    }
}
