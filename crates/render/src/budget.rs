//! What rendering a picture costs, known from its size and its look alone.

use super::job::Job;
use super::strips::{KEPT_PIXELS, Link, Links, STRIP_PIXELS, rows_of};
use lookwright_film::spatial::Window;

/// What rendering costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// Most memory that it holds at once, in bytes, without the picture itself and the file that is
    /// written. An upper bound.
    pub bytes: u64,
    /// How often all pixels together go through a link of the path: what its time grows with.
    pub pixel_passes: u64,
}

/// Three channels of a pixel.
const PIXEL_BYTES: u64 = 12;
/// What a strip holds at once, besides the light that spreads from it with its margin: the rows that
/// it is made from, what they were made from, and what comes of them.
const STRIP_COPIES: u64 = 3;
/// What a strip holds of which no light spreads: it is worked on in place.
const PLAIN_STRIP_COPIES: u64 = 2;
/// What it takes to put together the light of a layer that spreads far, beside its level 1, in planes of
/// that size: all coarser levels (1/3), the sum of them all, and the sums of the coarser ones (1/3).
const GATHERED_PLANES: u64 = 2;

/// Pixels of a strip of a picture of this width.
pub fn strip_pixels(width: usize) -> u64 {
    width as u64 * rows_of(width, STRIP_PIXELS) as u64
}

impl Job {
    /// What it costs to render a picture of `size`, columns by rows, strip by strip by so many
    /// workers at a time.
    pub fn budget(&self, size: (usize, usize), workers: usize) -> Budget {
        let plan = self.plan();
        let window = Window::whole(size.0, size.1);
        let links = Links::new(size, &plan, &window).links;
        let (width, height) = (size.0 as u64, size.1 as u64);
        let margins = || links.iter().map(|link| link.margin() as u64);
        let padding = links.iter().map(|link| link.padding() as u64);
        let padding = padding.max().unwrap_or(0);
        let spreading = links.iter().filter(|link| link.spreads()).count() as u64;
        let strip_rows = (rows_of(size.0, STRIP_PIXELS) as u64).min(height);
        let rows = (strip_rows + 2 * margins().sum::<u64>()).min(height);
        // The margin of what spreads lies outside the picture, too.
        let padded = |rows: u64, width: u64| (rows + 2 * padding) * (width + 2 * padding);
        let strip = PIXEL_BYTES
            * match spreading {
                0 => rows * width * PLAIN_STRIP_COPIES,
                _ => rows * width * STRIP_COPIES + padded(rows, width),
            };
        let left = margins().map(|m| height.min(2 * m)).sum::<u64>() * width * PIXEL_BYTES;
        let wide: Vec<usize> = (0..links.len()).filter(|&i| links[i].is_wide()).collect();
        // Level 1 of a layer, or what becomes of it: both are there once for each layer that spreads far.
        let halved = padded(height.div_ceil(2), width.div_ceil(2)) * PIXEL_BYTES / 3;
        let layers = links.iter().map(|link| link.wide_layers() as u64);
        let spread_far = halved * layers.sum::<u64>();
        let keeps = width * height <= KEPT_PIXELS as u64;
        let kept = if keeps && !wide.is_empty() {
            2 * width * height * PIXEL_BYTES
        } else {
            0
        };
        // Strips are worked on, or what they gave is put together.
        let strips = strip * workers.max(1) as u64 + left;
        let at_work = match wide[..] {
            [] => strips,
            [..] => strips.max(halved * GATHERED_PLANES),
        };
        Budget {
            bytes: kept + spread_far + at_work,
            pixel_passes: passes(&links, &wide, keeps, (width, height), strip_rows),
        }
    }
}

/// Every round goes through the links before it, from the picture or from what is kept, with the rows
/// around each strip.
fn passes(
    links: &[Link],
    wide: &[usize],
    keeps: bool,
    (width, height): (u64, u64),
    strip_rows: u64,
) -> u64 {
    let round = |from: usize, to: usize| {
        let margins = links[from..to].iter().map(|link| link.margin() as u64);
        let around = 2 * margins.sum::<u64>();
        let rows = height * (strip_rows + around) / strip_rows.max(1);
        width * rows * (to - from) as u64
    };
    let mut from = 0;
    let mut all = 0;
    for &link in wide {
        all += round(from, link + 1);
        if keeps {
            from = link;
        }
    }
    all + round(from, links.len())
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_film::look::{Delivery, Frame, Look, StageId, StartingStock};

    fn job(look: Look) -> Job {
        Job {
            look,
            frame: Frame::default(),
            delivery: Delivery::default(),
            stage: StageId::Screen,
            window: Window::whole(1, 1),
            frame_number: 0,
        }
    }

    #[test]
    fn impossible_pictures_are_known_beforehand() {
        let job = job(Look::starting(StartingStock::Overcast));
        // One row of forty million pixels has margins a hundred times its own size.
        assert!(job.budget((40_000_000, 1), 2).bytes > 6 << 30);
        assert!(job.budget((6000, 4000), 2).bytes < 2 << 30);
        assert!(job.budget((0, 0), 0).bytes < 1 << 20);
    }

    #[test]
    fn more_work_costs_more() {
        let mut look = Look::starting(StartingStock::Overcast);
        look.for_each_step(|step| step.set_on(true));
        let all = job(look.clone()).budget((6000, 4000), 1);
        let plain = job(look.without_texture()).budget((6000, 4000), 1);
        assert!(all.pixel_passes > 3 * plain.pixel_passes);
        assert_eq!(plain.pixel_passes, 6000 * 4000);
        assert!(all.bytes > plain.bytes);
        let two = job(look).budget((6000, 4000), 2);
        assert!(two.bytes > all.bytes && two.pixel_passes == all.pixel_passes);
    }
}
