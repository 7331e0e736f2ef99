//! Strip by strip: full-size pictures in memory that hardly grows with them.
//!
//! A strip is rendered from the picture's rows each time it is needed, with a few rows around it
//! for every step that spreads light. What is spread wider than that is gathered before, in one
//! round over all strips for each such step, on pictures of half the size (see
//! [`crate::spatial::step`]). The numbers are those of [`super::render`], bit by bit, whatever the
//! strips and whoever works on them.

use core::ops::Range;

use super::plan::Job;
use super::pointwise::{self, FromDensity, ToDensity, ToExposure, ToScene, Unstyled, UpTo};
use super::texture;
use crate::error::Result;
use crate::look::StageId;
use crate::path::LightPath;
use crate::spatial::Planes;
use crate::spatial::step::{Coarse, Gathering, STRIP_MARGIN, SpreadStep, Strip, is_wide};

/// Who renders strips: one thread or several.
pub trait Workers {
    /// Does `work(i)` for every `i` below `count`, and hands the results to `take` in that order.
    ///
    /// # Errors
    /// The first that `take` gives; the work that is left then stays undone.
    fn each<T: Send>(
        &self,
        count: usize,
        work: impl Fn(usize) -> T + Sync,
        take: impl FnMut(usize, T) -> Result<()>,
    ) -> Result<()>;
}

/// The caller's own thread does everything.
#[derive(Clone, Copy, Debug, Default)]
pub struct OneThread;

impl Workers for OneThread {
    fn each<T: Send>(
        &self,
        count: usize,
        work: impl Fn(usize) -> T + Sync,
        mut take: impl FnMut(usize, T) -> Result<()>,
    ) -> Result<()> {
        (0..count).try_for_each(|i| take(i, work(i)))
    }
}

/// A picture that gives its rows in its frame's code.
pub trait Source: Sync {
    /// Columns and rows.
    fn size(&self) -> (usize, usize);
    /// Some of the rows.
    fn rows(&self, rows: Range<usize>) -> Planes;
}

/// Pixels of a strip, about: a strip and what it takes to make it stay below 100 MB.
const STRIP_PIXELS: usize = 3 << 19;
/// Fewest rows of a strip, so that the rows around it are the smaller part.
const ROWS_MIN: usize = 64;

/// Renders a whole picture strip by strip: `take(first row, strip)` from the top. `watch(share)` is
/// told after each strip how much of the work is done.
///
/// # Errors
/// The first that `take` or `watch` gives: that is how a rendering is cancelled.
pub fn render_strips(
    source: &impl Source,
    job: &Job,
    workers: &impl Workers,
    mut watch: impl FnMut(f64) -> Result<()>,
    take: impl FnMut(usize, Planes) -> Result<()>,
) -> Result<()> {
    let path = LightPath::new(&job.look, &job.frame, &job.delivery);
    let mut strips = Strips::new(source, job, links(source, job, &path));
    let wide: Vec<usize> = (0..strips.links.len())
        .filter(|&i| strips.is_wide(i))
        .collect();
    let rounds = wide.len() + 1;
    for (round, link) in wide.into_iter().enumerate() {
        strips.gather(link, workers, |share| {
            watch((round as f64 + share) / rounds as f64)
        })?;
    }
    let last = |share| watch(((rounds - 1) as f64 + share) / rounds as f64);
    strips.finish(workers, last, take)
}

/// The same without any look; see [`super::unstyled`].
///
/// # Errors
/// As [`render_strips`].
pub fn unstyled_strips(
    source: &impl Source,
    job: &Job,
    workers: &impl Workers,
    watch: impl FnMut(f64) -> Result<()>,
    take: impl FnMut(usize, Planes) -> Result<()>,
) -> Result<()> {
    let path = LightPath::new(&job.look, &job.frame, &job.delivery);
    let whole = Link::Point(Box::new(move |picture| {
        pointwise::run(&Unstyled(&path), picture)
    }));
    Strips::new(source, job, vec![whole]).finish(workers, watch, take)
}

/// Something done to a picture.
enum Link<'a> {
    /// To each pixel by itself.
    Point(Box<dyn Fn(&mut Planes) + Sync + 'a>),
    /// To each pixel by its place: grain and dust.
    Place,
    /// To each pixel and those around it.
    Spread(Box<dyn SpreadStep>, Coarse),
}

/// What is done up to the job's stage, in order.
fn links<'a>(source: &impl Source, job: &'a Job, path: &'a LightPath) -> Vec<Link<'a>> {
    let stage = job.stage;
    if stage == StageId::Intake || !job.look.has_texture() {
        let whole = move |picture: &mut Planes| pointwise::run(&UpTo(path, stage), picture);
        return vec![Link::Point(Box::new(whole))];
    }
    let (width, height) = source.size();
    let [diffusion, halation, softness] = texture::spread_steps(job, width, height)
        .map(|step| step.map(|step| Link::Spread(step, Coarse::NONE)));
    let mut links = vec![Link::Point(Box::new(|p| pointwise::run(&ToScene(path), p)))];
    links.extend(diffusion);
    if stage == StageId::Lens {
        return links;
    }
    links.push(Link::Point(Box::new(|p| {
        pointwise::run(&ToExposure(path), p)
    })));
    links.extend(halation.into_iter().chain(softness));
    links.push(Link::Point(Box::new(|p| {
        pointwise::run(&ToDensity(path), p)
    })));
    links.push(Link::Place);
    if stage != StageId::Negative {
        let finish = move |p: &mut Planes| pointwise::run(&FromDensity(path, stage), p);
        links.push(Link::Point(Box::new(finish)));
    }
    links
}

struct Strips<'a, S: Source> {
    source: &'a S,
    job: &'a Job,
    links: Vec<Link<'a>>,
    height: usize,
    rows: usize,
}

impl<'a, S: Source> Strips<'a, S> {
    fn new(source: &'a S, job: &'a Job, links: Vec<Link<'a>>) -> Self {
        let (width, height) = source.size();
        let rows = (STRIP_PIXELS / width.max(1)).max(ROWS_MIN);
        Self {
            source,
            job,
            links,
            height,
            // Even, so that strips can be halved.
            rows: rows.next_multiple_of(2),
        }
    }

    fn count(&self) -> usize {
        self.height.div_ceil(self.rows)
    }

    fn strip(&self, index: usize) -> Range<usize> {
        index * self.rows..self.height.min((index + 1) * self.rows)
    }

    fn is_wide(&self, link: usize) -> bool {
        matches!(&self.links[link], Link::Spread(step, _) if is_wide(step.as_ref()))
    }

    /// `rows` after the first `count` links.
    fn rendered(&self, count: usize, rows: Range<usize>) -> Planes {
        let Some(before) = count.checked_sub(1) else {
            return self.source.rows(rows);
        };
        match &self.links[before] {
            Link::Point(run) => {
                let mut picture = self.rendered(before, rows);
                run(&mut picture);
                picture
            }
            Link::Place => {
                let mut job = self.job.clone();
                job.window.y0 += rows.start as u32;
                let mut picture = self.rendered(before, rows);
                texture::grain_and_dust(&mut picture, &job);
                picture
            }
            Link::Spread(step, coarse) => {
                self.around(before, &rows)
                    .spread(step.as_ref(), coarse, rows)
            }
        }
    }

    /// `rows` and those around them after the first `count` links.
    fn around(&self, count: usize, rows: &Range<usize>) -> Strip {
        let first = rows.start.saturating_sub(STRIP_MARGIN);
        let end = self.height.min(rows.end + STRIP_MARGIN);
        Strip {
            picture: self.rendered(count, first..end),
            first,
            full_height: self.height,
        }
    }

    /// Makes what the strips share at one link.
    fn gather(
        &mut self,
        link: usize,
        workers: &impl Workers,
        mut watch: impl FnMut(f64) -> Result<()>,
    ) -> Result<()> {
        let Link::Spread(step, _) = &self.links[link] else {
            return Ok(());
        };
        let mut gathering = Gathering::new(step.as_ref());
        let part = |index| {
            let rows = self.strip(index);
            Gathering::part(step.as_ref(), &self.around(link, &rows), rows)
        };
        workers.each(self.count(), part, |index, part| {
            gathering.take(index * self.rows, &part);
            watch((index + 1) as f64 / self.count() as f64)
        })?;
        let shared = gathering.finish(step.as_ref());
        if let Link::Spread(_, coarse) = &mut self.links[link] {
            *coarse = shared;
        }
        Ok(())
    }

    fn finish(
        &self,
        workers: &impl Workers,
        mut watch: impl FnMut(f64) -> Result<()>,
        mut take: impl FnMut(usize, Planes) -> Result<()>,
    ) -> Result<()> {
        let whole = |index| self.rendered(self.links.len(), self.strip(index));
        workers.each(self.count(), whole, |index, strip| {
            take(index * self.rows, strip)?;
            watch((index + 1) as f64 / self.count() as f64)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::error::Error;
    use crate::look::{Delivery, Frame, HalationMethod, Look, Options, StockClass};
    use crate::render::{render, unstyled};
    use crate::spatial::Window;

    impl Source for Planes {
        fn size(&self) -> (usize, usize) {
            (self.width, self.height)
        }
        fn rows(&self, rows: Range<usize>) -> Planes {
            let span = rows.start * self.width..rows.end * self.width;
            Planes {
                width: self.width,
                height: rows.len(),
                planes: self
                    .planes
                    .each_ref()
                    .map(|plane| plane[span.clone()].to_vec()),
            }
        }
    }

    /// A noisy night with lamps, some of them where strips meet.
    fn night(width: usize, height: usize) -> Planes {
        let mut picture = Planes::filled(width, height, 0.0);
        let mut state = 7_u32;
        for plane in &mut picture.planes {
            for (i, value) in plane.iter_mut().enumerate() {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let noise = (state >> 8) as f32 / 16_777_216.0;
                *value = if i % 4099 == 60 {
                    0.98
                } else {
                    0.2 + 0.3 * noise
                };
            }
        }
        picture
    }

    fn job(width: usize, height: usize) -> Job {
        let mut look = Look::starting(StockClass::Tungsten500);
        look.for_each_step(|step| step.set_on(true));
        Job {
            look,
            frame: Frame::read(r#"{"source":{"encoding":"logc3"}}"#).unwrap(),
            delivery: Delivery::default(),
            stage: StageId::Screen,
            window: Window::whole(width, height),
            frame_number: 5,
        }
    }

    /// All strips on top of each other.
    fn joined(source: &Planes, job: &Job) -> Planes {
        let mut out = Planes::filled(source.width, 0, 0.0);
        let take = |first: usize, strip: Planes| {
            assert_eq!(first, out.height);
            out.height += strip.height;
            for (whole, part) in out.planes.iter_mut().zip(&strip.planes) {
                whole.extend(part);
            }
            Ok(())
        };
        render_strips(source, job, &OneThread, |_| Ok(()), take).unwrap();
        out
    }

    #[test]
    fn strips_are_the_whole_picture_bit_by_bit() {
        // Wide pictures make strips of the fewest rows: 64.
        for (width, height) in [(24_600, 131), (24_601, 64), (30, 90)] {
            let source = night(width, height);
            let mut job = job(width, height);
            for method in HalationMethod::ALL {
                job.look.negative.halation.method = *method;
                assert!(
                    joined(&source, &job) == render(source.clone(), &job),
                    "{method:?}"
                );
                if width < 24_600 {
                    continue;
                }
                break;
            }
        }
    }

    #[test]
    fn every_stage_comes_in_strips() {
        let source = night(50, 70);
        let mut job = job(50, 70);
        for stage in StageId::ALL {
            job.stage = *stage;
            assert!(
                joined(&source, &job) == render(source.clone(), &job),
                "{stage:?}"
            );
        }
        job.look = job.look.without_texture();
        assert!(joined(&source, &job) == render(source.clone(), &job));
        let mut plain = Vec::new();
        let take = |_, strip: Planes| {
            plain.push(strip);
            Ok(())
        };
        unstyled_strips(&source, &job, &OneThread, |_| Ok(()), take).unwrap();
        assert!(plain[0] == unstyled(source, &job));
    }

    #[test]
    fn watching_can_stop_it_and_hears_of_the_end() {
        let (source, job) = (night(30, 40), job(30, 40));
        let stopped = render_strips(
            &source,
            &job,
            &OneThread,
            |_| Err(Error::new("stopped")),
            |_, _| panic!("a strip after the stop"),
        );
        assert_eq!(stopped.unwrap_err().message(), "stopped");
        let mut shares = Vec::new();
        let watch = |share| {
            shares.push(share);
            Ok(())
        };
        render_strips(&source, &job, &OneThread, watch, |_, _| Ok(())).unwrap();
        assert!(
            shares.is_sorted() && shares.last() == Some(&1.0),
            "{shares:?}"
        );
    }
}
