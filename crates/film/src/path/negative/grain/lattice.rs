//! White noise that belongs to the film: the same at every scale, tile and order.
//!
//! The film is divided into square cells of 256 um, each of these into four, and so on down to 1
//! um. A cell's noise is its parent's share and three differences drawn for the parent (an
//! orthonormal Haar step):
//!
//! ```text
//! children = (P -/+ H -/+ V +/- D) / 2
//! ```
//!
//! so at every size the cells are uncorrelated, of variance 1, and a parent's noise is its
//! children's sum: a preview shows the very grains of the full picture, at the cost of its own
//! pixels. Everything is drawn from a hash of (seed, frame, level, row, column): no state.
//!
//! A cell holds four numbers: three of the layers' own and one that they share.

use core::ops::Range;
use lookwright_colour::hash::{GOLDEN, finalise};
use lookwright_colour::lane::widest;

/// Levels: cells of `2^level` um.
pub(super) const TOP_LEVEL: usize = 8;
/// Numbers per cell.
pub(super) const FIELDS: usize = 4;

/// What the noise is drawn from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Seed {
    pub(super) seed: u32,
    pub(super) frame: u32,
}

/// Three draws are made for each cell; a fourth for the cells of the top level.
#[derive(Clone, Copy)]
enum Draw {
    Across,
    Down,
    Corner,
    Top,
}

/// The keys of one row of cells for one draw.
#[derive(Clone, Copy)]
struct RowKey {
    first: u32,
    second: u32,
}

impl Seed {
    fn row_key(self, level: usize, row: i32, draw: Draw) -> RowKey {
        // Over the row's whole name.
        let picture = (u64::from(self.seed) << 32) | u64::from(self.frame);
        let place = (u64::from(row.cast_unsigned()) << 8) | ((level as u64) << 2) | draw as u64;
        let key = finalise(finalise(picture.wrapping_add(GOLDEN)) ^ place.wrapping_mul(GOLDEN));
        RowKey {
            first: key as u32,
            second: (key >> 32) as u32,
        }
    }
}

impl RowKey {
    /// 32 random bits for a column: two rounds of multiply and xor-shift, as 32-bit integer hashes
    /// have them, with a second key between the rounds.
    #[inline(always)]
    fn bits(self, column: i32) -> u32 {
        let x = column.cast_unsigned().wrapping_add(self.first);
        let x = (x ^ (x >> 16)).wrapping_mul(0x7feb_352d) ^ self.second;
        let x = (x ^ (x >> 15)).wrapping_mul(0x846c_a68b);
        x ^ (x >> 16)
    }
}

/// Four numbers of mean 0 and variance 1, evenly distributed, from 32 random bits.
#[inline(always)]
fn numbers(bits: u32) -> [f32; FIELDS] {
    core::array::from_fn(
        #[inline(always)]
        |field| number(bits, field),
    )
}

/// One of the four [`numbers`].
#[inline(always)]
fn number(bits: u32, field: usize) -> f32 {
    // The variance of a whole number from 0 to 255 is (256^2 - 1) / 12 = 73.9^2.
    const SCALE: f32 = 1.0 / 73.900_27;
    let byte = (bits >> (8 * field)) & 255;
    (byte.cast_signed() as f32 - 127.5) * SCALE
}

/// One row of cells: each of the four numbers in a row of its own, so that neighbours lie side by
/// side in vectors of any width.
pub(super) type CellRow = [Vec<f32>; FIELDS];

/// Rows of cells of one level over a range of columns, given out from top to bottom.
#[derive(Clone, Debug)]
pub(super) struct Lattice {
    seed: Seed,
    /// From the level asked for up to the top.
    levels: Vec<LevelRows>,
    columns: Range<usize>,
}

/// Rows that begin and end with whole pairs of children, and hold the children of [`DRAWN`] parents
/// at least.
#[derive(Clone, Debug)]
struct LevelRows {
    level: usize,
    first_column: i32,
    /// The two rows of one row of parents, and that row's number.
    pair: [CellRow; 2],
    parent_row: Option<i32>,
}

impl Lattice {
    /// Cells of `2^level` um, columns `first_column .. first_column + columns`.
    pub(super) fn new(seed: Seed, level: usize, first_column: i32, columns: usize) -> Self {
        let (mut first, mut end) = (first_column, first_column + columns as i32);
        let levels: Vec<_> = (level..=TOP_LEVEL)
            .map(|level| {
                (first, end) = (first & !1, (end + 1) & !1);
                end = end.max(first + 2 * DRAWN as i32);
                let row = [(); FIELDS].map(|()| vec![0.0; (end - first) as usize]);
                let rows = LevelRows {
                    level,
                    first_column: first,
                    pair: [row.clone(), row],
                    parent_row: None,
                };
                (first, end) = (first >> 1, end >> 1);
                rows
            })
            .collect();
        let skipped = (first_column & 1) as usize;
        Self {
            seed,
            levels,
            columns: skipped..skipped + columns,
        }
    }

    /// Row `row` of the level asked for.
    pub(super) fn row(&mut self, row: i32) -> [&[f32]; FIELDS] {
        fill(self.seed, &mut self.levels, row)
            .each_ref()
            .map(|field| &field[self.columns.clone()])
    }
}

fn fill(seed: Seed, levels: &mut [LevelRows], row: i32) -> &CellRow {
    let (this, above) = levels.split_at_mut(1);
    let this = &mut this[0];
    if this.parent_row != Some(row >> 1) {
        this.parent_row = Some(row >> 1);
        if above.is_empty() {
            for (i, cells) in this.pair.iter_mut().enumerate() {
                let key = seed.row_key(this.level, ((row >> 1) << 1) + i as i32, Draw::Top);
                for (field, cells) in cells.iter_mut().enumerate() {
                    for (column, cell) in (this.first_column..).zip(cells) {
                        *cell = number(key.bits(column), field);
                    }
                }
            }
        } else {
            let first_parent = this.first_column >> 1;
            let skipped = (first_parent - above[0].first_column) as usize;
            let parents = fill(seed, above, row >> 1)
                .each_ref()
                .map(|field| &field[skipped..]);
            this.divide(seed, parents, first_parent, row >> 1);
        }
    }
    &this.pair[(row & 1) as usize]
}

impl LevelRows {
    /// Both rows of the children of a row of parents.
    fn divide(
        &mut self,
        seed: Seed,
        parents: [&[f32]; FIELDS],
        first_parent: i32,
        parent_row: i32,
    ) {
        let key = |draw| seed.row_key(self.level + 1, parent_row, draw);
        let keys = [key(Draw::Across), key(Draw::Down), key(Draw::Corner)];
        let [upper, lower] = &mut self.pair;
        let count = upper[0].len() / 2;
        let parents = parents.map(|row| &row[..count]);
        widest(
            #[inline(always)]
            || {
                for first in (0..count).step_by(DRAWN) {
                    // The last ones may be drawn a second time, which makes them no different.
                    let start = first.min(count - DRAWN);
                    divide_block(parents, start, first_parent, keys, upper, lower);
                }
            },
        );
    }
}

/// Parents whose bits are drawn at a time, so that they are drawn side by side.
const DRAWN: usize = 16;

/// Both rows of children of [`DRAWN`] parents, from the one at `start` on.
#[inline(always)]
fn divide_block(
    parents: [&[f32]; FIELDS],
    start: usize,
    first_parent: i32,
    keys: [RowKey; 3],
    upper: &mut CellRow,
    lower: &mut CellRow,
) {
    let bits = keys.map(
        #[inline(always)]
        |key| -> [u32; DRAWN] {
            core::array::from_fn(
                #[inline(always)]
                |i| key.bits(first_parent.wrapping_add((start + i) as i32)),
            )
        },
    );
    let children_at = 2 * start..2 * (start + DRAWN);
    let rows = parents.into_iter().zip(upper).zip(lower);
    for (field, ((parents, upper), lower)) in rows.enumerate() {
        let parents = &parents[start..start + DRAWN];
        let upper = upper[children_at.clone()].as_chunks_mut::<2>().0;
        let lower = lower[children_at.clone()].as_chunks_mut::<2>().0;
        let cells = parents.iter().zip(upper).zip(lower);
        for (i, ((parent, upper), lower)) in (0..DRAWN).zip(cells) {
            let drawn = [bits[0][i], bits[1][i], bits[2][i]];
            let drawn = drawn.map(
                #[inline(always)]
                |bits| number(bits, field),
            );
            [*upper, *lower] = children(*parent, drawn);
        }
    }
}

/// One number of a cell's four children: upper left and right, lower left and right.
#[inline(always)]
fn children(parent: f32, [across, down, corner]: [f32; 3]) -> [[f32; 2]; 2] {
    let (p, h) = (parent * 0.5, across * 0.5);
    let (v, d) = (down * 0.5, corner * 0.5);
    [
        [(p - h) - (v - d), (p + h) - (v + d)],
        [(p - h) + (v - d), (p + h) + (v + d)],
    ]
}

/// The noise of a single cell, by going down from the top: the exact path.
pub(super) fn cell(seed: Seed, level: usize, row: i32, column: i32) -> [f32; FIELDS] {
    if level == TOP_LEVEL {
        return numbers(seed.row_key(level, row, Draw::Top).bits(column));
    }
    let (parent_row, parent_column) = (row >> 1, column >> 1);
    let parent = cell(seed, level + 1, parent_row, parent_column);
    let key = |draw| seed.row_key(level + 1, parent_row, draw);
    let drawn =
        [Draw::Across, Draw::Down, Draw::Corner].map(|draw| numbers(key(draw).bits(parent_column)));
    core::array::from_fn(|field| {
        let children = children(parent[field], drawn.map(|numbers| numbers[field]));
        children[(row & 1) as usize][(column & 1) as usize]
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const SEED: Seed = Seed { seed: 7, frame: 3 };

    #[test]
    fn rows_are_the_single_cells() {
        for (level, first) in [(0, -5), (2, 6), (TOP_LEVEL, -1)] {
            let mut lattice = Lattice::new(SEED, level, first, 9);
            for row in -3..6 {
                let fields = lattice.row(row);
                for i in 0..9 {
                    let found = fields.map(|field| field[i]);
                    assert_eq!(found, cell(SEED, level, row, first + i as i32));
                }
            }
        }
    }

    #[test]
    fn a_parent_is_the_sum_of_its_children() {
        for (row, column) in [(0, 0), (-4, 11), (1000, -77)] {
            let parent = cell(SEED, 5, row, column);
            for (field, parent) in parent.iter().enumerate() {
                let sum: f32 = (0..4)
                    .map(|i| cell(SEED, 4, 2 * row + i / 2, 2 * column + i % 2)[field])
                    .sum();
                assert!((sum / 2.0 - parent).abs() < 1e-5);
            }
        }
    }

    #[test]
    fn cells_are_white_on_every_level() {
        for level in [0, 3, TOP_LEVEL] {
            let mut lattice = Lattice::new(SEED, level, 0, 400);
            let rows: Vec<CellRow> = (0..300)
                .map(|y| lattice.row(y).map(<[f32]>::to_vec))
                .collect();
            // Products at a distance, over all pairs: (rows, columns, field, other field).
            for (dy, dx, f, g) in [
                (0, 0, 0, 0),
                (0, 0, 3, 3),
                (0, 1, 0, 0),
                (1, 0, 1, 1),
                (1, 1, 2, 2),
                (0, 2, 0, 0),
                (0, 0, 0, 1),
                (0, 0, 2, 3),
            ] {
                let mut sum = 0.0_f64;
                for y in 0..298 {
                    for x in 0..398 {
                        sum += f64::from(rows[y][f][x] * rows[y + dy][g][x + dx]);
                    }
                }
                let mean = sum / (298.0 * 398.0);
                let truth = if dy + dx == 0 && f == g { 1.0 } else { 0.0 };
                // Three standard errors of 118604 products are 0.009.
                assert!(
                    (mean - truth).abs() < 0.012,
                    "{level} {dy} {dx} {f} {g}: {mean}"
                );
            }
        }
    }
}
