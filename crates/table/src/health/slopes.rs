//! The slopes in each cell of a table: where it folds over, falls, or is flat.
//!
//! Between the nodes a table is linear in each of six tetrahedra, so its Jacobian there is a
//! constant matrix of differences between nodes. Where its determinant is below zero, colour space
//! is turned over on itself: two different colours come out in exchanged order. Where it is zero,
//! colours fall together and cannot be undone.

use super::judge::{BLACK_VELVET, Judge, Setting};
use super::ordinary::ordinary_nodes;
use crate::Grid3;
use lookwright_colour::error::Result;

/// Determinants below this are folds, those nearer to zero are rounding and flat ends: slopes of a
/// tenth of the identity's, turned over; at 33 nodes that is less than a code of 8 bits.
pub(crate) const FOLD: f64 = -1e-3;
/// Determinants of a smaller size are flat: as of slopes of 0.01 in all three directions.
const FLAT: f64 = 1e-6;
/// Fall of a channel between two nodes that is not yet a reversal: one code of 10 bits.
pub(crate) const FALL: f32 = 1.0 / 1023.0;

/// The six orders in which a tetrahedron goes along the axes.
pub(crate) const ORDERS: [[usize; 3]; 6] = [
    [0, 1, 2],
    [0, 2, 1],
    [1, 0, 2],
    [1, 2, 0],
    [2, 0, 1],
    [2, 1, 0],
];

/// What the slopes of a table's cells say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Slopes {
    /// Whether shares of what counts are of colours that surfaces have; of all where it is not known what
    /// goes in.
    pub of_surfaces: bool,
    /// Share of the tetrahedra that count that are turned over.
    pub folded: f64,
    /// Share of all tetrahedra that are turned over.
    pub folded_anywhere: f64,
    /// Share of the tetrahedra of ordinary colours that are turned over.
    pub folded_ordinary: f64,
    /// The node whose cell is turned over most, and its determinant: of what counts, if any of that is.
    pub worst_fold: Option<([usize; 3], f64)>,
    /// Share of tetrahedra that are flat.
    pub flat: f64,
    /// Share of the steps that count, along a channel's own axis, where that channel falls.
    pub reversed: f64,
    /// The same for ordinary colours.
    pub reversed_ordinary: f64,
    /// The farthest that a channel falls while grey gets lighter, above black.
    pub grey_fall: f32,
    /// The node, channel and size of the largest fall.
    pub worst_reversal: Option<([usize; 3], usize, f32)>,
}

/// Measures every cell of `grid`. An ordinary colour has on the screen no more chroma than 30 and a
/// lightness of 4.5 to 92, and the same before the table where what goes in is known; else codes no
/// further than 0.1 apart. What counts is what surfaces have, within Pointer's gamut, or all.
///
/// # Errors
/// If the setting cannot be judged.
pub fn slopes(grid: &Grid3, setting: Setting) -> Result<Slopes> {
    let judge = Judge::new(setting)?;
    let ordinary_nodes = ordinary_nodes(grid, &judge);
    let ordinary = |node: &[usize; 3]| ordinary_nodes[place(grid, *node)];
    let (mut cells, mut steps) = (Counts::default(), Counts::default());
    let mut flat = 0.0;
    let last = grid.size() - 1;
    for b in 0..=last {
        for g in 0..=last {
            for r in 0..=last {
                let node = [r, g, b];
                let counts = counts(grid, &judge, node);
                for channel in (0..3).filter(|&channel| node[channel] < last) {
                    let nodes = [node, moved(node, channel)];
                    let [here, next] = nodes.map(|n| grid.node(n)[channel]);
                    let bad = (here - next > FALL).then_some((here - next, (node, channel)));
                    steps.add(counts, nodes.iter().all(ordinary), bad);
                }
                if r < last && g < last && b < last {
                    for order in ORDERS {
                        let nodes = tetrahedron(node, order);
                        let det = determinant(nodes.map(|n| grid.node(n)), order, last as f64);
                        let bad = (det < FOLD).then_some((-det, node));
                        cells.add(counts, nodes.iter().all(ordinary), bad);
                        flat += f64::from(u8::from(det.abs() < FLAT));
                    }
                }
            }
        }
    }
    let [folded_anywhere, folded, folded_ordinary] = cells.shares();
    let [_, reversed, reversed_ordinary] = steps.shares();
    Ok(Slopes {
        of_surfaces: judge.source.is_some(),
        folded,
        folded_anywhere,
        folded_ordinary,
        worst_fold: cells.worst.map(|(_, size, node)| (node, -size)),
        flat: flat / (ORDERS.len() * last * last * last) as f64,
        reversed,
        reversed_ordinary,
        grey_fall: grey_fall(grid, &judge),
        worst_reversal: steps
            .worst
            .map(|(_, fall, (node, channel))| (node, channel, fall)),
    })
}

/// Whether the middle of the cell that begins at a node is a colour that surfaces have; of an unknown one all
/// count.
fn counts(grid: &Grid3, judge: &Judge, node: [usize; 3]) -> bool {
    judge.source.as_ref().is_none_or(|source| {
        let ends = [node, node.map(|i| (i + 1).min(grid.size() - 1))];
        let [a, b] = ends.map(|end| grid.input_of(end));
        source.is_surface([0, 1, 2].map(|c| (a[c] + b[c]) / 2.0))
    })
}

/// How many there are and how many of them are bad: of all, of what counts, of ordinary ones.
struct Counts<Size, Place> {
    there: [f64; 3],
    bad: [f64; 3],
    /// Whether the worst counts, its size, and where it is.
    worst: Option<(bool, Size, Place)>,
}

impl<Size, Place> Default for Counts<Size, Place> {
    fn default() -> Self {
        Self {
            there: [0.0; 3],
            bad: [0.0; 3],
            worst: None,
        }
    }
}

impl<Size: PartialOrd + Copy, Place> Counts<Size, Place> {
    fn add(&mut self, counts: bool, ordinary: bool, bad: Option<(Size, Place)>) {
        for (i, is) in [true, counts, ordinary].into_iter().enumerate() {
            self.there[i] += f64::from(u8::from(is));
            self.bad[i] += f64::from(u8::from(is && bad.is_some()));
        }
        if let Some((size, place)) = bad
            && self
                .worst
                .as_ref()
                .is_none_or(|&(counted, worst, _)| (counts, size) > (counted, worst))
        {
            self.worst = Some((counts, size, place));
        }
    }

    fn shares(&self) -> [f64; 3] {
        [0, 1, 2].map(|i| self.bad[i] / self.there[i].max(1.0))
    }
}

fn place(grid: &Grid3, [r, g, b]: [usize; 3]) -> usize {
    r + grid.size() * (g + grid.size() * b)
}

/// The farthest any channel comes down from the most that it had on the grey axis before. In what comes out
/// darker than velvet no one sees it.
fn grey_fall(grid: &Grid3, judge: &Judge) -> f32 {
    let mut most = [f32::MIN; 3];
    let mut farthest = 0.0_f32;
    let mut seen = false;
    for out in (0..grid.size()).map(|i| grid.node([i; 3])) {
        seen |= judge.lab(out).l > BLACK_VELVET;
        for (most, value) in most.iter_mut().zip(out) {
            *most = most.max(value);
            if seen {
                farthest = farthest.max(*most - value);
            }
        }
    }
    farthest
}

fn moved(mut node: [usize; 3], axis: usize) -> [usize; 3] {
    node[axis] += 1;
    node
}

/// The nodes of one tetrahedron of the cell that begins at `first`.
fn tetrahedron(first: [usize; 3], order: [usize; 3]) -> [[usize; 3]; 4] {
    let mut nodes = [first; 4];
    for (i, axis) in order.into_iter().enumerate() {
        nodes[i + 1] = moved(nodes[i], axis);
    }
    nodes
}

/// Determinant of the slopes in a tetrahedron with these `values` at its nodes, the axes in the
/// `order` in which it goes along them, input in units of the whole domain, which is `steps` cells
/// long.
pub(crate) fn determinant(values: [[f32; 3]; 4], order: [usize; 3], steps: f64) -> f64 {
    let mut column = [[0.0; 3]; 3];
    for (i, axis) in order.into_iter().enumerate() {
        let (a, b) = (values[i], values[i + 1]);
        column[axis] = core::array::from_fn(|c| (f64::from(b[c]) - f64::from(a[c])) * steps);
    }
    let [x, y, z] = column;
    x[0] * (y[1] * z[2] - y[2] * z[1]) - x[1] * (y[0] * z[2] - y[2] * z[0])
        + x[2] * (y[0] * z[1] - y[1] * z[0])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn measured(grid: &Grid3) -> Slopes {
        slopes(grid, Setting::default()).unwrap()
    }

    #[test]
    fn an_identity_has_no_fault() {
        let found = measured(&Grid3::sample_codes(9, |rgb| rgb).unwrap());
        assert_eq!(found, Slopes::default());
    }

    #[test]
    fn the_determinant_is_that_of_the_matrix() {
        let grid = Grid3::sample_codes(4, |[r, g, b]| {
            [0.5 * r + 0.25 * g, 0.75 * g - 0.25 * b, 0.5 * b + 0.125 * r]
        })
        .unwrap();
        for order in ORDERS {
            let nodes = tetrahedron([1, 2, 0], order);
            let det = determinant(nodes.map(|n| grid.node(n)), order, 3.0);
            // 0.5 (0.75 * 0.5) + 0.25 (-0.25 * 0.125), expanded along the first row by hand.
            assert!((det - (0.1875 - 0.007_812_5)).abs() < 1e-6);
        }
    }
}
