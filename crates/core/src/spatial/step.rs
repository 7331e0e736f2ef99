//! Steps that spread light: over a whole picture, or strip by strip with what the strips share.
//!
//! A kernel may reach over the whole picture, so strips can't carry margins as wide as it. But all
//! that is wider than a few pixels runs on halved copies of the picture, and those are small: they
//! are made once from all strips ([`Gathering`]). A strip then needs [`STRIP_MARGIN`] rows around it
//! and comes out as in the whole picture, bit by bit.

use core::array;
use core::ops::Range;

use super::Planes;
use super::filter::{halve, row_buffer};
use super::padded::{HALVED_MARGIN, PAD, Padded};
use super::spread::{Scratch, Spread};
use crate::error::{Error, Result};

/// Rows above and below a strip that spreading it depends on.
pub const STRIP_MARGIN: usize = PAD;

/// A step that spreads each layer's light by a kernel of its own, and joins it with what was there.
pub trait SpreadStep: Sync {
    /// A layer's kernel, made for the size of the whole picture; none where no light spreads.
    fn kernel(&self, layer: usize) -> Option<&Spread>;
    /// The light that spreads, from a row of a layer. Finite.
    fn source(&self, layer: &[f32], light: &mut [f32]);
    /// Joins a row with the light that was spread to it; without kernel that is nothing.
    fn join(&self, row: [&mut [f32]; 3], spread: [&[f32]; 3]);
}

/// Runs a step over a whole picture, in place.
pub fn spread_whole(step: &impl SpreadStep, picture: &mut Planes) {
    let mut scratch: [Scratch; 3] = array::from_fn(|_| Scratch::default());
    for (layer, scratch) in scratch.iter_mut().enumerate() {
        if let Some(kernel) = step.kernel(layer) {
            kernel.gather(scratch, |y, row| step.source(picture.row(layer, y), row));
        }
    }
    let sources = scratch.each_ref().map(Scratch::finest);
    let coarse = array::from_fn(|layer| step.kernel(layer)?.coarse_of(&scratch[layer]));
    join_rows(step, sources, (coarse, 0), 0..picture.height, picture, 0);
}

/// The part of a picture's spread light that is coarser than pixels, per layer, for some of the
/// picture's rows.
pub struct Coarse {
    layers: [Option<Padded>; 3],
    /// Row of the picture that it begins with. Even.
    first: usize,
}

impl Coarse {
    /// For a step that has none.
    pub const NONE: Self = Self {
        layers: [None, None, None],
        first: 0,
    };
}

/// Whether a step has light that spreads so far that strips have to share it.
pub fn is_wide(step: &dyn SpreadStep) -> bool {
    (0..3).any(|layer| step.kernel(layer).is_some_and(Spread::has_coarse))
}

/// Rows of one layer of the halved picture.
#[derive(Default)]
struct HalvedRows {
    /// Row of the halved picture that they begin with.
    first: usize,
    /// The rows, one after the other, with what lies beyond the picture's edge.
    values: Vec<f32>,
}

/// A strip's part of a [`Gathering`].
pub struct Halved([Option<HalvedRows>; 3]);

/// Collects what the strips of a picture share: parts that come in order and without gaps.
#[derive(Default)]
pub struct Gathering {
    layers: [HalvedRows; 3],
    open: Option<OpenLayer>,
}

/// A layer whose rows are put together.
struct OpenLayer {
    halved: Padded,
    /// Columns and rows that are handed over.
    columns: usize,
    rows: usize,
}

impl Gathering {
    /// With room for all that `rows` of the picture will give, in one piece per layer.
    pub fn new(step: &dyn SpreadStep, rows: &Range<usize>) -> Self {
        let layers = array::from_fn(|layer| {
            let kernel = step.kernel(layer).filter(|k| k.has_coarse());
            let columns = kernel.map_or(0, Spread::halved_columns);
            HalvedRows {
                first: rows.start / 2,
                values: Vec::with_capacity(columns * (rows.len().div_ceil(2) + HALVED_MARGIN)),
            }
        });
        Self { layers, open: None }
    }

    /// The part of strip `rows`, which begins at an even row and, except for the last one, ends at
    /// one. `strip` says where its rows lie.
    pub fn part(
        step: &dyn SpreadStep,
        strip: &Strip,
        rows: Range<usize>,
        room: &mut Room,
    ) -> Halved {
        Halved(array::from_fn(|layer| {
            let kernel = step.kernel(layer).filter(|k| k.has_coarse())?;
            strip.source(step, layer, rows.clone(), &mut room.sources[0]);
            let width = strip.picture.width.div_ceil(2);
            let mut halved = Padded::new(width, rows.len().div_ceil(2));
            halve(&room.sources[0], &mut halved);
            let below = if rows.end == strip.full_height {
                HALVED_MARGIN
            } else {
                0
            };
            let columns = kernel.halved_columns();
            let mut values = Vec::with_capacity(columns * (halved.height + below));
            for y in 0..halved.height + below {
                let at = halved.at(y as isize);
                values.extend_from_slice(&halved.data[at..at + columns]);
            }
            let first = rows.start / 2;
            Some(HalvedRows { first, values })
        }))
    }

    /// Takes in a strip's part.
    pub fn take(&mut self, part: Halved) {
        for (layer, rows) in self.layers.iter_mut().zip(part.0) {
            layer.values.extend(rows.unwrap_or_default().values);
        }
    }

    /// Opens a layer, once all strips are in: others may be told of it and heard. Gives the rows of
    /// the halved picture that have come in, and how many numbers each has.
    pub fn open(&mut self, step: &dyn SpreadStep, layer: usize) -> (Range<usize>, usize) {
        let own = core::mem::take(&mut self.layers[layer]);
        self.open = None;
        let Some(kernel) = step.kernel(layer).filter(|k| k.has_coarse()) else {
            return (0..0, 0);
        };
        let (columns, rows) = (kernel.halved_columns(), kernel.halved_rows());
        let mut open = OpenLayer {
            halved: kernel.halved_level(),
            columns,
            rows,
        };
        open.put(own.first, &own.values);
        self.open = Some(open);
        (own.first..own.first + own.values.len() / columns, columns)
    }

    /// Some rows of the open layer, for another worker: plain numbers.
    ///
    /// # Errors
    /// When there are no such rows.
    pub fn told(&self, rows: Range<usize>) -> Result<Vec<f32>> {
        let open = self.open.as_ref().filter(|open| rows.end <= open.rows);
        let Some(OpenLayer {
            halved, columns, ..
        }) = open
        else {
            return Err(Error::new("There are no such rows to tell of."));
        };
        let mut values = Vec::with_capacity(columns * rows.len());
        for y in rows {
            let at = halved.at(y as isize);
            values.extend_from_slice(&halved.data[at..at + columns]);
        }
        Ok(values)
    }

    /// Takes in rows of the open layer that another worker told of.
    ///
    /// # Errors
    /// When they are not rows of this picture.
    pub fn hear(&mut self, first: usize, values: &[f32]) -> Result<()> {
        let fits = |open: &&mut OpenLayer| {
            let count = values.len() / open.columns;
            count * open.columns == values.len() && first.saturating_add(count) <= open.rows
        };
        let Some(open) = self.open.as_mut().filter(fits) else {
            return Err(Error::new("Another worker's rows are not of this picture."));
        };
        open.put(first, values);
        Ok(())
    }

    /// Makes what strips share of the open layer, once all others are heard. `rows` are those that
    /// it will be used for.
    pub fn close(
        &mut self,
        step: &dyn SpreadStep,
        layer: usize,
        rows: &Range<usize>,
        coarse: &mut Coarse,
    ) {
        let (Some(kernel), Some(open)) = (step.kernel(layer), self.open.take()) else {
            return;
        };
        // Doubling a row takes its own cell and the one beside it.
        let first = (rows.start / 2).saturating_sub(1);
        let end = (rows.end.div_ceil(2) + 1).min(kernel.halved_rows() - HALVED_MARGIN);
        coarse.layers[layer] = Some(kernel.gather_halved(open.halved, first..end));
        coarse.first = 2 * first;
    }
}

impl OpenLayer {
    fn put(&mut self, first: usize, values: &[f32]) {
        for (row, y) in values.chunks_exact(self.columns).zip(first..) {
            let at = self.halved.at(y as isize);
            self.halved.data[at..at + self.columns].copy_from_slice(row);
        }
    }
}

/// Memory that steps work in, kept from strip to strip.
#[derive(Default)]
pub struct Room {
    sources: [Padded; 3],
}

/// A part of a picture and where it lies.
pub struct Strip {
    /// The rows: at least [`STRIP_MARGIN`] around those that are asked for, where there are any.
    pub picture: Planes,
    /// Row of the whole picture that they begin with.
    pub first: usize,
    /// Rows of the whole picture.
    pub full_height: usize,
}

impl Strip {
    /// Runs a step over `rows`.
    pub fn spread(
        &self,
        step: &dyn SpreadStep,
        coarse: &Coarse,
        rows: Range<usize>,
        room: &mut Room,
    ) -> Planes {
        let mut out = self.part(&rows);
        let mut layer = 0..3;
        let sources = room.sources.each_mut().map(|source| {
            let layer = layer.next()?;
            step.kernel(layer).filter(|kernel| kernel.has_finest())?;
            self.source(step, layer, rows.clone(), source);
            Some(&*source)
        });
        let layers = coarse.layers.each_ref().map(Option::as_ref);
        let first = rows.start;
        join_rows(step, sources, (layers, coarse.first), rows, &mut out, first);
        out
    }

    /// A copy of `rows`.
    pub fn part(&self, rows: &Range<usize>) -> Planes {
        let width = self.picture.width;
        let first = (rows.start - self.first) * width;
        let span = first..first + rows.len() * width;
        let planes = self.picture.planes.each_ref();
        Planes {
            width,
            height: rows.len(),
            planes: planes.map(|plane| plane[span.clone()].to_vec()),
        }
    }

    /// The light that spreads from `rows`, with its margin.
    fn source(&self, step: &dyn SpreadStep, layer: usize, rows: Range<usize>, source: &mut Padded) {
        source.fit(self.picture.width, rows.len());
        source.fill_strip(rows.start, self.full_height, |y, row| {
            step.source(self.picture.row(layer, y - self.first), row);
        });
    }
}

/// Spreads and joins `rows` of the picture; `out` and the sources begin at row `first`, `coarse` at
/// the row given with it.
fn join_rows(
    step: &(impl SpreadStep + ?Sized),
    sources: [Option<&Padded>; 3],
    (coarse, coarse_first): ([Option<&Padded>; 3], usize),
    rows: Range<usize>,
    out: &mut Planes,
    first: usize,
) {
    let mut buffer = row_buffer(out.width);
    let mut spread: [Vec<f32>; 3] = array::from_fn(|_| vec![0.0; out.width]);
    for y in rows {
        let here = y - first;
        for (layer, row) in spread.iter_mut().enumerate() {
            if let Some(kernel) = step.kernel(layer) {
                let coarse_y = y - coarse_first;
                kernel.spread_row(
                    sources[layer],
                    here,
                    coarse[layer],
                    coarse_y,
                    &mut buffer,
                    row,
                );
            }
        }
        let span = here * out.width..(here + 1) * out.width;
        let row = out.planes.each_mut().map(|plane| &mut plane[span.clone()]);
        step.join(row, spread.each_ref().map(Vec::as_slice));
    }
}
