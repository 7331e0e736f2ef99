//! The halo exchange: what the partitions of a picture need of each other's light, where a step
//! spreads it far.
//!
//! Each strip halves its own rows: level 1. Whoever works on a partition of the picture's rows holds
//! those and the ones around them that it will need, which others write. Level 2 is a quarter as
//! large, and everybody needs all of it, so each halves it from rows of its own and writes it to the others.
//! What is coarser still everybody makes.

use core::array;
use core::ops::Range;

use super::filter::halve;
use super::padded::{HALVED_MARGIN, PAD, Padded};
use super::spread::Spread;
use super::step::{Coarse, SpreadStep, Strip, StripScratch};
use lookwright_colour::error::{Error, Result};

/// Rows of level 1 of one layer.
struct HalvedRows {
    /// The level's row that they begin with.
    first: usize,
    /// The rows, one after the other, with what lies beyond the picture's edge.
    values: Vec<f32>,
}

/// A strip's part of a [`HaloExchange`].
pub struct Halved([Option<HalvedRows>; 3]);

/// One level of one layer, as far as it is shared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HaloPlane {
    /// 0, 1, 2: red, green, blue.
    pub layer: usize,
    /// 1 or 2.
    pub level: usize,
}

/// Who has which rows of a [`HaloPlane`], and needs which.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct HaloRanges {
    /// Rows that others can read.
    pub own: Range<usize>,
    /// Rows that have to be there in the end, `own` among them.
    pub wanted: Range<usize>,
    /// How many numbers each row has.
    pub columns: usize,
}

/// Collects what the strips of a partition give, and what other partitions write.
#[derive(Default)]
pub struct HaloExchange {
    layers: [Option<Layer>; 3],
}

struct Layer {
    /// Level 1, from its row `first` on.
    one: Padded,
    first: usize,
    /// Level 2, once it is begun.
    two: Option<Padded>,
    /// Rows of level 1 that the partition's strips are made from in the end.
    used: Range<usize>,
    ranges: [HaloRanges; 2],
}

impl HaloExchange {
    /// For a partition that has `own` of the picture's rows, from a multiple of 4 to one or to the
    /// picture's end, and will spread light to the rows `used`, `own` among them.
    pub fn new(step: &dyn SpreadStep, own: &Range<usize>, used: &Range<usize>) -> Self {
        Self {
            layers: array::from_fn(|layer| {
                let kernel = step.kernel(layer).filter(|k| k.has_level(1))?;
                Some(Layer::new(kernel, own, used))
            }),
        }
    }

    /// The part of strip `rows`, which begins at an even row and, except for the last one, ends at
    /// one. `strip` says where its rows lie.
    pub fn part(
        step: &dyn SpreadStep,
        strip: &Strip,
        rows: Range<usize>,
        scratch: &mut StripScratch,
    ) -> Halved {
        Halved(array::from_fn(|layer| {
            step.kernel(layer).filter(|k| k.has_level(1))?;
            strip.source(step, layer, rows.clone(), &mut scratch.sources[0]);
            let width = strip.picture.width.div_ceil(2);
            let mut halved = Padded::new(width, rows.len().div_ceil(2), PAD);
            let is_last = rows.end == strip.full_height;
            let count = halved.height + if is_last { HALVED_MARGIN } else { 0 };
            halve(&scratch.sources[0], 0, &mut halved, 0..count);
            Some(HalvedRows {
                first: rows.start / 2,
                values: halved.leading_columns(0..count, width + HALVED_MARGIN),
            })
        }))
    }

    /// Takes in a strip's part.
    pub fn take(&mut self, part: Halved) {
        for (layer, rows) in self.layers.iter_mut().zip(part.0) {
            if let (Some(layer), Some(HalvedRows { first, values })) = (layer, rows) {
                let columns = layer.ranges[0].columns;
                layer
                    .one
                    .set_leading_columns(first - layer.first, columns, &values);
            }
        }
    }

    /// What there is of a plane, which may be nothing, and what has to come. All strips are in by
    /// then, and of level 2 nothing is asked before everything of level 1 is written.
    pub fn halo_ranges(
        &mut self,
        step: &dyn SpreadStep,
        HaloPlane { layer, level }: HaloPlane,
    ) -> HaloRanges {
        match (&mut self.layers[layer], step.kernel(layer)) {
            (Some(layer), Some(kernel)) if kernel.has_level(level) => {
                if level == 2 {
                    layer.deepen(kernel);
                }
                layer.ranges[level - 1].clone()
            }
            _ => HaloRanges::default(),
        }
    }

    /// Some rows of a plane, for others: plain numbers.
    ///
    /// # Errors
    /// When these are not rows of this partition.
    pub fn read_halo(&self, plane: HaloPlane, rows: Range<usize>) -> Result<Vec<f32>> {
        let none = || Error::new("There are no such rows in this partition.");
        let layer = self.layers[plane.layer].as_ref().ok_or_else(none)?;
        let (plane, first, ranges) = match plane.level {
            1 => (&layer.one, layer.first, &layer.ranges[0]),
            _ => (layer.two.as_ref().ok_or_else(none)?, 0, &layer.ranges[1]),
        };
        let is_own = ranges.own.start <= rows.start && rows.end <= ranges.own.end;
        if !is_own || rows.is_empty() {
            return Err(none());
        }
        Ok(plane.leading_columns(rows.start - first..rows.end - first, ranges.columns))
    }

    /// Takes in rows of a plane from another partition.
    ///
    /// # Errors
    /// When these are not rows that this partition needs.
    pub fn write_halo(&mut self, plane: HaloPlane, first_row: usize, values: &[f32]) -> Result<()> {
        let wrong = || Error::new("Another worker's rows are not of this picture.");
        let layer = self.layers[plane.layer].as_mut().ok_or_else(wrong)?;
        let (plane, first, ranges) = match plane.level {
            1 => (&mut layer.one, layer.first, &layer.ranges[0]),
            _ => (layer.two.as_mut().ok_or_else(wrong)?, 0, &layer.ranges[1]),
        };
        let count = values.len() / ranges.columns;
        let fits = count * ranges.columns == values.len()
            && ranges.wanted.start <= first_row
            && first_row.saturating_add(count) <= ranges.wanted.end;
        if !fits {
            return Err(wrong());
        }
        plane.set_leading_columns(first_row - first, ranges.columns, values);
        Ok(())
    }

    /// Makes of a layer what strips take of it, once everything is written.
    pub fn close_halo(&mut self, step: &dyn SpreadStep, layer: usize, coarse: &mut Coarse) {
        let (Some(kernel), Some(mut gathered)) = (step.kernel(layer), self.layers[layer].take())
        else {
            return;
        };
        gathered.deepen(kernel);
        let Layer {
            one,
            first,
            two,
            used,
            ..
        } = gathered;
        coarse.first = 2 * used.start;
        coarse.layers[layer] = Some(kernel.sum_of((one, first), two, used));
    }
}

impl Layer {
    fn new(kernel: &Spread, own: &Range<usize>, used: &Range<usize>) -> Self {
        let (width, height) = kernel.level_size(1);
        // Doubling a row takes its own cell and the one beside it.
        let used = (used.start / 2).saturating_sub(1)..(used.end.div_ceil(2) + 1).min(height);
        let pad = kernel.pad(1);
        let rows = used.start.saturating_sub(pad)..(used.end + pad).min(height);
        let ranges = |level: usize, wanted: Range<usize>| {
            let (width, height) = kernel.level_size(level);
            // With the last rows come those beyond the picture's edge.
            let end = |row: usize| {
                if row >= height {
                    height + HALVED_MARGIN
                } else {
                    row
                }
            };
            HaloRanges {
                own: own.start >> level..end(own.end.div_ceil(1 << level)),
                wanted: wanted.start..end(wanted.end),
                columns: width + HALVED_MARGIN,
            }
        };
        Self {
            one: Padded::new(width, rows.len(), pad),
            first: rows.start,
            two: None,
            used,
            ranges: [ranges(1, rows), ranges(2, 0..usize::MAX)],
        }
    }

    /// Completes level 1, of which everything is written, and halves level 2 from the partition's own rows.
    fn deepen(&mut self, kernel: &Spread) {
        if self.two.is_some() {
            return;
        }
        kernel.mirror_edges(1, &mut self.one, self.first);
        if kernel.has_level(2) {
            let (width, height) = kernel.level_size(2);
            let mut two = Padded::new(width, height, kernel.pad(2));
            halve(&self.one, self.first, &mut two, self.ranges[1].own.clone());
            self.two = Some(two);
        }
    }
}
