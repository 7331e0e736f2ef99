//! The fast grain field, row by row from top to bottom.
//!
//! Cells are as coarse as pixel and clump allow, so a pixel sees few of them; each row of cells is
//! made once and kept while pixels see it; rows are summed down before they are summed across;
//! and the three layers run side by side.

use core::ops::Range;

use super::Clump;
use super::aperture::{LANES, Places, Window, level_for};
use super::lattice::{Lattice, TOP_LEVEL};
use crate::lane::widest;
use crate::path::negative::gauge::FilmScale;

/// Cells and weights of a whole buffer.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    clump: Clump,
    level: usize,
    window: Window,
    across: Places,
    down: Places,
}

impl Plan {
    pub(super) fn new(width: usize, height: usize, scale: &FilmScale, clump: &Clump) -> Self {
        let finest = clump.sigma_um.iter().fold(f64::INFINITY, |a, &b| a.min(b));
        let level = level_for(scale.um_per_pixel, finest, TOP_LEVEL);
        let cell_um = libm::exp2(level as f64);
        let window = Window::new(scale.um_per_pixel, cell_um, clump.sigma_um);
        let (first_column, first_row) = scale.first_pixel;
        Self {
            clump: *clump,
            level,
            across: window.places(first_column, width),
            down: window.places(first_row, height),
            window,
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
        let (across, taps) = (&plan.across, plan.window.taps);
        let first = across.starts[columns.start].0;
        let cells = (across.starts[columns.end - 1].0 - first) as usize + taps;
        let first_column = across.first_cell + first as i32;
        Self {
            plan,
            columns,
            lattice: Lattice::new(plan.clump.seed, plan.level, first_column, cells),
            kept: vec![vec![[0.0; LANES]; cells]; taps],
            kept_rows: vec![None; taps],
            summed: vec![[0.0; LANES]; cells],
        }
    }

    /// Row `y` of the three layers.
    pub(super) fn row(&mut self, y: usize, out: &mut [Vec<f32>; 3]) {
        let Plan {
            window,
            across,
            down,
            ..
        } = self.plan;
        let (start, phase) = down.starts[y];
        let first = down.first_cell + start as i32;
        for row in first..first + window.taps as i32 {
            self.keep(row);
        }
        let slot = |row: i32| row.rem_euclid(self.kept.len() as i32) as usize;
        let rows: Vec<(&[f32], [f32; VECTOR])> = (first..)
            .zip(window.of(phase))
            .map(|(row, weight)| {
                let cells = self.kept[slot(row)].as_flattened();
                (cells, core::array::from_fn(|i| weight[i % LANES]))
            })
            .collect();
        widest(
            #[inline(always)]
            || sum_down(&rows, self.summed.as_flattened_mut()),
        );
        let starts = &across.starts[self.columns.clone()];
        widest(
            #[inline(always)]
            || sum_across(&self.summed, starts, window, out),
        );
    }

    /// Makes a row of cells if it is not there.
    fn keep(&mut self, row: i32) {
        let slot = row.rem_euclid(self.kept.len() as i32) as usize;
        if self.kept_rows[slot] != Some(row) {
            self.kept_rows[slot] = Some(row);
            let (kept, clump) = (&mut self.kept[slot], &self.plan.clump);
            let cells = self.lattice.row(row);
            widest(
                #[inline(always)]
                || {
                    for (mixed, cell) in kept.iter_mut().zip(cells) {
                        *mixed = clump.layers(*cell);
                    }
                },
            );
        }
    }
}

/// Numbers that are summed side by side: as many as the widest vectors hold, and the layers of a
/// cell again and again.
const VECTOR: usize = 4 * LANES;

/// Weighted sum of rows.
#[inline(always)]
fn sum_down(rows: &[(&[f32], [f32; VECTOR])], sums: &mut [f32]) {
    let (vectors, rest) = sums.as_chunks_mut::<VECTOR>();
    let rest_at = vectors.len() * VECTOR;
    for (i, sums) in vectors.iter_mut().enumerate() {
        let mut total = [0.0; VECTOR];
        for (row, weights) in rows {
            let cells = &row[i * VECTOR..(i + 1) * VECTOR];
            for k in 0..VECTOR {
                total[k] += cells[k] * weights[k];
            }
        }
        *sums = total;
    }
    rest.fill(0.0);
    for (row, weights) in rows {
        for ((sum, cell), weight) in rest.iter_mut().zip(&row[rest_at..]).zip(weights) {
            *sum += cell * weight;
        }
    }
}

/// For each pixel, the weighted sum of the cells that it sees, from its start on.
#[inline(always)]
fn sum_across(
    cells: &[[f32; LANES]],
    starts: &[(u32, u32)],
    window: &Window,
    [red, green, blue]: &mut [Vec<f32>; 3],
) {
    let out = red.iter_mut().zip(green.iter_mut()).zip(blue.iter_mut());
    for (((r, g), b), &(start, phase)) in out.zip(starts) {
        let start = (start - starts[0].0) as usize;
        let mut sum = [0.0_f32; LANES];
        for (cell, weight) in cells[start..].iter().zip(window.of(phase)) {
            for lane in 0..LANES {
                sum[lane] += cell[lane] * weight[lane];
            }
        }
        (*r, *g, *b) = (sum[0], sum[1], sum[2]);
    }
}
