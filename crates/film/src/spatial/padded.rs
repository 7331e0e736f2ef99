//! A plane with a margin on every side, so that filters need no rule for edges.
//!
//! Outside the picture the picture is mirrored about its edge (the edge pixel is repeated), so no
//! light is lost there. At a reduced size the edge may fall inside a cell; the margin then takes
//! its values between the two nearest cells, so the mirror stays where the edge is. Nearest to the
//! edge, where that would not be exact enough, the margin is halved from the finer level's.

use core::ops::Range;

/// Cells of margin on each side, usually: the largest reach of a Gaussian that runs on one level.
pub(super) const PAD: usize = 16;

/// Cells beyond the right and lower edge that halving makes from the finer level's margin.
pub(super) const HALVED_MARGIN: usize = 6;

/// One plane with `pad` cells around it.
#[derive(Clone, Debug, Default)]
pub(super) struct Padded {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) pad: usize,
    pub(super) stride: usize,
    pub(super) data: Vec<f32>,
}

impl Padded {
    pub(super) fn new(width: usize, height: usize, pad: usize) -> Self {
        let mut plane = Self::default();
        plane.fit(width, height, pad);
        plane
    }

    /// Takes another size. What it holds then is of no meaning.
    pub(super) fn fit(&mut self, width: usize, height: usize, pad: usize) {
        let stride = width + 2 * pad;
        let data = core::mem::take(&mut self.data);
        *self = Self {
            width,
            height,
            pad,
            stride,
            data,
        };
        self.data.resize(stride * (height + 2 * pad), 0.0);
    }

    /// Index of the cell at column 0 of row `y`, which may lie in the margin.
    #[inline]
    pub(super) fn at(&self, y: isize) -> usize {
        (y + self.pad as isize) as usize * self.stride + self.pad
    }

    pub(super) fn row_mut(&mut self, y: usize) -> &mut [f32] {
        let start = self.at(y as isize);
        &mut self.data[start..start + self.width]
    }

    /// The first `count` columns of `rows`, one row after the other. Both may lie in the margin.
    pub(super) fn leading_columns(&self, rows: Range<usize>, count: usize) -> Vec<f32> {
        let mut values = Vec::with_capacity(count * rows.len());
        for y in rows {
            let at = self.at(y as isize);
            values.extend_from_slice(&self.data[at..at + count]);
        }
        values
    }

    /// Puts back what [`Self::leading_columns`] gave, from row `first` on.
    pub(super) fn set_leading_columns(&mut self, first: usize, count: usize, values: &[f32]) {
        for (row, y) in values.chunks_exact(count).zip(first..) {
            let at = self.at(y as isize);
            self.data[at..at + count].copy_from_slice(row);
        }
    }

    pub(super) fn clear(&mut self) {
        self.data.fill(0.0);
    }

    /// Rows `first .. first + self.height` of a picture of `full_height` rows, with the rows around
    /// them as margin, mirrored where the picture ends. `fill(y, row)` writes the picture's row `y`;
    /// it is asked for rows within the picture, at most `pad` outside the strip.
    pub(super) fn fill_strip(
        &mut self,
        first: usize,
        full_height: usize,
        mut fill: impl FnMut(usize, &mut [f32]),
    ) {
        for (place, row) in self.data.chunks_exact_mut(self.stride).enumerate() {
            let y = (first + place) as isize - self.pad as isize;
            let columns = self.pad..self.pad + self.width;
            fill(mirrored(y, full_height), &mut row[columns]);
        }
        self.mirror_columns(self.width as f64, 0, 0..self.height + 2 * self.pad);
    }

    /// As [`Self::fill_strip`], for a part that begins with column `first.0` and row `first.1` of a
    /// picture of `full` size, columns by rows. `fill(y, row)` writes the picture's row `y` from
    /// column `known.start` to `known.end`, which are all columns within the picture at most
    /// [`PAD`] outside the part.
    pub(super) fn fill_part(
        &mut self,
        first: (usize, usize),
        full: (usize, usize),
        known: &Range<usize>,
        mut fill: impl FnMut(usize, &mut [f32]),
    ) {
        let mut values = vec![0.0; known.len()];
        let columns: Vec<usize> = (0..self.stride)
            .map(|place| (first.0 + place) as isize - self.pad as isize)
            .map(|x| mirrored(x, full.0).clamp(known.start, known.end - 1) - known.start)
            .collect();
        let pad = self.pad as isize;
        for (place, row) in self.data.chunks_exact_mut(self.stride).enumerate() {
            let y = (first.1 + place) as isize - pad;
            fill(mirrored(y, full.1), &mut values);
            for (to, from) in row.iter_mut().zip(&columns) {
                *to = values[*from];
            }
        }
    }

    /// Fills the margin left and right of `rows`, counted from the margin's first row; see
    /// [`Self::mirror_edges`].
    fn mirror_columns(&mut self, edge_x: f64, known: usize, rows: Range<usize>) {
        let pad = self.pad;
        let columns = margin_sources(self.width, pad, edge_x, known);
        for y in rows {
            let row = &mut self.data[y * self.stride..(y + 1) * self.stride];
            for &(cell, from) in &columns {
                row[cell] = from.between(row[pad + from.first], row[pad + from.second]);
            }
        }
    }

    /// Fills the margin with the mirrored picture, whose right and lower edges lie at
    /// `edge_x`, `edge_y` (in cells; `width - 1 < edge_x <= width`, likewise for y). The first
    /// `known` columns and rows beyond those edges hold their values already.
    pub(super) fn mirror_edges(&mut self, edge_x: f64, edge_y: f64, known: usize) {
        let pad = self.pad;
        self.mirror_columns(edge_x, known, pad..pad + self.height + known);
        for (cell, from) in margin_sources(self.height, pad, edge_y, known) {
            let first = self.at(from.first as isize) - pad;
            let second = self.at(from.second as isize) - pad;
            let target = cell * self.stride;
            for x in 0..self.stride {
                self.data[target + x] = from.between(self.data[first + x], self.data[second + x]);
            }
        }
    }
}

/// Row (or column) `place` of a picture of `length` rows that goes on mirrored on both sides.
fn mirrored(place: isize, length: usize) -> usize {
    let folded = place.rem_euclid(2 * length as isize) as usize;
    if folded < length {
        folded
    } else {
        2 * length - 1 - folded
    }
}

/// Two cells and how far towards the second one.
#[derive(Clone, Copy)]
struct Between {
    first: usize,
    second: usize,
    share: f32,
}

impl Between {
    #[inline]
    fn between(self, first: f32, second: f32) -> f32 {
        first + (second - first) * self.share
    }
}

/// For each cell of the margin (counted from the margin's first cell): where its value comes from.
fn margin_sources(cells: usize, pad: usize, edge: f64, known: usize) -> Vec<(usize, Between)> {
    (0..pad)
        .chain(pad + cells + known..2 * pad + cells)
        .map(|cell| {
            let centre = cell as f64 + 0.5 - pad as f64;
            let turn = 2.0 * edge;
            let folded = centre - turn * libm::floor(centre / turn);
            let inside = if folded > edge { turn - folded } else { folded };
            let position = (inside - 0.5).max(0.0);
            let first = (position as usize).min(cells - 1);
            let from = Between {
                first,
                second: (first + 1).min(cells - 1),
                share: (position - first as f64).clamp(0.0, 1.0) as f32,
            };
            (cell, from)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_whole_edge_repeats_the_edge_cell_and_then_walks_back() {
        let mut plane = Padded::new(3, 1, PAD);
        plane.row_mut(0).copy_from_slice(&[1.0, 2.0, 3.0]);
        plane.mirror_edges(3.0, 1.0, 0);
        let start = plane.at(0) - 4;
        assert_eq!(
            plane.data[start..start + 11],
            [3.0, 3.0, 2.0, 1.0, 1.0, 2.0, 3.0, 3.0, 2.0, 1.0, 1.0]
        );
        let below = plane.at(PAD as isize) - 4;
        assert_eq!(plane.data[below..below + 4], plane.data[start..start + 4]);
    }

    #[test]
    fn an_edge_at_half_a_cell_makes_that_cell_the_axis() {
        let mut plane = Padded::new(3, 1, PAD);
        plane.row_mut(0).copy_from_slice(&[1.0, 2.0, 3.0]);
        plane.mirror_edges(2.5, 1.0, 0);
        let start = plane.at(0);
        assert_eq!(plane.data[start..start + 5], [1.0, 2.0, 3.0, 2.0, 1.0]);
    }
}
