//! The fast grain field, row by row from top to bottom.
//!
//! Cells are as coarse as pixel and clump allow, so a pixel sees few of them; each row of cells is
//! made once and kept while pixels see it; rows are summed down before they are summed across;
//! and the three layers run side by side.

use core::ops::Range;

use super::Clump;
use super::aperture::{LANES, Places, Window, level_for};
use super::lattice::{Lattice, TOP_LEVEL};
use crate::path::negative::gauge::FilmScale;
use lookwright_colour::lane::widest;

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
    /// With `margin` more pixels on every side.
    pub(super) fn new(
        width: usize,
        height: usize,
        margin: usize,
        scale: &FilmScale,
        clump: &Clump,
    ) -> Self {
        let level = level_for(scale.um_per_pixel, clump.finest_um, TOP_LEVEL);
        let cell_um = libm::exp2(level as f64);
        let window = Window::new(scale.um_per_pixel, cell_um, clump.sigma_um);
        let first = |pixel: i32| i64::from(pixel) - margin as i64;
        let (first_column, first_row) = scale.first_pixel;
        Self {
            clump: *clump,
            level,
            across: window.places(first(first_column), width + 2 * margin),
            down: window.places(first(first_row), height + 2 * margin),
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
    kept: Vec<[Vec<f32>; 3]>,
    kept_rows: Vec<Option<i32>>,
    /// Each layer's rows of cells summed down, and all of them cell by cell.
    summed: [Vec<f32>; 3],
    cells: Vec<[f32; LANES]>,
    /// What the pixels see.
    seen: Vec<[f32; LANES]>,
}

impl<'a> Field<'a> {
    /// For the buffer's columns `columns`, at least one.
    pub(super) fn new(plan: &'a Plan, columns: Range<usize>) -> Self {
        let (across, taps) = (&plan.across, plan.window.taps);
        let first = across.starts[columns.start].0;
        let cells = (across.starts[columns.end - 1].0 - first) as usize + taps;
        let first_column = across.first_cell + first as i32;
        let count = columns.len();
        Self {
            plan,
            columns,
            lattice: Lattice::new(plan.clump.seed, plan.level, first_column, cells),
            kept: vec![[(); 3].map(|()| vec![0.0; cells]); taps],
            kept_rows: vec![None; taps],
            summed: [(); 3].map(|()| vec![0.0; cells]),
            cells: vec![[0.0; LANES]; cells],
            seen: vec![[0.0; LANES]; count],
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
        for (layer, sums) in self.summed.iter_mut().enumerate() {
            let rows = (first..).zip(window.of(phase));
            let rows: Vec<(&[f32], f32)> = rows
                .map(|(row, weight)| (self.kept[slot(row)][layer].as_slice(), weight[layer]))
                .collect();
            widest(
                #[inline(always)]
                || sum_down(&rows, sums),
            );
        }
        let starts = &across.starts[self.columns.clone()];
        widest(
            #[inline(always)]
            || {
                join(&self.summed, &mut self.cells);
                sum_across(&self.cells, starts, window, &mut self.seen);
                part(&self.seen, out);
            },
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
                    let shared = cells[3];
                    for (layer, (kept, own)) in kept.iter_mut().zip(cells).enumerate() {
                        for ((mixed, own), shared) in kept.iter_mut().zip(own).zip(shared) {
                            *mixed = clump.mixed(layer, *own, *shared);
                        }
                    }
                },
            );
        }
    }
}

/// Cells that are summed side by side.
const BLOCK: usize = 16;

/// Weighted sum of rows.
#[inline(always)]
fn sum_down(rows: &[(&[f32], f32)], sums: &mut [f32]) {
    let (blocks, rest) = sums.as_chunks_mut::<BLOCK>();
    let rest_at = blocks.len() * BLOCK;
    for (i, sums) in blocks.iter_mut().enumerate() {
        let mut total = [0.0; BLOCK];
        for (row, weight) in rows {
            let cells = &row[i * BLOCK..(i + 1) * BLOCK];
            for k in 0..BLOCK {
                total[k] += cells[k] * weight;
            }
        }
        *sums = total;
    }
    for (i, sum) in rest.iter_mut().enumerate() {
        *sum = rows.iter().fold(0.0, |total, (row, weight)| {
            total + row[rest_at + i] * weight
        });
    }
}

/// Three rows, layer by layer, as one, cell by cell.
#[inline(always)]
fn join([red, green, blue]: &[Vec<f32>; 3], cells: &mut [[f32; LANES]]) {
    for (((cell, r), g), b) in cells.iter_mut().zip(red).zip(green).zip(blue) {
        *cell = [*r, *g, *b, 0.0];
    }
}

/// [`join`] undone.
#[inline(always)]
fn part(cells: &[[f32; LANES]], [red, green, blue]: &mut [Vec<f32>; 3]) {
    for (((cell, r), g), b) in cells.iter().zip(red).zip(green).zip(blue) {
        (*r, *g, *b) = (cell[0], cell[1], cell[2]);
    }
}

/// For each pixel, the weighted sum of the cells that it sees, from its start on. All four lanes
/// are summed and kept: three would not go into vectors.
#[inline(always)]
fn sum_across(
    cells: &[[f32; LANES]],
    starts: &[(u32, u32)],
    window: &Window,
    seen: &mut [[f32; LANES]],
) {
    for (seen, &(start, phase)) in seen.iter_mut().zip(starts) {
        let start = (start - starts[0].0) as usize;
        let mut sum = [0.0_f32; LANES];
        for (cell, weight) in cells[start..].iter().zip(window.of(phase)) {
            for lane in 0..LANES {
                sum[lane] += cell[lane] * weight[lane];
            }
        }
        *seen = sum;
    }
}
