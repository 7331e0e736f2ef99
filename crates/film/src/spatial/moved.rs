//! A picture moved: each channel enlarged about the middle and shifted, by parts of pixels.
//!
//! ```text
//! out(p) = in(scale p + offset)
//! ```
//!
//! Between pixels by cubic convolution (Keys 1981, a = -1/2; *standard*), down and then across, each held
//! within the four samples that it is made of, so that a lamp gets no dark ring. Beyond the picture its
//! edge goes on. A pixel's numbers depend on its place in the whole picture alone, so parts are as the whole.

use core::ops::Range;

use super::step::Area;
use super::{Planes, Window};

/// Where a channel's light comes from, in pixels of a buffer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Move {
    scale: f64,
    offset_px: [f64; 2],
}

impl Move {
    /// Everything stays.
    pub const NONE: Self = Self {
        scale: 1.0,
        offset_px: [0.0; 2],
    };

    /// Makes the picture `larger` times as large about its middle and then moves it by so many columns and
    /// rows of the window's pixels.
    #[must_use]
    pub fn new(window: &Window, larger: f64, by_px: [f64; 2]) -> Self {
        let scale = 1.0 / larger;
        let middle = window.middle_px();
        // What is now at the middle, moved, was at the middle.
        let from = |axis: usize| middle[axis] - scale * (middle[axis] + by_px[axis]);
        Self {
            scale,
            offset_px: [from(0), from(1)],
        }
    }

    /// Where what lay at a place lies now.
    #[must_use]
    pub fn lies_at(&self, place: [f64; 2]) -> [f64; 2] {
        [0, 1].map(|axis| (place[axis] - self.offset_px[axis]) / self.scale)
    }
}

/// What pixels around the place that light comes from are mixed with, on either side.
const AROUND: f64 = 2.0;
/// Margins are multiples of these rows and columns, as those of what spreads.
const ALIGNED: usize = 16;

/// Rows and columns around a part that light comes from which is moved by so many pixels at most.
#[must_use]
pub fn margin_px(most_px: f64) -> usize {
    ((most_px.abs() + AROUND).ceil() as usize).next_multiple_of(ALIGNED)
}

impl Area {
    /// Itself and `margin` pixels around it, within a picture of `full` size, columns by rows. Begins with
    /// an even column if it did.
    #[must_use]
    pub fn widened(&self, margin: usize, full: (usize, usize)) -> Self {
        let around = |span: &Range<usize>, full: usize| {
            span.start.saturating_sub(margin)..full.min(span.end + margin)
        };
        Self {
            columns: around(&self.columns, full.0),
            rows: around(&self.rows, full.1),
        }
    }
}

/// Moves the channels of a whole picture.
pub fn move_whole(picture: &mut Planes, moves: &[Move; 3]) {
    let all = Area {
        columns: 0..picture.width,
        rows: 0..picture.height,
    };
    let full = (picture.width, picture.height);
    *picture = move_area(moves, &all, full, (picture, &all));
}

/// An area of a picture of `full` size, columns by rows, after the move. `picture` holds `held`, which is the
/// area with [`margin_px`] around it or more.
#[must_use]
pub fn move_area(
    moves: &[Move; 3],
    area: &Area,
    full: (usize, usize),
    (picture, held): (&Planes, &Area),
) -> Planes {
    let mut out = area.cut(picture, held);
    let mut down = vec![0.0; picture.width];
    for (channel, by) in moves.iter().enumerate() {
        if *by == Move::NONE {
            continue;
        }
        let columns = taps(
            (by.scale, by.offset_px[0]),
            &area.columns,
            full.0,
            &held.columns,
        );
        let rows = taps((by.scale, by.offset_px[1]), &area.rows, full.1, &held.rows);
        let width = out.width;
        for (row, to) in rows.iter().zip(out.planes[channel].chunks_exact_mut(width)) {
            let from = row.places.map(|y| picture.row(channel, y));
            for (x, down) in down.iter_mut().enumerate() {
                *down = mixed(from.map(|row| row[x]), &row.weights);
            }
            for (to, column) in to.iter_mut().zip(&columns) {
                *to = mixed(column.places.map(|x| down[x]), &column.weights);
            }
        }
    }
    out
}

/// The four samples that a place is made of.
struct Taps {
    places: [usize; 4],
    weights: [f32; 4],
}

fn taps(
    (scale, offset_px): (f64, f64),
    places: &Range<usize>,
    full: usize,
    held: &Range<usize>,
) -> Vec<Taps> {
    let last = (full.min(held.end) - 1) as f64;
    let tap = |place: usize| {
        let from = scale * place as f64 + offset_px;
        let whole = from.floor();
        let at = |offset: f64| (whole + offset).clamp(held.start as f64, last) as usize;
        Taps {
            places: [-1.0, 0.0, 1.0, 2.0].map(|offset| at(offset) - held.start),
            weights: cubic(from - whole).map(|weight| weight as f32),
        }
    };
    places.clone().map(tap).collect()
}

/// Weights of four samples for a place `t` behind the second one.
fn cubic(t: f64) -> [f64; 4] {
    let (t2, t3) = (t * t, t * t * t);
    [
        (-t3 + 2.0 * t2 - t) / 2.0,
        (3.0 * t3 - 5.0 * t2 + 2.0) / 2.0,
        (-3.0 * t3 + 4.0 * t2 + t) / 2.0,
        (t3 - t2) / 2.0,
    ]
}

#[inline(always)]
fn mixed(samples: [f32; 4], weights: &[f32; 4]) -> f32 {
    let [a, b, c, d] = samples;
    let sum = (a * weights[0] + b * weights[1]) + (c * weights[2] + d * weights[3]);
    let least = a.min(b).min(c.min(d));
    let most = a.max(b).max(c.max(d));
    sum.max(least).min(most)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Dots of light, three pixels wide at half their height, one in each cell of 32 pixels.
    fn dots(width: usize, height: usize) -> Planes {
        let mut planes = Planes::filled(width, height, 0.0);
        for plane in &mut planes.planes {
            for (i, value) in plane.iter_mut().enumerate() {
                let off = |place: usize| (place % 32) as f64 - 15.5;
                let squared = off(i % width) * off(i % width) + off(i / width) * off(i / width);
                *value = libm::exp(-squared / 8.0) as f32;
            }
        }
        planes
    }

    /// Column and row of the light's middle in the cell that holds the given pixel.
    fn middle_of(planes: &Planes, channel: usize, (x, y): (usize, usize)) -> (f64, f64) {
        let (x0, y0) = (x / 32 * 32, y / 32 * 32);
        let (mut sum, mut across, mut down) = (0.0, 0.0, 0.0);
        for y in y0..y0 + 32 {
            for x in x0..x0 + 32 {
                let light = f64::from(planes.row(channel, y)[x]);
                sum += light;
                across += light * x as f64;
                down += light * y as f64;
            }
        }
        (across / sum, down / sum)
    }

    #[test]
    fn every_dot_lands_where_geometry_says_to_the_hundredth_pixel() {
        let (width, height) = (320, 192);
        let before = dots(width, height);
        let window = Window::whole(width, height);
        let moves = [
            Move::new(&window, 1.006, [0.0; 2]),
            Move::NONE,
            Move::new(&window, 0.996, [0.37, -1.21]),
        ];
        let mut after = before.clone();
        move_whole(&mut after, &moves);
        assert_eq!(after.planes[1], before.planes[1]);
        let larger = [(1.006, [0.0; 2]), (1.0, [0.0; 2]), (0.996, [0.37, -1.21])];
        for (channel, (larger, by_px)) in larger.into_iter().enumerate() {
            for y in (16..height).step_by(32) {
                for x in (16..width).step_by(32) {
                    let (was, is) = (
                        middle_of(&before, channel, (x, y)),
                        middle_of(&after, channel, (x, y)),
                    );
                    let wanted = (
                        159.5 + larger * (was.0 - 159.5) + by_px[0],
                        95.5 + larger * (was.1 - 95.5) + by_px[1],
                    );
                    let off = (is.0 - wanted.0).hypot(is.1 - wanted.1);
                    assert!(off < 0.01, "{channel}, {x} {y}: {off}");
                }
            }
        }
    }

    #[test]
    fn parts_are_as_the_whole_and_edges_go_on() {
        let before = dots(97, 61);
        let window = Window::whole(97, 61);
        let moves = [
            Move::new(&window, 0.99, [3.4, -5.7]),
            Move::NONE,
            Move::new(&window, 1.02, [0.0; 2]),
        ];
        let mut whole = before.clone();
        move_whole(&mut whole, &moves);
        let full = (97, 61);
        for (columns, rows) in [(0..97, 0..16), (32..60, 16..40), (80..97, 48..61)] {
            let area = Area { columns, rows };
            let held = area.widened(margin_px(7.0), full);
            let all = Area {
                columns: 0..97,
                rows: 0..61,
            };
            let part = held.cut(&before, &all);
            let moved = move_area(&moves, &area, full, (&part, &held));
            assert_eq!(moved, area.cut(&whole, &all));
        }
        let mut even = Planes::filled(9, 7, 0.3);
        move_whole(&mut even, &[moves[0]; 3]);
        assert!(even.planes.iter().flatten().all(|v| (v - 0.3).abs() < 1e-6));
    }

    #[test]
    fn a_lamp_gets_no_dark_ring_and_no_light_of_its_own() {
        let mut lamp = Planes::filled(32, 32, 0.1);
        lamp.row_mut(0, 16)[16] = 300.0;
        let by = Move::new(&Window::whole(32, 32), 1.0, [0.5, 0.25]);
        move_whole(&mut lamp, &[by; 3]);
        assert!(
            lamp.planes[0]
                .iter()
                .all(|v| (0.1 - 1e-6..=300.0).contains(v))
        );
    }
}
