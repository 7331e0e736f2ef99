//! A part of a picture at full size, for looking at it: the very numbers of the whole picture.
//!
//! What a step spreads farther than strips bring along is gathered from the whole picture first,
//! as for strips, and kept as long as nothing before it changes. So the first look takes its time
//! ([`Detail::prepare`] does it bit by bit), and every other place is there at once.

use core::hash::Hasher;
use core::ops::Range;
use std::hash::DefaultHasher;

use super::job::Job;
use super::pointwise::Along;
use super::strips::{Link, Links, PictureRows, STRIP_PIXELS, rows_of};
use lookwright_film::path::plan::{Action, Plan};
use lookwright_film::spatial::halo::HaloExchange;
use lookwright_film::spatial::moved::move_area;
use lookwright_film::spatial::step::{Area, Strip, StripScratch, spread_area};
use lookwright_film::spatial::{Planes, Window};

/// Parts of one picture through one look.
pub struct Detail {
    plan: Plan,
    window: Window,
    frame_number: u32,
    /// Columns and rows of the whole picture.
    size: (usize, usize),
    links: Vec<Link>,
    /// For each link a hash of all that its result depends on.
    keys: Vec<u64>,
    /// How many links are ready for use.
    ready: usize,
    gathering: Option<Gathered>,
    /// The last part as it was before the last link.
    kept: Option<(u64, Area, Planes)>,
}

/// What was gathered of the next link that is not ready.
struct Gathered {
    gathering: HaloExchange,
    /// The next row.
    row: usize,
    scratch: StripScratch,
}

impl Detail {
    /// For a picture of `size`, columns by rows, along a plan; the job's own stage doesn't matter.
    pub fn new(size: (usize, usize), job: &Job, plan: Plan) -> Self {
        let window = Window::whole(size.0, size.1);
        let Links { links, ends } = Links::new(size, &plan, &window);
        let keys = keys(&plan, &ends, size, job.frame_number);
        let mut detail = Self {
            plan,
            window,
            frame_number: job.frame_number,
            size,
            links,
            keys,
            ready: 0,
            gathering: None,
            kept: None,
        };
        detail.skip_narrow();
        detail
    }

    /// How many links, from the first on, are the same in both.
    pub fn in_common(&self, other: &Self) -> usize {
        let same = self.keys.iter().zip(&other.keys);
        same.take_while(|(a, b)| a == b).count()
    }

    /// Takes what it can use of another one, which it follows.
    pub fn take_over(&mut self, before: Self) {
        let common = before.in_common(self);
        let ready = common.min(before.ready);
        for (link, old) in self.links.iter_mut().zip(before.links).take(ready) {
            *link = old;
        }
        self.ready = self.ready.max(ready);
        if before.ready < common {
            self.gathering = before.gathering;
        }
        self.kept = before.kept;
        self.skip_narrow();
    }

    /// Whether parts can be shown.
    pub fn is_ready(&self) -> bool {
        self.ready == self.links.len()
    }

    /// Does some of what has to be done before parts can be shown: a strip of the picture.
    pub fn prepare(&mut self, source: &impl PictureRows) {
        let Some(Link::Spread(step, _)) = self.links.get(self.ready) else {
            return;
        };
        let (width, height) = self.size;
        let mut gathered = self.gathering.take().unwrap_or_else(|| Gathered {
            gathering: HaloExchange::new(step.as_ref(), &(0..height), &(0..height)),
            row: 0,
            scratch: StripScratch::default(),
        });
        let end = height.min(gathered.row + rows_of(width, STRIP_PIXELS));
        let rows = gathered.row..end;
        let around = whole_rows(width, rows.clone()).with_margin(step.as_ref(), self.size);
        let strip = Strip {
            picture: self.rendered(self.ready, &around, source),
            first: around.rows.start,
            full_height: height,
        };
        let part = HaloExchange::part(step.as_ref(), &strip, rows, &mut gathered.scratch);
        gathered.gathering.take(part);
        gathered.row = end;
        if end < height {
            self.gathering = Some(gathered);
            return;
        }
        if let Some(Link::Spread(step, coarse)) = self.links.get_mut(self.ready) {
            for layer in 0..3 {
                gathered.gathering.close_halo(step.as_ref(), layer, coarse);
            }
        }
        self.ready += 1;
        self.skip_narrow();
    }

    fn skip_narrow(&mut self) {
        while matches!(self.links.get(self.ready), Some(link) if !link.is_wide()) {
            self.ready += 1;
        }
    }

    /// Columns by rows of the picture; none before it is ready, or if there is no such part.
    pub fn part(
        &mut self,
        source: &impl PictureRows,
        columns: Range<usize>,
        rows: Range<usize>,
    ) -> Option<Planes> {
        let inside = columns.start < columns.end
            && rows.start < rows.end
            && columns.end <= self.size.0
            && rows.end <= self.size.1;
        if !inside || !self.is_ready() {
            return None;
        }
        // What spreads begins at even columns.
        let wanted = Area { columns, rows };
        let area = Area {
            columns: wanted.columns.start / 2 * 2..wanted.columns.end,
            rows: wanted.rows.clone(),
        };
        let last = self.links.len().checked_sub(1)?;
        let key = last.checked_sub(1).map_or(0, |before| self.keys[before]);
        let kept = self.kept.take().filter(|(k, a, _)| *k == key && *a == area);
        let (_, _, before) =
            kept.unwrap_or_else(|| (key, area.clone(), self.rendered(last, &area, source)));
        let picture = match &self.links[last] {
            Link::Point(points) => {
                let mut picture = before.clone();
                Along(self.plan.path(), *points).run(&mut picture);
                picture
            }
            _ => self.rendered(last + 1, &area, source),
        };
        self.kept = Some((key, area.clone(), before));
        Some(wanted.cut(&picture, &area))
    }

    /// An area after the first `count` links.
    fn rendered(&self, count: usize, area: &Area, source: &impl PictureRows) -> Planes {
        let Some(before) = count.checked_sub(1) else {
            return source.area(area);
        };
        match &self.links[before] {
            Link::Point(points) => {
                let mut picture = self.rendered(before, area, source);
                Along(self.plan.path(), *points).run(&mut picture);
                picture
            }
            Link::Overlay(node) => {
                let mut picture = self.rendered(before, area, source);
                let window = Window {
                    x0: area.columns.start as i32,
                    y0: area.rows.start as i32,
                    ..self.window
                };
                if let Action::Overlay(overlay) = &self.plan.nodes()[*node].action {
                    overlay.lay(&mut picture, &window, self.frame_number);
                }
                picture
            }
            Link::Move(node, margin) => {
                let around = area.widened(*margin, self.size);
                let picture = self.rendered(before, &around, source);
                let Action::Move(moving) = &self.plan.nodes()[*node].action else {
                    return area.cut(&picture, &around);
                };
                let moves = moving.moves(&self.window, self.frame_number);
                move_area(&moves, area, self.size, (&picture, &around))
            }
            Link::Spread(step, coarse) => {
                let around = area.with_margin(step.as_ref(), self.size);
                let picture = self.rendered(before, &around, source);
                spread_area(step.as_ref(), coarse, area, self.size, (&picture, &around))
            }
        }
    }
}

/// All columns of some rows.
const fn whole_rows(width: usize, rows: Range<usize>) -> Area {
    Area {
        columns: 0..width,
        rows,
    }
}

/// For each link a hash of all that its result depends on; `ends` says how many of the plan's nodes
/// are done with it.
fn keys(plan: &Plan, ends: &[usize], size: (usize, usize), frame_number: u32) -> Vec<u64> {
    let mut hasher = DefaultHasher::new();
    hasher.write_usize(size.0);
    hasher.write_usize(size.1);
    let mut done = 0;
    ends.iter()
        .map(|&end| {
            for node in &plan.nodes()[done..end] {
                hasher.write_u64(node.key());
                if node.is_numbered() {
                    hasher.write_u32(frame_number);
                }
            }
            done = end;
            hasher.finish()
        })
        .collect()
}

/// What of [`Detail`] a coarse sum is; for a link that needs none.
#[cfg(test)]
mod tests;
