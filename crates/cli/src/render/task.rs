//! One picture of a run: read, rendered, written.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::{Mutex, PoisonError};
use std::time::Instant;

use anyhow::{Context, Result, bail};
use lookwright_film::look::{Look, MODEL_VERSION, Options};
use lookwright_film::spatial::Window;
use lookwright_picture::{
    Decoded, Extent, Header, Limits, OutFormat, Sizes, Stamp, Version, develop_in_sequence,
    develop_with,
};
use lookwright_render::Job;
use serde_json::json;

use crate::args::RenderArgs;
use crate::batch::{Gate, Held, Outcome, Record, Records, Took, digest};
use crate::output::Place;
use crate::reading::{Reading, Readings};
use crate::sequence::{Picture, shot};
use crate::workers::AllCores;
use crate::{files, settings};

/// All that a run's pictures have in common.
pub(super) struct Task<'a> {
    pub(super) args: &'a RenderArgs,
    /// The look as it is rendered.
    pub(super) look: Look,
    /// The look as it was read.
    pub(super) signed: Look,
    /// Its fingerprint.
    pub(super) fingerprint: String,
    pub(super) version: Version,
    pub(super) pictures: &'a [Picture],
    pub(super) places: &'a [Place],
    pub(super) formats: &'a [OutFormat],
    /// What is known of pictures that were written before; none for a picture by itself.
    pub(super) records: Option<Records>,
    pub(super) gate: Gate,
    /// Strips of a picture that may be in the works at a time.
    pub(super) strips: usize,
    /// The size that every picture has to have, as stored.
    pub(super) same_size: Option<(u64, u64)>,
    /// The only picture, which was looked at already.
    pub(super) only: Mutex<Option<Decoded>>,
    /// How the pictures are read; none if there is none.
    pub(super) readings: Option<Readings>,
    /// What was said already of pictures that were not read whole.
    pub(super) said: Mutex<BTreeSet<String>>,
}

impl Task<'_> {
    /// Does the picture at `place` of the run.
    pub(super) fn done(&self, place: usize) -> Result<Outcome> {
        let picture = &self.pictures[place];
        if picture.missing {
            bail!("{}: there is no such file", picture.path.display());
        }
        let begun = Instant::now();
        let held = RefCell::new(None);
        let accept = |header: &Header| {
            let strips = self.strips_for(header)?;
            if held.borrow().is_none() {
                self.is_of_the_shot(header)?;
            }
            let size = (header.width as u32, header.height as u32);
            let pixels = header.width.saturating_mul(header.height);
            let decoding = pixels.saturating_mul(header.decoding_bytes);
            let sizes = Sizes {
                size,
                sample_bytes: header.sample_bytes(),
                format: self.formats[place],
            };
            let rendering = sizes.bytes(&self.job(size, None), self.version, strips);
            let bytes = decoding.saturating_add(rendering);
            // A header is seen twice, and overscan may make its picture larger the second time.
            let enough =
                |held: &Option<Held<'_>>| held.as_ref().is_some_and(|h| h.bytes() >= bytes);
            if !enough(&held.borrow()) {
                drop(held.take());
                held.replace(Some(self.gate.enter(bytes)));
            }
            Ok(())
        };
        let only = self
            .only
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .take();
        let (decoded, mut record) = match only {
            Some(only) => (only, None),
            None => {
                let bytes = files::read_picture_bytes(&picture.path, &accept)?;
                let record = self.record(place, &bytes);
                if self.is_done(place, record.as_ref())? {
                    return Ok(Outcome::Kept);
                }
                (
                    files::decode_picture(&bytes, &picture.path, self.extent(place), &accept)?,
                    record,
                )
            }
        };
        self.say_what_is_left_out(&decoded, &picture.path);
        let read = Instant::now();
        let bytes = self.developed(&decoded, place)?;
        drop(decoded);
        let rendered = Instant::now();
        self.places[place].write_once(&bytes, || match (&self.records, &mut record) {
            (Some(records), Some(record)) => {
                record.output_digest = digest(&bytes);
                records.add(record)
            }
            _ => Ok(()),
        })?;
        Ok(Outcome::Written {
            bytes: bytes.len(),
            took: Took {
                reading: read - begun,
                rendering: rendered - read,
                writing: rendered.elapsed(),
            },
        })
    }

    fn developed(&self, decoded: &Decoded, place: usize) -> Result<Vec<u8>> {
        let readings = self.readings.as_ref().context("no picture is there")?;
        let size = (decoded.width, decoded.height);
        let (picture, format) = (&self.pictures[place], self.formats[place]);
        let reading = readings.of_picture(decoded);
        let job = self.job(size, Some((picture, reading)));
        let job = Job {
            frame: settings::frame(&self.args.frame, reading)?,
            window: decoded.window(),
            ..job
        };
        let sizes = Sizes {
            size,
            sample_bytes: decoded.samples.byte_count(),
            format,
        };
        let most = sizes
            .strips(&job, self.version, &Limits::default(), self.strips)
            .with_context(|| picture.path.display().to_string())?;
        let to = (format, &self.stamp(picture, decoded));
        let bytes = if self.strips == 1 {
            develop_in_sequence(decoded, &job, self.version, to)
        } else {
            let cores = AllCores { most };
            develop_with(decoded, &job, self.version, to, &cores, |_| Ok(()))
        };
        bytes.with_context(|| self.places[place].display().to_string())
    }

    /// What is said of a picture in its file.
    fn stamp(&self, picture: &Picture, decoded: &Decoded) -> Stamp {
        let stamp = match self.version {
            Version::Styled => Stamp::of(&self.signed, picture.number.unwrap_or(0)),
            Version::Unstyled => Stamp::default(),
        };
        stamp.carrying(files::carried(decoded, self.args.keep_place))
    }

    /// OpenEXR alone can say that a picture has more than is meant to be seen.
    pub(super) fn extent(&self, place: usize) -> Extent {
        match self.formats.get(place) {
            Some(OutFormat::ExrHalf | OutFormat::ExrF32) => Extent::Whole,
            _ => Extent::Shown,
        }
    }

    /// Says what of a picture is not read, once for all pictures of a run.
    fn say_what_is_left_out(&self, decoded: &Decoded, path: &Path) {
        let mut said = self.said.lock().unwrap_or_else(PoisonError::into_inner);
        for note in &decoded.notes {
            if !self.args.batch.quiet && said.insert(note.clone()) {
                files::say(&format!("{}: {note}", path.display()));
            }
        }
    }

    /// A job for a picture of this size; how it is read does not matter to what it takes.
    fn job(&self, (width, height): (u32, u32), of: Option<(&Picture, Reading)>) -> Job {
        let seeded = |(picture, _): (&Picture, Reading)| {
            shot::with_seed(&self.look, self.args.sequence.seed, picture.shot.as_deref())
        };
        Job {
            look: of.map_or_else(|| self.look.clone(), seeded),
            frame: lookwright_film::look::Frame::default(),
            delivery: settings::delivery(&self.args.delivery),
            stage: self.args.stage,
            window: Window::whole(width as usize, height as usize),
            frame_number: of.and_then(|(picture, _)| picture.number).unwrap_or(0),
        }
    }

    /// Bytes that a picture of this size takes at most, with one strip in the works.
    pub(super) fn bytes(&self, size: (u32, u32), format: OutFormat) -> u64 {
        let sizes = Sizes {
            size,
            sample_bytes: 0,
            format,
        };
        // Its file and its samples, about; pictures of floats have the most.
        let held = u64::from(size.0) * u64::from(size.1) * 24;
        held.saturating_add(sizes.bytes(&self.job(size, None), self.version, 1))
    }

    /// Refuses a picture of another size than the first of its shot has.
    fn is_of_the_shot(&self, header: &Header) -> lookwright_picture::Result<()> {
        let stored = (header.width, header.height);
        match self.same_size.filter(|size| *size != stored) {
            Some(size) => Err(lookwright_picture::Error::new(format!(
                "this frame has {} x {} pixels, but the first of its shot has {} x {}",
                stored.0, stored.1, size.0, size.1
            ))),
            None => Ok(()),
        }
    }

    /// How many strips of a picture with this header can be in the works at a time.
    pub(super) fn strips_for(&self, header: &Header) -> lookwright_picture::Result<usize> {
        let size = (header.width as u32, header.height as u32);
        let sizes = Sizes {
            size,
            sample_bytes: header.sample_bytes(),
            format: self.formats.first().copied().unwrap_or(OutFormat::Png8),
        };
        sizes.strips(
            &self.job(size, None),
            self.version,
            &Limits::default(),
            self.strips,
        )
    }

    /// What will be known of a picture when it is written, but for its own digest.
    fn record(&self, place: usize, input: &[u8]) -> Option<Record> {
        self.records.as_ref()?;
        let readings = self.readings.as_ref()?;
        let picture = &self.pictures[place];
        let path = self.places[place].typed();
        let seeded = shot::with_seed(&self.look, self.args.sequence.seed, picture.shot.as_deref());
        let settings = json!({
            "look": seeded.canonical(),
            "frame": settings::frame(&self.args.frame, readings.chosen()).ok()?.canonical(),
            "delivery": settings::delivery(&self.args.delivery).canonical(),
            "stage": self.args.stage.id(),
            "before": self.args.before,
            "place": self.args.keep_place,
            "format": format!("{:?}", self.formats[place]),
        });
        Some(Record {
            output: path
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned(),
            output_digest: String::new(),
            input: picture.path.to_string_lossy().into_owned(),
            input_digest: digest(input),
            frame: picture.number.unwrap_or(0),
            look: self.fingerprint.clone(),
            model: MODEL_VERSION,
            settings: digest(settings.to_string().as_bytes()),
        })
    }

    /// Whether the picture is there already as it would be written.
    fn is_done(&self, place: usize, record: Option<&Record>) -> Result<bool> {
        let (Some(records), Some(record)) = (&self.records, record) else {
            return Ok(false);
        };
        let path: &Path = self.places[place].typed();
        let Some(before) = records
            .before(&record.output)
            .filter(|b| b.is_same_work(record))
        else {
            return Ok(false);
        };
        if !self.args.batch.resume || !path.is_file() {
            return Ok(false);
        }
        let bytes =
            std::fs::read(path).with_context(|| format!("{}: can't be read", path.display()))?;
        Ok(digest(&bytes) == before.output_digest)
    }
}
