//! Steps that spread light: over a whole picture, or strip by strip with what the strips share.
//!
//! A kernel may reach over the whole picture, so strips can't carry margins as wide as it. But all
//! that is wider than a few pixels runs on halved copies of the picture, and those are small: they
//! are made once from all strips (see [`super::halo`]). A strip then needs [`margin`] rows
//! around it and comes out as in the whole picture, bit by bit.

use core::array;
use core::ops::Range;

use super::filter::row_buffer;
use super::padded::{PAD, Padded};
use super::spread::{Scratch, Spread};
use super::{Planes, crop};

/// Rows above and below a strip that spreading it depends on: a multiple of 16.
pub fn margin(step: &dyn SpreadStep) -> usize {
    let pads = (0..3).filter_map(|layer| Some(step.kernel(layer)?.pad(0)));
    pads.fold(PAD, usize::max)
}

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
pub fn spread_whole(step: &(impl SpreadStep + ?Sized), picture: &mut Planes) {
    let mut scratch: [Scratch; 3] = array::from_fn(|_| Scratch::default());
    for (layer, scratch) in scratch.iter_mut().enumerate() {
        if let Some(kernel) = step.kernel(layer) {
            kernel.gather(scratch, |y, row| step.source(picture.row(layer, y), row));
        }
    }
    let sources = scratch.each_ref().map(Scratch::finest);
    let coarse = array::from_fn(|layer| step.kernel(layer)?.coarse_of(&scratch[layer]));
    join_rows(
        step,
        sources,
        (coarse, 0),
        0..picture.height,
        picture,
        (0, 0),
    );
}

/// The part of a picture's spread light that is coarser than pixels, per layer, for some of the
/// picture's rows.
pub struct Coarse {
    pub(super) layers: [Option<Padded>; 3],
    /// Row of the picture that it begins with. Even.
    pub(super) first: usize,
}

impl Coarse {
    /// For a step that has none.
    pub const NONE: Self = Self {
        layers: [None, None, None],
        first: 0,
    };
}

/// How many of a step's layers have light that spreads so far that strips have to share it.
pub fn wide_layers(step: &dyn SpreadStep) -> usize {
    let is_wide = |layer: &usize| step.kernel(*layer).is_some_and(|it| it.has_level(1));
    (0..3).filter(is_wide).count()
}

/// Memory that steps work in, kept from strip to strip.
#[derive(Default)]
pub struct StripScratch {
    pub(super) sources: [Padded; 3],
}

/// A part of a picture and where it lies.
pub struct Strip {
    /// The rows: at least [`margin`] around those that are asked for, where there are any.
    pub picture: Planes,
    /// Row of the whole picture that they begin with.
    pub first: usize,
    /// Rows of the whole picture.
    pub full_height: usize,
}

/// A rectangle of a picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Area {
    /// Its columns.
    pub columns: Range<usize>,
    /// Its rows.
    pub rows: Range<usize>,
}

impl Area {
    /// Itself and what spreading it by a step depends on, within a picture of `full` size, columns by
    /// rows. Begins with an even column.
    #[must_use]
    pub fn with_margin(&self, step: &dyn SpreadStep, full: (usize, usize)) -> Self {
        let margin = margin(step);
        let around = |span: &Range<usize>, full: usize| {
            span.start.saturating_sub(margin)..full.min(span.end + margin)
        };
        let columns = around(&self.columns, full.0);
        Self {
            columns: columns.start / 2 * 2..columns.end,
            rows: around(&self.rows, full.1),
        }
    }

    /// This part of a picture of which `held` is there.
    #[must_use]
    pub fn cut(&self, picture: &Planes, held: &Self) -> Planes {
        crop(
            picture,
            self.columns.start - held.columns.start,
            self.rows.start - held.rows.start,
            self.columns.len(),
            self.rows.len(),
        )
    }
}

/// Runs a step over an area of a picture of `full` size, columns by rows. `picture` holds `held`,
/// which is [`Area::with_margin`] or more. The area begins with an even column.
pub fn spread_area(
    step: &dyn SpreadStep,
    coarse: &Coarse,
    area: &Area,
    full: (usize, usize),
    (picture, held): (&Planes, &Area),
) -> Planes {
    let mut out = area.cut(picture, held);
    let first = (area.columns.start, area.rows.start);
    let known = area.with_margin(step, full).columns;
    let skipped = known.start - held.columns.start;
    let mut layer = 0..3;
    let sources: [Option<Padded>; 3] = array::from_fn(|_| {
        let layer = layer.next()?;
        let kernel = step.kernel(layer).filter(|kernel| kernel.has_finest())?;
        let mut source = Padded::new(area.columns.len(), area.rows.len(), kernel.pad(0));
        source.fill_part(first, full, &known, |y, row| {
            let held = picture.row(layer, y - held.rows.start);
            step.source(&held[skipped..skipped + row.len()], row);
        });
        Some(source)
    });
    let sources = sources.each_ref().map(Option::as_ref);
    let layers = coarse.layers.each_ref().map(Option::as_ref);
    join_rows(
        step,
        sources,
        (layers, coarse.first),
        area.rows.clone(),
        &mut out,
        first,
    );
    out
}

impl Strip {
    /// Runs a step over `rows`.
    pub fn spread(
        &self,
        step: &dyn SpreadStep,
        coarse: &Coarse,
        rows: Range<usize>,
        scratch: &mut StripScratch,
    ) -> Planes {
        let mut out = self.part(&rows);
        let mut layer = 0..3;
        let sources = scratch.sources.each_mut().map(|source| {
            let layer = layer.next()?;
            step.kernel(layer).filter(|kernel| kernel.has_finest())?;
            self.source(step, layer, rows.clone(), source);
            Some(&*source)
        });
        let layers = coarse.layers.each_ref().map(Option::as_ref);
        let first = rows.start;
        join_rows(
            step,
            sources,
            (layers, coarse.first),
            rows,
            &mut out,
            (0, first),
        );
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
    pub(super) fn source(
        &self,
        step: &dyn SpreadStep,
        layer: usize,
        rows: Range<usize>,
        source: &mut Padded,
    ) {
        let pad = step.kernel(layer).map_or(PAD, |kernel| kernel.pad(0));
        source.fit(self.picture.width, rows.len(), pad);
        source.fill_strip(rows.start, self.full_height, |y, row| {
            step.source(self.picture.row(layer, y - self.first), row);
        });
    }
}

/// Spreads and joins `rows` of the picture; `out` and the sources begin at column and row `first`,
/// `coarse` at the row given with it.
fn join_rows(
    step: &(impl SpreadStep + ?Sized),
    sources: [Option<&Padded>; 3],
    (coarse, coarse_first): ([Option<&Padded>; 3], usize),
    rows: Range<usize>,
    out: &mut Planes,
    (first_column, first): (usize, usize),
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
                    (first_column, coarse_y),
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
