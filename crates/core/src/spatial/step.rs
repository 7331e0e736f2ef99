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
use super::padded::{PAD, Padded};
use super::spread::{Scratch, Spread};

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
    join_rows(step, sources, coarse, 0..picture.height, picture, 0);
}

/// The part of a picture's spread light that is coarser than pixels, per layer.
pub struct Coarse([Option<Padded>; 3]);

impl Coarse {
    /// For a step that has none.
    pub const NONE: Self = Self([None, None, None]);
}

/// Whether a step has light that spreads so far that strips have to share it.
pub fn is_wide(step: &dyn SpreadStep) -> bool {
    (0..3).any(|layer| step.kernel(layer).is_some_and(Spread::has_coarse))
}

/// Collects what the strips of a picture share.
pub struct Gathering([Option<Scratch>; 3]);

/// A strip's part of a [`Gathering`].
pub struct Halved([Option<Padded>; 3]);

impl Gathering {
    /// Begins.
    pub fn new(step: &dyn SpreadStep) -> Self {
        Self(array::from_fn(|layer| {
            step.kernel(layer)
                .filter(|k| k.has_coarse())
                .map(Spread::begin_strips)
        }))
    }

    /// The part of strip `rows`, which begins at an even row and, except for the last one, ends at
    /// one. `strip` says where its rows lie.
    pub fn part(step: &dyn SpreadStep, strip: &Strip, rows: Range<usize>) -> Halved {
        Halved(array::from_fn(|layer| {
            step.kernel(layer).filter(|k| k.has_coarse())?;
            let source = strip.source(step, layer, rows.clone());
            let width = strip.picture.width.div_ceil(2);
            let mut halved = Padded::new(width, rows.len().div_ceil(2));
            halve(&source, &mut halved);
            Some(halved)
        }))
    }

    /// Takes in the part of the strip that begins at row `first`.
    pub fn take(&mut self, first: usize, part: &Halved) {
        for (scratch, halved) in self.0.iter_mut().zip(&part.0) {
            if let (Some(scratch), Some(halved)) = (scratch, halved) {
                scratch.take_halved(halved, first / 2);
            }
        }
    }

    /// What the strips share, once every strip is in.
    pub fn finish(self, step: &dyn SpreadStep) -> Coarse {
        let mut layers = self.0.into_iter().enumerate();
        Coarse(array::from_fn(|_| {
            let (layer, scratch) = layers.next()?;
            Some(step.kernel(layer)?.finish_strips(scratch?))
        }))
    }
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
    pub fn spread(&self, step: &dyn SpreadStep, coarse: &Coarse, rows: Range<usize>) -> Planes {
        let width = self.picture.width;
        let offset = (rows.start - self.first) * width;
        let mut out = Planes {
            width,
            height: rows.len(),
            planes: self
                .picture
                .planes
                .each_ref()
                .map(|plane| plane[offset..offset + rows.len() * width].to_vec()),
        };
        let sources: [Option<Padded>; 3] = array::from_fn(|layer| {
            step.kernel(layer)?;
            Some(self.source(step, layer, rows.clone()))
        });
        let sources = sources.each_ref().map(Option::as_ref);
        let coarse = coarse.0.each_ref().map(Option::as_ref);
        let first = rows.start;
        join_rows(step, sources, coarse, rows, &mut out, first);
        out
    }

    /// The light that spreads from `rows`, with its margin.
    fn source(&self, step: &dyn SpreadStep, layer: usize, rows: Range<usize>) -> Padded {
        let mut source = Padded::new(self.picture.width, rows.len());
        source.fill_strip(rows.start, self.full_height, |y, row| {
            step.source(self.picture.row(layer, y - self.first), row);
        });
        source
    }
}

/// Spreads and joins `rows` of the picture; `out` and the sources begin at row `first`.
fn join_rows(
    step: &(impl SpreadStep + ?Sized),
    sources: [Option<&Padded>; 3],
    coarse: [Option<&Padded>; 3],
    rows: Range<usize>,
    out: &mut Planes,
    first: usize,
) {
    let mut buffer = row_buffer(out.width);
    let mut spread: [Vec<f32>; 3] = array::from_fn(|_| vec![0.0; out.width]);
    for y in rows {
        let here = y - first;
        for (layer, row) in spread.iter_mut().enumerate() {
            if let (Some(kernel), Some(source)) = (step.kernel(layer), sources[layer]) {
                kernel.spread_row(source, here, coarse[layer], y, &mut buffer, row);
            }
        }
        let span = here * out.width..(here + 1) * out.width;
        let row = out.planes.each_mut().map(|plane| &mut plane[span.clone()]);
        step.join(row, spread.each_ref().map(Vec::as_slice));
    }
}
