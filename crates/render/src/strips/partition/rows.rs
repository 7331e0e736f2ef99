//! A partition's rows as they are after some of its links.

use core::ops::Range;

use lookwright_film::path::plan::Action;
use lookwright_film::spatial::Planes;
use lookwright_film::spatial::moved::move_area;
use lookwright_film::spatial::step::{Area, Strip, StripScratch};

use super::Partition;
use crate::pointwise::Along;
use crate::strips::PictureRows;
use crate::strips::carried::CarriedRows;
use crate::strips::links::Link;

impl Partition {
    /// `rows` after the first `count` links.
    pub(super) fn rendered(
        &self,
        count: usize,
        rows: Range<usize>,
        source: &impl PictureRows,
        carried: &mut CarriedRows,
    ) -> Planes {
        if let Some(kept) = self.kept.as_ref().filter(|kept| kept.links == count) {
            return kept.strip.part(&rows);
        }
        let Some(before) = count.checked_sub(1) else {
            return source.rows(rows);
        };
        match &self.links[before] {
            Link::Point(points) => {
                let mut picture = self.rendered(before, rows, source, carried);
                Along(self.plan.path(), *points).run(&mut picture);
                picture
            }
            Link::Overlay(node) => {
                let mut window = self.window;
                window.y0 += rows.start as i32;
                let mut picture = self.rendered(before, rows, source, carried);
                if let Action::Overlay(overlay) = &self.plan.nodes()[*node].action {
                    overlay.lay(&mut picture, &window, self.frame_number);
                }
                picture
            }
            Link::Move(node, _) => {
                let moved = |strip: &Strip, _: &mut StripScratch| self.moved(*node, strip, &rows);
                self.on_margin(before, &rows, source, carried, moved)
            }
            Link::Spread(step, coarse) => {
                let spread = |strip: &Strip, scratch: &mut StripScratch| {
                    strip.spread(step.as_ref(), coarse, rows.clone(), scratch)
                };
                self.on_margin(before, &rows, source, carried, spread)
            }
        }
    }

    /// `rows` of a strip after the plan's node of that number, which moves the picture.
    fn moved(&self, node: usize, strip: &Strip, rows: &Range<usize>) -> Planes {
        let Action::Move(moving) = &self.plan.nodes()[node].action else {
            return strip.part(rows);
        };
        let moves = moving.moves(&self.window, self.frame_number);
        let of_rows = |rows: Range<usize>| Area {
            columns: 0..self.width,
            rows,
        };
        let held = of_rows(strip.first..strip.first + strip.picture.height);
        let (area, full) = (of_rows(rows.clone()), (self.width, self.height));
        move_area(&moves, &area, full, (&strip.picture, &held))
    }

    /// Does something with `rows` and those around them as they are after the first `count` links.
    pub(super) fn on_margin<T>(
        &self,
        count: usize,
        rows: &Range<usize>,
        source: &impl PictureRows,
        carried: &mut CarriedRows,
        work: impl FnOnce(&Strip, &mut StripScratch) -> T,
    ) -> T {
        if let Some(kept) = self.kept.as_ref().filter(|kept| kept.links == count) {
            return work(&kept.strip, &mut carried.scratch);
        }
        let strip = self.with_margin(count, rows, source, carried);
        let done = work(&strip, &mut carried.scratch);
        carried.leave(count, strip, rows, self.links[count].margin());
        done
    }

    fn with_margin(
        &self,
        count: usize,
        rows: &Range<usize>,
        source: &impl PictureRows,
        carried: &mut CarriedRows,
    ) -> Strip {
        let rows = self.around(rows, self.links[count].margin());
        let mut strip = carried.take(count, rows.start).unwrap_or(Strip {
            picture: Planes::filled(self.width, 0, 0.0),
            first: rows.start,
            full_height: self.height,
        });
        let there = rows.start + strip.picture.height;
        if there < rows.end {
            let new = self.rendered(count, there..rows.end, source, carried);
            strip.picture.append(new);
        }
        strip
    }
}
