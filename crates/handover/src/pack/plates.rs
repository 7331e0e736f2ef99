//! Plates in a pack: what grain, dust and halation change in a picture, as pictures of their own.
//!
//! A plate is half the difference that one step makes, around 0.5, in the code that the pack's
//! tables give: `picture + 2 plate - 1` puts it back. So one blend serves all three, and it goes
//! where an editor can reach: after the whole table, or between its two halves. Grain and dust are
//! made over mid-grey; halation over the frame that it belongs to.

use core::ops::Range;

use lookwright_colour::encoding::EncodingId;
use lookwright_colour::{Error, Result};
use lookwright_film::look::{Frame, Look, Options, StageId, effective_amount};
use lookwright_film::spatial::{Planes, Window};
use lookwright_picture::{OutColour, OutFormat, PictureWriter, Rows, WriteOptions};
use lookwright_render::{Job, OneThread, PictureRows, Renderer, render_strips};

use super::findings::Findings;
use super::work::Made;
use super::{Pack, PackLook};
use crate::baked::screen_words;
use crate::{Split, name};

/// Mid-grey in scene light.
const MID_GREY: f32 = 0.18;
/// Longest edge of a plate in pixels.
const EDGE_MAX: u32 = 16_384;
/// Most plates of a sequence.
const FRAMES_MAX: u32 = 10_000;

/// Grain and dust plates: their size and number. Halation has the frames'.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Plates {
    /// Columns.
    pub width: u32,
    /// Rows.
    pub height: u32,
    /// How many of each.
    pub frames: u32,
}

impl Default for Plates {
    /// A second of 24 frames at 1920 x 1080.
    fn default() -> Self {
        Self {
            width: 1920,
            height: 1080,
            frames: 24,
        }
    }
}

impl Plates {
    pub(super) fn check(self) -> Result<()> {
        let edges = 1..=EDGE_MAX;
        if edges.contains(&self.width)
            && edges.contains(&self.height)
            && (1..=FRAMES_MAX).contains(&self.frames)
        {
            return Ok(());
        }
        Err(Error::new(format!(
            "plates have edges of 1 to {EDGE_MAX} pixels and 1 to {FRAMES_MAX} frames; asked for \
             were {} x {} and {}",
            self.width, self.height, self.frames
        )))
    }
}

/// A plate to be made.
pub(super) struct PlateTask {
    entry: usize,
    /// The step's id.
    step: &'static str,
    what: What,
    path: String,
}

enum What {
    /// Number of a grain or dust plate, from 1.
    OverGrey(u32),
    /// Place among the pack's frames.
    OverFrame(usize),
}

/// The plates of a look that has the steps.
pub(super) fn tasks(pack: &Pack, index: usize, entry: &PackLook) -> Vec<PlateTask> {
    let Some(plates) = pack.plates else {
        return Vec::new();
    };
    let mut tasks = Vec::new();
    let mut add = |step, what, number: String| {
        let stem = stem(pack, entry, step);
        tasks.push(PlateTask {
            entry: index,
            step,
            what,
            path: format!("{stem}{number}.png"),
        });
    };
    for step in ["dust", "grain"] {
        if has(&entry.look, step) {
            for number in 1..=plates.frames {
                add(step, What::OverGrey(number), format!(".{number:04}"));
            }
        }
    }
    if has(&entry.look, "halation") {
        for (place, frame) in pack.frames.iter().enumerate() {
            let number = format!("_{}-{}", place + 1, name::part(&frame.name));
            add("halation", What::OverFrame(place), number);
        }
    }
    tasks
}

fn stem(pack: &Pack, entry: &PackLook, step: &str) -> String {
    let folder = entry.folder();
    let (_, id, _) = place(pack);
    format!("{folder}/plates/{}_{folder}_{step}_on-{id}", entry.slug)
}

/// Where plates are laid: the stage, its name in file names, and for people.
fn place(pack: &Pack) -> (StageId, String, String) {
    if pack.splits.iter().any(|split| *split != Split::Whole) {
        return (
            StageId::Scan,
            "film-scan".to_owned(),
            "the film scan, between the two halves".to_owned(),
        );
    }
    let delivery = pack.delivery(pack.out_ranges[0]);
    let range = delivery.display.range.id();
    (
        StageId::Screen,
        format!("{}-{range}", pack.screen.id()),
        format!("the picture after the table ({})", screen_words(&delivery)),
    )
}

fn has(look: &Look, id: &str) -> bool {
    let mut found = false;
    look.clone().for_each_step(|step| {
        found |= step.spec().id == id && effective_amount(step) > 0.0;
    });
    found
}

/// The look with one step of its texture, and no other.
fn alone(look: &Look, id: &str) -> Look {
    let mut look = look.clone();
    look.for_each_step(|step| {
        if step.spec().texture && step.spec().id != id {
            step.set_on(false);
        }
    });
    look
}

/// An even mid-grey in scene light.
struct Grey(Plates);

impl PictureRows for Grey {
    fn size(&self) -> (usize, usize) {
        (self.0.width as usize, self.0.height as usize)
    }

    fn rows(&self, rows: Range<usize>) -> Planes {
        Planes::filled(self.0.width as usize, rows.len(), MID_GREY)
    }
}

impl PlateTask {
    pub(super) fn run(&self, pack: &Pack, entries: &[PackLook], made: &mut Made) -> Result<()> {
        let look = &entries[self.entry].look;
        let words = format!("{}: {}", self.step, blend_words());
        let bytes = match self.what {
            What::OverGrey(number) => {
                let mut frame = Frame::default();
                frame.source.encoding = EncodingId::AcesCg;
                let grey = Grey(pack.plates.unwrap_or_default());
                let job = self.job(pack, look, frame, grey.size(), number);
                plate(&grey, &job, &words)?
            }
            What::OverFrame(place) => {
                let sample = &pack.frames[place];
                let size = sample.picture.size();
                let job = self.job(pack, look, sample.frame.clone(), size, 0);
                plate(&sample.picture, &job, &words)?
            }
        };
        made.archive.add(&self.path, &bytes)
    }

    fn job(
        &self,
        pack: &Pack,
        look: &Look,
        frame: Frame,
        (width, height): (usize, usize),
        frame_number: u32,
    ) -> Job {
        let (stage, ..) = place(pack);
        Job {
            look: alone(look, self.step),
            frame,
            delivery: pack.delivery(pack.out_ranges[0]),
            stage,
            window: Window::whole(width, height),
            frame_number,
        }
    }
}

/// What the job's texture changes, as a PNG of 16 bits around 0.5; strip by strip.
fn plate(source: &impl PictureRows, job: &Job, words: &str) -> Result<Vec<u8>> {
    let (width, height) = source.size();
    let options = WriteOptions {
        colour: OutColour::Unmarked,
        legal_range: false,
        description: Some(words.to_owned()),
        ..WriteOptions::default()
    };
    let mut writer = PictureWriter::new(OutFormat::Png16, width as u32, height as u32, &options)?;
    let mut plain = job.clone();
    plain.look = job.look.without_texture();
    let take = |first: usize, textured: Planes| {
        let rows = source.rows(first..first + textured.height);
        let without = Renderer::new(rows).render(&plain);
        let mut codes = vec![0_u16; textured.planes[0].len() * 3];
        for channel in 0..3 {
            let pairs = textured.planes[channel]
                .iter()
                .zip(&without.planes[channel]);
            for (pixel, (with, without)) in codes.chunks_exact_mut(3).zip(pairs) {
                pixel[channel] = code16(*with, *without);
            }
        }
        writer.push_rows(Rows::U16(&codes))
    };
    render_strips(source, job, &OneThread, |_| Ok(()), take)?;
    writer.finish()
}

/// 0.5 is code 32768, so that no difference is an even number of codes.
fn code16(with: f32, without: f32) -> u16 {
    let half = (with.clamp(0.0, 1.0) - without.clamp(0.0, 1.0)) * 0.5;
    (half * 65535.0 + 32768.5).clamp(0.0, 65535.0) as u16
}

/// How any plate is laid.
pub(super) fn blend_words() -> &'static str {
    "picture + 2 x plate - 1, in code (the blend that programs call linear light)"
}

/// What the note says of the plates: a row for each look and step.
pub(super) fn tell(pack: &Pack, entries: &[PackLook], findings: &mut Findings) {
    let Some(plates) = pack.plates else {
        return;
    };
    let (_, _, lie_on) = place(pack);
    for entry in entries {
        for step in ["dust", "grain", "halation"] {
            if !has(&entry.look, step) || (step == "halation" && pack.frames.is_empty()) {
                continue;
            }
            let stem = stem(pack, entry, step);
            let Plates {
                width,
                height,
                frames,
            } = plates;
            let (path, what) = match step {
                "halation" => (
                    format!("{stem}_....png"),
                    format!(
                        "{}: each for the frame in its name and no other",
                        pack.frames.len()
                    ),
                ),
                _ => (
                    format!("{stem}.0001.png ..."),
                    format!("{frames} of {width} x {height}: run them at the clip's frame rate"),
                ),
            };
            findings.plates.push(vec![path, what, lie_on.clone()]);
        }
    }
}

#[cfg(test)]
mod tests;
