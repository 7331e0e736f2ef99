//! Rows that a partition keeps between its rounds.

use std::collections::VecDeque;

use lookwright_film::spatial::Planes;
use lookwright_film::spatial::step::Strip;

/// The rows of a partition, and those around them that it takes, as they are after some links.
pub(super) struct Kept {
    pub(super) links: usize,
    pub(super) strip: Strip,
    /// Rows that are to be put in place, and the first one's number, from the top.
    late: VecDeque<(usize, Planes)>,
}

impl Kept {
    pub(super) fn new(links: usize, strip: Strip) -> Self {
        Self {
            links,
            strip,
            late: VecDeque::new(),
        }
    }

    /// Puts rows in place of what they were made from, strip by strip from the top, which spares the
    /// memory of both. The strips below are made from these rows too, as far as `margin` reaches, so they are
    /// put there once none needs them.
    pub(super) fn replace(&mut self, first: usize, rows: Planes, margin: usize) {
        let needed = (first + rows.height).saturating_sub(margin);
        self.late.push_back((first, rows));
        while let Some((first, rows)) = self.late.pop_front() {
            if first + rows.height > needed {
                self.late.push_front((first, rows));
                return;
            }
            self.put(first, &rows);
        }
    }

    /// Ends a round of [`Self::replace`].
    pub(super) fn replaced(mut self, links: usize) -> Self {
        while let Some((first, rows)) = self.late.pop_front() {
            self.put(first, &rows);
        }
        self.links = links;
        self
    }

    fn put(&mut self, first: usize, rows: &Planes) {
        let start = (first - self.strip.first) * rows.width;
        for (kept, plane) in self.strip.picture.planes.iter_mut().zip(&rows.planes) {
            kept[start..start + plane.len()].copy_from_slice(plane);
        }
    }
}
