//! Reads frames, renders several at a time, and hands them on in order.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Mutex, PoisonError};
use std::time::Instant;

use anyhow::{Context, Result, anyhow, bail};
use lookwright_film::look::Look;
use lookwright_film::spatial::Window;
use lookwright_picture::{Limits, OutFormat, Sizes, Stamp, Version, develop_in_sequence};
use lookwright_render::Job;

use super::source::{Frame, Source};
use super::y4m::Y4mWriter;
use crate::args::RenderArgs;
use crate::batch::Gate;
use crate::output::{Folder, Pattern, Planned, places};
use crate::reading::{Reading, Readings};
use crate::sequence::{Picture, shot};
use crate::{files, settings};

/// Frames that wait or are worked on, for each thread.
const IN_THE_WORKS: usize = 2;

/// Whether a name stands for standard input or output.
pub(crate) fn is_pipe(path: &Path) -> bool {
    path == Path::new("-")
}

/// All that the frames have in common.
struct Run<'a> {
    args: &'a RenderArgs,
    signed: &'a Look,
    look: &'a Look,
    format: OutFormat,
    y4m: Option<Y4mWriter>,
}

/// Renders what comes in through a pipe, or goes out through one; `pictures` are the files, if it is
/// files that come in.
///
/// # Errors
/// The first thing that goes wrong; what was handed on before is whole.
pub(crate) fn run(
    args: &RenderArgs,
    (signed, look): (&Look, &Look),
    pictures: Option<&[Picture]>,
    threads: usize,
) -> Result<()> {
    let begun = Instant::now();
    if is_pipe(&args.output) && std::io::stdout().is_terminal() {
        bail!("-: standard output is a terminal; pipe it into a program, or name a file");
    }
    let format = format(args)?;
    let mut source = match pictures {
        Some(pictures) => Source::Files(pictures.iter()),
        None => Source::standard_input(args.pipe.raw, args.sequence.first_frame.unwrap_or(0))?,
    };
    let y4m = match (is_y4m(args), args.pipe.rate.as_deref().or(source.rate())) {
        (false, _) => None,
        (true, Some(rate)) => Some(Y4mWriter {
            rate: rate.to_owned(),
            aspect: source.aspect().to_owned(),
        }),
        (true, None) => bail!("--rate is missing: Y4M names the frames of a second"),
    };
    let run = Run {
        args,
        signed,
        look,
        format,
        y4m,
    };
    let many = source.left() != Some(1);
    let first = source.next()?;
    let Some(first) = first else {
        bail!("standard input: nothing came in");
    };
    let readings = run.readings(&first, many)?;
    let size = (first.picture.width, first.picture.height);
    // Nothing tells such frames apart but their size.
    let headless = matches!(
        format,
        OutFormat::Raw8 | OutFormat::Raw16 | OutFormat::RawF32
    );
    // Each frame in the works holds memory, from being read to being handed on.
    let limit = Limits::default().max_bytes;
    let gate = Gate::new(limit);
    let share = limit / (threads * IN_THE_WORKS) as u64;
    let (to_render, waiting) = channel();
    let (to_write, rendered) = channel();
    let (waiting, stopped) = (Mutex::new(waiting), AtomicBool::new(false));
    let count = std::thread::scope(|scope| {
        for _ in 0..threads {
            let (waiting, to_write, run) = (&waiting, to_write.clone(), &run);
            scope.spawn(move || run.work(readings, waiting, &to_write));
        }
        drop(to_write);
        let writer = scope.spawn(|| run.hand_on(rendered, &stopped));
        let read = || -> Result<()> {
            let mut next = Some(first);
            let mut place = 0_usize;
            let mut said = BTreeSet::new();
            while let Some(frame) = next {
                let own = (frame.picture.width, frame.picture.height);
                if headless && own != size {
                    bail!(
                        "frame {}: it has {} x {} pixels, but the first has {} x {}; frames of a stream \
                         are of one size",
                        frame.number,
                        own.0,
                        own.1,
                        size.0,
                        size.1
                    );
                }
                for note in &frame.picture.notes {
                    if !args.batch.quiet && said.insert(note.clone()) {
                        files::say(&format!("frame {}: {note}", frame.number));
                    }
                }
                let held = gate.enter(share.max(run.bytes(&frame)));
                if stopped.load(Ordering::Relaxed) || to_render.send((place, frame, held)).is_err()
                {
                    break;
                }
                place += 1;
                next = source.next()?;
            }
            Ok(())
        };
        let read = read();
        drop(to_render);
        let written = writer
            .join()
            .map_err(|_| anyhow!("the frames could not be handed on"))?;
        // What could not be written explains why reading stopped.
        let written = written?;
        read?;
        Ok::<_, anyhow::Error>(written)
    })?;
    if many && !args.batch.quiet {
        let seconds = begun.elapsed().as_secs_f64();
        let pace = count as f64 / seconds.max(1e-3);
        files::say(&format!(
            "{count} frames; {seconds:.1} s, {pace:.2} a second"
        ));
    }
    Ok(())
}

/// Refuses options that would do nothing, or the wrong thing, to what goes out.
///
/// # Errors
/// One sentence that says which.
pub(crate) fn check(args: &RenderArgs) -> Result<()> {
    if args.pipe.rate.is_some() && !is_y4m(args) {
        bail!("--rate: only Y4M names a rate; leave this out, or send --format y4m to -o -");
    }
    if args.delivery.legal && is_y4m(args) {
        bail!("--legal: Y4M is written in legal range in any case; leave this out");
    }
    Ok(())
}

/// What is written: for standard output by its name, otherwise by the ending.
fn format(args: &RenderArgs) -> Result<OutFormat> {
    if !is_pipe(&args.output) {
        return crate::render::format_of(&args.output, args);
    }
    if is_y4m(args) {
        return Ok(OutFormat::Raw16);
    }
    if let Ok(raw) = OutFormat::from_id(&args.format, args.quality) {
        return Ok(raw);
    }
    OutFormat::from_ending(&args.format, args.depth, args.quality).context("--format")
}

/// Whether Y4M goes out, which is made of raw frames.
fn is_y4m(args: &RenderArgs) -> bool {
    is_pipe(&args.output) && args.format == "y4m"
}

type Waiting<'g> = (usize, Frame, crate::batch::Held<'g>);
type Done<'g> = (usize, u32, Result<Vec<u8>>, crate::batch::Held<'g>);

impl Run<'_> {
    /// How all frames are read: as said, or a picture by itself as it looks.
    fn readings(&self, first: &Frame, many: bool) -> Result<Readings> {
        let args = &self.args.frame;
        if args.from.is_none() && (many || self.args.pipe.raw.is_some()) {
            bail!(
                "--from is missing: a stream's encoding is not guessed, as its frames can't be compared"
            );
        }
        Ok(Readings::as_first(
            args,
            Reading::of_one(args, &first.picture, "standard input")?,
        ))
    }

    /// Memory that a frame takes until it has been handed on, about.
    fn bytes(&self, frame: &Frame) -> u64 {
        let picture = &frame.picture;
        let sizes = Sizes {
            size: (picture.width, picture.height),
            sample_bytes: picture.samples.byte_count(),
            format: self.format,
        };
        sizes.bytes(&self.job(frame, None), self.version(), 1)
    }

    fn version(&self) -> Version {
        if self.args.before {
            Version::Unstyled
        } else {
            Version::Styled
        }
    }

    /// The job for a frame; how it is read does not matter to what it takes.
    fn job(&self, frame: &Frame, settings: Option<lookwright_film::look::Frame>) -> Job {
        let (width, height) = (frame.picture.width as usize, frame.picture.height as usize);
        Job {
            look: shot::with_seed(self.look, self.args.sequence.seed, frame.shot.as_deref()),
            frame: settings.unwrap_or_default(),
            delivery: settings::delivery(&self.args.delivery),
            stage: self.args.stage,
            window: Window::whole(width, height),
            frame_number: frame.number,
        }
    }

    fn work<'g>(
        &self,
        readings: Readings,
        waiting: &Mutex<Receiver<Waiting<'g>>>,
        to_write: &Sender<Done<'g>>,
    ) {
        loop {
            let next = waiting
                .lock()
                .unwrap_or_else(PoisonError::into_inner)
                .recv();
            let Ok((place, frame, held)) = next else {
                return;
            };
            let bytes = self
                .rendered(&frame, readings.of_picture(&frame.picture))
                .map(|bytes| self.in_stream(place, &frame, bytes));
            if to_write.send((place, frame.number, bytes, held)).is_err() {
                return;
            }
        }
    }

    fn rendered(&self, frame: &Frame, reading: Reading) -> Result<Vec<u8>> {
        let picture = &frame.picture;
        let job = self.job(frame, Some(settings::frame(&self.args.frame, reading)?));
        let version = self.version();
        let stamp = match version {
            Version::Styled => Stamp::of(self.signed, frame.number),
            Version::Unstyled => Stamp::default(),
        };
        let stamp = stamp.carrying(files::carried(picture, self.args.keep_place));
        let bytes = develop_in_sequence(picture, &job, version, (self.format, &stamp));
        bytes.with_context(|| format!("frame {}", frame.number))
    }

    /// A frame as it goes out, the first of a Y4M with the line that begins one.
    fn in_stream(&self, place: usize, frame: &Frame, bytes: Vec<u8>) -> Vec<u8> {
        let Some(y4m) = &self.y4m else {
            return bytes;
        };
        let coded = Y4mWriter::frame(&bytes);
        if place > 0 {
            return coded;
        }
        let line = y4m.header((frame.picture.width, frame.picture.height));
        [line.as_bytes(), &coded].concat()
    }

    /// Hands frames on in the order in which they came; gives how many. After the first that can't be,
    /// the rest is let go.
    fn hand_on(&self, rendered: Receiver<Done<'_>>, stopped: &AtomicBool) -> Result<usize> {
        let mut early = BTreeMap::new();
        let mut count = Ok(0);
        for (place, number, bytes, held) in rendered {
            early.insert(place, (number, bytes, held));
            while let Ok(next) = count
                && let Some((number, bytes, held)) = early.remove(&next)
            {
                count = bytes
                    .and_then(|bytes| self.write(next, number, &bytes))
                    .map(|()| next + 1);
                drop(held);
            }
            if count.is_err() {
                stopped.store(true, Ordering::Relaxed);
                early.clear();
            }
        }
        count
    }

    fn write(&self, place: usize, number: u32, bytes: &[u8]) -> Result<()> {
        if is_pipe(&self.args.output) {
            let mut output = std::io::stdout().lock();
            return match output.write_all(bytes).and_then(|()| output.flush()) {
                Ok(()) => Ok(()),
                Err(error) => {
                    bail!("standard output: it was closed after {place} frames ({error})")
                }
            };
        }
        if place > 0 && self.name(0)? == self.name(1)? {
            bail!(
                "{}: several frames go to names with a number, such as out/f.####.png",
                self.args.output.display()
            );
        }
        let planned = Planned {
            path: self.name(number)?,
            of: None,
            known: false,
        };
        let places = places(
            &[planned],
            &[&self.args.look],
            Folder::Needed,
            &self.args.writing,
        )?;
        places.iter().try_for_each(|place| place.write(bytes))
    }

    /// The file of a frame.
    fn name(&self, number: u32) -> Result<PathBuf> {
        let output = &self.args.output;
        let name = output.file_name().and_then(|name| name.to_str());
        let pattern = Pattern::parse(name.unwrap_or_default())?;
        match pattern.plain() {
            Some(plain) => Ok(output.with_file_name(plain)),
            None => Ok(output.with_file_name(pattern.fill(Path::new(""), Some(number))?)),
        }
    }
}
