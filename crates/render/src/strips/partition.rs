//! A partition of a picture's rows, rendered strip by strip in rounds.
//!
//! Shares depend on each other only between rounds, by plain numbers ([`RoundResults::read_halo`]), so several
//! workers that have no memory in common can each render one.

mod rows;

use super::super::job::Job;
use super::PictureRows;
use super::carried::CarriedRows;
use super::kept::Kept;
use super::links::{Link, Links};
use super::results::{RoundResults, StripResult};
use super::size::{FOLLOWING_PIXELS, KEPT_PIXELS, STRIP_PIXELS, rows_of};
use core::array;
use core::ops::Range;
use lookwright_film::path::plan::Plan;
use lookwright_film::spatial::halo::{HaloExchange, HaloPlane, HaloRanges};
use lookwright_film::spatial::step::{Coarse, Strip, StripScratch};
use lookwright_film::spatial::{Planes, Window};

/// What gathering from kept rows costs, next to a round that renders.
const GATHERING_KEPT: f64 = 0.15;

/// What is done to all strips before anything else is.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Round {
    /// Keeps the rows as they are before a link.
    Keep(usize),
    /// Gathers what a link spreads far.
    Gather(usize),
    /// Gives the finished rows.
    Finish,
}

/// A partition of a picture.
pub struct Partition {
    plan: Plan,
    window: Window,
    frame_number: u32,
    links: Vec<Link>,
    width: usize,
    height: usize,
    /// The rows that are its own.
    rows: Range<usize>,
    strip_rows: usize,
    in_sequence: bool,
    kept: Option<Kept>,
    rounds: Vec<Round>,
    /// The round that it is in.
    round: usize,
}

impl Partition {
    /// `rows` of a picture of `size`, columns by rows: they begin at a multiple of [`super::PARTITION_ROWS`] and
    /// end at one or with the picture.
    pub fn new(size: (usize, usize), job: &Job, rows: Range<usize>) -> Self {
        Self::of(size, job, job.plan(), rows, KEPT_PIXELS)
    }

    /// The same without any look: the frame as the camera saw it.
    pub fn unstyled(size: (usize, usize), job: &Job, rows: Range<usize>) -> Self {
        Self::of(size, job, job.unstyled_plan(), rows, KEPT_PIXELS)
    }

    pub(super) fn of(
        (width, height): (usize, usize),
        job: &Job,
        plan: Plan,
        rows: Range<usize>,
        most_kept: usize,
    ) -> Self {
        let Links { links, .. } = Links::new((width, height), &plan, &job.window);
        let keeps = width * rows.len() <= most_kept;
        let wide = (0..links.len()).filter(|&i| links[i].is_wide());
        let mut rounds = Vec::new();
        for link in wide {
            if keeps {
                rounds.push(Round::Keep(link));
            }
            rounds.push(Round::Gather(link));
        }
        rounds.push(Round::Finish);
        Self {
            plan,
            window: job.window,
            frame_number: job.frame_number,
            links,
            width,
            height,
            rows,
            strip_rows: rows_of(width, STRIP_PIXELS),
            in_sequence: false,
            kept: None,
            rounds,
            round: 0,
        }
    }

    /// For strips that are worked on one after the other from the top, each with what the last one
    /// has left, by [`Self::follow`].
    #[must_use]
    pub fn in_sequence(mut self) -> Self {
        self.in_sequence = true;
        self.strip_rows = rows_of(self.width, FOLLOWING_PIXELS);
        self
    }

    /// How many strips its round has.
    pub fn strips(&self) -> usize {
        self.span().len().div_ceil(self.strip_rows)
    }

    /// Whether its round ends with a halo exchange; see [`Self::halo_ranges`].
    pub fn gathers(&self) -> bool {
        matches!(self.rounds[self.round], Round::Gather(_))
    }

    /// Whether its round is the last, which gives finished rows.
    pub fn is_last(&self) -> bool {
        self.rounds[self.round] == Round::Finish
    }

    /// How much of the whole work is done after `strips` of its round, 0 to 1.
    pub fn done(&self, strips: usize) -> f64 {
        let keeps = self.rounds.iter().any(|r| matches!(r, Round::Keep(_)));
        let cost = |round: &Round| match round {
            Round::Gather(_) if keeps => GATHERING_KEPT,
            _ => 1.0,
        };
        let all: f64 = self.rounds.iter().map(cost).sum();
        let before: f64 = self.rounds[..self.round].iter().map(cost).sum();
        let share = strips as f64 / self.strips().max(1) as f64;
        let now = cost(&self.rounds[self.round]) * share;
        ((before + now) / all).min(1.0)
    }

    /// The rows of the source that a strip of its round is made from, without what the one above it
    /// has left if it is worked on `after` that one: none, if what it needs is kept.
    pub fn needs(&self, strip: usize, after: bool) -> Range<usize> {
        let all = self.needs_alone(strip);
        match strip.checked_sub(1).filter(|_| after) {
            Some(above) => all.start.max(self.needs_alone(above).end)..all.end,
            None => all,
        }
    }

    fn needs_alone(&self, strip: usize) -> Range<usize> {
        if self.kept.is_some() {
            return 0..0;
        }
        let links = match self.rounds[self.round] {
            Round::Keep(link) => link,
            Round::Gather(link) => link + 1,
            Round::Finish => self.links.len(),
        };
        let margin = self.margin(0..links);
        self.around(&self.strip(strip), margin)
    }

    /// Begins its round: room for what its strips give.
    pub fn begin(&self) -> RoundResults {
        let mut results = RoundResults::default();
        match self.rounds[self.round] {
            Round::Keep(_) if !self.replaces() => {
                let pixels = self.width * self.span().len();
                results.kept.width = self.width;
                results.kept.planes = array::from_fn(|_| Vec::with_capacity(pixels));
            }
            Round::Gather(link) => {
                if let Link::Spread(step, _) = &self.links[link] {
                    results.gathering =
                        HaloExchange::new(step.as_ref(), &self.rows, &self.used(link));
                }
            }
            _ => {}
        }
        results
    }

    /// Does a strip of its round. `carried` is new, or has been through the strips above.
    pub fn work(
        &self,
        strip: usize,
        source: &impl PictureRows,
        carried: &mut CarriedRows,
    ) -> StripResult {
        let rows = self.strip(strip);
        match self.rounds[self.round] {
            Round::Keep(link) => StripResult::Kept(self.rendered(link, rows, source, carried)),
            Round::Gather(link) => match &self.links[link] {
                Link::Spread(step, _) => {
                    let gather = |strip: &Strip, scratch: &mut StripScratch| {
                        HaloExchange::part(step.as_ref(), strip, rows.clone(), scratch)
                    };
                    StripResult::Halved(self.on_margin(link, &rows, source, carried, gather))
                }
                _ => StripResult::Kept(Planes::default()),
            },
            Round::Finish => {
                StripResult::Finished(self.rendered(self.links.len(), rows, source, carried))
            }
        }
    }

    /// Does the next strip of its round and takes in what it gives; gives back finished rows.
    /// `carried` has been through the strips above.
    pub fn follow(
        &mut self,
        strip: usize,
        source: &impl PictureRows,
        carried: &mut CarriedRows,
        results: &mut RoundResults,
    ) -> Option<Planes> {
        let first = self.first_row(strip);
        match (self.work(strip, source, carried), &self.kept) {
            (StripResult::Kept(rows), Some(_)) => {
                let margin = match self.rounds[self.round] {
                    Round::Keep(link) => self.margin(self.kept_links()..link),
                    _ => 0,
                };
                if let Some(kept) = &mut self.kept {
                    kept.replace(first, rows, margin);
                }
                None
            }
            (work, _) => results.take(work),
        }
    }

    /// How many links what it keeps has been through.
    fn kept_links(&self) -> usize {
        self.kept.as_ref().map_or(0, |kept| kept.links)
    }

    /// Whether its strips replace what was kept before.
    fn replaces(&self) -> bool {
        self.in_sequence && self.kept.is_some()
    }

    /// The first of the picture's rows that a strip of its round gives.
    pub fn first_row(&self, strip: usize) -> usize {
        self.strip(strip).start
    }

    /// What it has of a plane after a gathering round, which may be nothing, and what it needs. The
    /// other partitions read what it has ([`RoundResults::read_halo`]) and write what it needs
    /// ([`RoundResults::write_halo`]), first of level 1, then of level 2; then the layer is closed. So
    /// are all layers before the round ends.
    pub fn halo_ranges(&self, results: &mut RoundResults, plane: HaloPlane) -> HaloRanges {
        if let Round::Gather(link) = self.rounds[self.round]
            && let Link::Spread(step, _) = &self.links[link]
        {
            return results.gathering.halo_ranges(step.as_ref(), plane);
        }
        HaloRanges::default()
    }

    /// Makes of a layer what is spread far.
    pub fn close_halo(&mut self, results: &mut RoundResults, layer: usize) {
        if let Round::Gather(link) = self.rounds[self.round]
            && let Link::Spread(step, coarse) = &mut self.links[link]
        {
            results.gathering.close_halo(step.as_ref(), layer, coarse);
        }
    }

    /// Goes on to the next round.
    pub fn next_round(&mut self, results: RoundResults) {
        if let Round::Keep(link) = self.rounds[self.round] {
            let before = self.kept.take().filter(|_| self.in_sequence);
            let new = || Strip {
                picture: results.kept,
                first: self.span().start,
                full_height: self.height,
            };
            self.kept = Some(match before {
                Some(kept) => kept.replaced(link),
                None => Kept::new(link, new()),
            });
            // What made them is not needed any more.
            for link in &mut self.links[..link] {
                if let Link::Spread(_, coarse) = link {
                    *coarse = Coarse::NONE;
                }
            }
        }
        self.round += 1;
    }

    /// The picture's rows that a link which spreads light is used for in the end.
    fn used(&self, link: usize) -> Range<usize> {
        let margin = self.margin(link + 1..self.links.len());
        self.around(&self.rows, margin)
    }

    /// The rows that its round gives.
    fn span(&self) -> Range<usize> {
        match self.rounds[self.round] {
            Round::Keep(link) => {
                let margin = self.margin(link..self.links.len());
                self.around(&self.rows, margin)
            }
            _ => self.rows.clone(),
        }
    }

    fn strip(&self, index: usize) -> Range<usize> {
        let span = self.span();
        let first = span.start + index * self.strip_rows;
        first..span.end.min(first + self.strip_rows)
    }

    /// How many rows around a strip some links depend on, all together.
    fn margin(&self, links: Range<usize>) -> usize {
        self.links[links].iter().map(Link::margin).sum()
    }

    fn around(&self, rows: &Range<usize>, margin: usize) -> Range<usize> {
        rows.start.saturating_sub(margin)..self.height.min(rows.end + margin)
    }
}
