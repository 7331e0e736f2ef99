//! A part of a picture through a look, for a worker that has neither the picture nor memory in
//! common with those that do the other parts.
//!
//! It is asked again and again which rows of the picture it needs next, and given them. Between its
//! rounds the parts exchange halos; see [`lookwright_render::Partition`].

use std::ops::Range;

use lookwright_film::spatial::Planes;
use lookwright_render::{
    CarriedRows, HaloPlane, HaloRanges, Job, PARTITION_ROWS, Partition, PictureRows, RoundResults,
};

use super::{Output, Stamp, Version};
use crate::{Error, OutFormat, Result, Samples};

/// A part of a picture being developed. The bytes of all parts, one after the other, are those of
/// [`super::develop`].
pub struct Part {
    size: (u32, u32),
    partition: Partition,
    results: RoundResults,
    carried: CarriedRows,
    /// The next strip of its round.
    strip: usize,
    output: Output,
}

impl Part {
    /// The rows of each of at most `count` parts that a picture of `height` rows is developed in,
    /// about equal; one, if the format can't be written in parts.
    pub fn divide(height: u32, format: OutFormat, count: u32) -> Vec<Range<u32>> {
        let Some(unit) = format.part_rows() else {
            return std::iter::once(0..height).collect();
        };
        let unit = unit.max(PARTITION_ROWS as u32);
        let units = height.div_ceil(unit).max(1);
        let count = count.clamp(1, units);
        let cut = |i: u32| (u64::from(units) * u64::from(i) / u64::from(count)) as u32 * unit;
        (0..count).map(|i| cut(i)..cut(i + 1).min(height)).collect()
    }

    /// `rows` of a picture of `size`: one of those that [`Self::divide`] gives.
    ///
    /// # Errors
    /// When there is no such part, or the format can't hold the stage's numbers.
    pub fn new(
        size: (u32, u32),
        job: &Job,
        version: Version,
        format: OutFormat,
        rows: Range<u32>,
    ) -> Result<Self> {
        let divides = |row: u32| row == size.1 || row.is_multiple_of(PARTITION_ROWS as u32);
        let proper = rows.start < rows.end && rows.end <= size.1 && size.0 > 0;
        if !proper || !divides(rows.start) || !divides(rows.end) {
            return Err(Error::new(format!(
                "Rows {} ... {} are no part of a picture of {} x {} pixels.",
                rows.start, rows.end, size.0, size.1
            )));
        }
        let stamp = Stamp::of_job(job, version);
        let output = Output::new(size, job, (format, &stamp), rows.clone())?;
        let whole = (size.0 as usize, size.1 as usize);
        let span = rows.start as usize..rows.end as usize;
        let partition = match version {
            Version::Styled => Partition::new(whole, job, span),
            Version::Unstyled => Partition::unstyled(whole, job, span),
        }
        .in_sequence();
        Ok(Self {
            size,
            results: partition.begin(),
            carried: CarriedRows::default(),
            partition,
            strip: 0,
            output,
        })
    }

    /// The rows of the picture that each strip of its round is made from, which may be none.
    pub fn needs(&self) -> Vec<Range<u32>> {
        (0..self.partition.strips()).map(|i| self.need(i)).collect()
    }

    fn need(&self, strip: usize) -> Range<u32> {
        let rows = self.partition.needs(strip, true);
        rows.start as u32..rows.end as u32
    }

    /// Does the next strip of its round, from the samples of the rows that it needs.
    ///
    /// # Errors
    /// When there are not as many samples as those rows have, all strips are done, or the format
    /// can't be written.
    pub fn step(&mut self, samples: Samples) -> Result<()> {
        if self.strip >= self.partition.strips() {
            return Err(Error::new("All strips of this round are done."));
        }
        let wanted = 3 * self.need(self.strip).len() * self.size.0 as usize;
        if samples.len() != wanted {
            return Err(Error::new(format!(
                "{} samples were handed over for rows of {wanted}.",
                samples.len()
            )));
        }
        let source = Given {
            size: self.size,
            samples,
        };
        let (carried, results) = (&mut self.carried, &mut self.results);
        let finished = self.partition.follow(self.strip, &source, carried, results);
        drop(source);
        if let Some(strip) = finished {
            self.output
                .take(self.partition.first_row(self.strip), strip)?;
        }
        self.strip += 1;
        Ok(())
    }

    /// How much of its work is done, 0 to 1.
    pub fn done(&self) -> f64 {
        self.partition.done(self.strip)
    }

    /// Whether its round ends with a halo exchange: for each of the layers 0, 1 and 2, once its
    /// strips are done, [`Self::halo_ranges`] with [`Self::read_halo`] and [`Self::write_halo`] as often as it takes,
    /// of level 1 and then of level 2, and [`Self::close_halo`].
    pub fn gathers(&self) -> bool {
        self.partition.gathers()
    }

    /// Whether its round is the last, which makes the file.
    pub fn is_last(&self) -> bool {
        self.partition.is_last()
    }

    /// What it has of one level of one layer, and what it needs; which may be nothing.
    ///
    /// # Errors
    /// When there is no such plane.
    pub fn halo_ranges(&mut self, plane: HaloPlane) -> Result<HaloRanges> {
        there_is(plane)?;
        Ok(self.partition.halo_ranges(&mut self.results, plane))
    }

    /// Some rows of a plane, for another part.
    ///
    /// # Errors
    /// When these are not rows of its own.
    pub fn read_halo(&self, plane: HaloPlane, rows: Range<usize>) -> Result<Vec<f32>> {
        there_is(plane)?;
        self.results.read_halo(plane, rows)
    }

    /// Takes in rows of a plane from another part.
    ///
    /// # Errors
    /// When these are not rows that it wants.
    pub fn write_halo(&mut self, plane: HaloPlane, first: usize, values: &[f32]) -> Result<()> {
        there_is(plane)?;
        self.results.write_halo(plane, first, values)
    }

    /// Closes a layer.
    ///
    /// # Errors
    /// When there is no such layer.
    pub fn close_halo(&mut self, layer: usize) -> Result<()> {
        there_is(HaloPlane { layer, level: 1 })?;
        self.partition.close_halo(&mut self.results, layer);
        Ok(())
    }

    /// Goes on to its next round; `false` if there is none.
    pub fn next_round(&mut self) -> bool {
        if self.partition.is_last() {
            return false;
        }
        self.partition.next_round(std::mem::take(&mut self.results));
        self.results = self.partition.begin();
        self.carried = CarriedRows::default();
        self.strip = 0;
        true
    }

    /// The next bytes of its file.
    pub fn written(&mut self) -> Vec<u8> {
        self.output.written()
    }

    /// The rest of the bytes.
    ///
    /// # Errors
    /// When strips are missing or the format can't be written.
    pub fn finish(self) -> Result<Vec<u8>> {
        self.output.finish()
    }
}

fn there_is(HaloPlane { layer, level }: HaloPlane) -> Result<()> {
    if layer > 2 || !(1..=2).contains(&level) {
        return Err(Error::new(format!(
            "There is no level {level} of a layer {layer}."
        )));
    }
    Ok(())
}

/// The rows that were asked for.
struct Given {
    size: (u32, u32),
    samples: Samples,
}

impl PictureRows for Given {
    fn size(&self) -> (usize, usize) {
        (self.size.0 as usize, self.size.1 as usize)
    }

    fn rows(&self, rows: Range<usize>) -> Planes {
        Planes {
            width: self.size.0 as usize,
            height: rows.len(),
            planes: self.samples.to_planes(),
        }
    }
}
