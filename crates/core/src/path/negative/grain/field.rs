//! The fast grain field, row by row from top to bottom.
//!
//! Cells are as coarse as pixel and clump allow, so a pixel sees few of them; each row of cells is
//! made once and kept while pixels see it; rows are summed down before they are summed across;
//! and the three layers run side by side.

use core::ops::Range;

use super::Clump;
use super::aperture::{LANES, Weights, level_for};
use super::lattice::{Lattice, TOP_LEVEL};
use crate::path::negative::gauge::FilmScale;

/// Cells and weights of a whole buffer.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    clump: Clump,
    level: usize,
    across: Weights,
    down: Weights,
}

impl Plan {
    pub(super) fn new(width: usize, height: usize, scale: &FilmScale, clump: &Clump) -> Self {
        let finest = clump.sigma_um.iter().fold(f64::INFINITY, |a, &b| a.min(b));
        let level = level_for(scale.um_per_pixel, finest, TOP_LEVEL);
        let cell_um = libm::exp2(level as f64);
        let weights =
            |first, count| Weights::new(first, count, scale.um_per_pixel, cell_um, clump.sigma_um);
        Self {
            clump: *clump,
            level,
            across: weights(scale.first_pixel.0, width),
            down: weights(scale.first_pixel.1, height),
        }
    }
}

/// The field of unit granularity over some columns of a buffer, best a few hundred: its rows of
/// cells are read again and again and should stay in the cache. Memory: those rows, nothing that
/// grows with the picture's height.
#[derive(Clone, Debug)]
pub(super) struct Field<'a> {
    plan: &'a Plan,
    columns: Range<usize>,
    lattice: Lattice,
    /// Mixed rows of cells, row `r` at `r mod kept.len()`, and which one is there.
    kept: Vec<Vec<[f32; LANES]>>,
    kept_rows: Vec<Option<i32>>,
    summed: Vec<[f32; LANES]>,
}

impl<'a> Field<'a> {
    /// For the buffer's columns `columns`, at least one.
    pub(super) fn new(plan: &'a Plan, columns: Range<usize>) -> Self {
        let across = &plan.across;
        let first = across.starts[columns.start];
        let cells = (across.starts[columns.end - 1] - first) as usize + across.taps;
        let first_column = across.first_cell + first as i32;
        Self {
            plan,
            columns,
            lattice: Lattice::new(plan.clump.seed, plan.level, first_column, cells),
            kept: vec![vec![[0.0; LANES]; cells]; plan.down.taps],
            kept_rows: vec![None; plan.down.taps],
            summed: vec![[0.0; LANES]; cells],
        }
    }

    /// Row `y` of the three layers.
    pub(super) fn row(&mut self, y: usize, out: &mut [Vec<f32>; 3]) {
        let Plan { across, down, .. } = self.plan;
        let first = down.first_cell + down.starts[y] as i32;
        for row in first..first + down.taps as i32 {
            self.keep(row);
        }
        let slot = |row: i32| row.rem_euclid(self.kept.len() as i32) as usize;
        let rows: Vec<(&[[f32; LANES]], [f32; LANES])> = (first..)
            .zip(down.of(y))
            .map(|(row, weight)| (self.kept[slot(row)].as_slice(), *weight))
            .collect();
        for (block, sums) in self.summed.chunks_mut(BLOCK).enumerate() {
            sum_down(&rows, block * BLOCK, sums);
        }
        let taps = across.taps;
        let starts = &across.starts[self.columns.clone()];
        let weights = &across.weights[self.columns.start * taps..self.columns.end * taps];
        let pixels = starts.iter().zip(weights.chunks_exact(taps));
        let [red, green, blue] = out;
        let out = red.iter_mut().zip(green.iter_mut()).zip(blue.iter_mut());
        for (((r, g), b), (&start, weights)) in out.zip(pixels) {
            let start = (start - starts[0]) as usize;
            let cells = &self.summed[start..start + taps];
            let mut sum = [0.0_f32; LANES];
            for (cell, weight) in cells.iter().zip(weights) {
                for lane in 0..LANES {
                    sum[lane] += cell[lane] * weight[lane];
                }
            }
            (*r, *g, *b) = (sum[0], sum[1], sum[2]);
        }
    }

    /// Makes a row of cells if it is not there.
    fn keep(&mut self, row: i32) {
        let slot = row.rem_euclid(self.kept.len() as i32) as usize;
        if self.kept_rows[slot] != Some(row) {
            self.kept_rows[slot] = Some(row);
            for (mixed, cell) in self.kept[slot].iter_mut().zip(self.lattice.row(row)) {
                *mixed = self.plan.clump.layers(*cell);
            }
        }
    }
}

/// Cells that are summed side by side in registers.
const BLOCK: usize = 4;

/// Weighted sum of rows, for up to [`BLOCK`] cells from `at` on.
fn sum_down(rows: &[(&[[f32; LANES]], [f32; LANES])], at: usize, sums: &mut [[f32; LANES]]) {
    let mut total = [[0.0_f32; LANES]; BLOCK];
    if sums.len() == BLOCK {
        for (row, weight) in rows {
            let cells = &row[at..at + BLOCK];
            for (sum, cell) in total.iter_mut().zip(cells) {
                for lane in 0..LANES {
                    sum[lane] += cell[lane] * weight[lane];
                }
            }
        }
    } else {
        for (row, weight) in rows {
            for (sum, cell) in total.iter_mut().zip(&row[at..]) {
                for lane in 0..LANES {
                    sum[lane] += cell[lane] * weight[lane];
                }
            }
        }
    }
    sums.copy_from_slice(&total[..sums.len()]);
}
