//! Flat patches of a picture: what the chart is looked for among.
//!
//! Places whose light hardly changes to any side are joined with their neighbours (connected components,
//! Rosenfeld and Pfaltz, Sequential Operations in Digital Picture Processing, Journal of the ACM 13(4),
//! 1966). A whole parallelogram has `12` times the root of its second moments' determinant as its area
//! (their definition), whichever way it is turned or slanted.

use lookwright_film::spatial::{Planes, reduce};

use super::grid::Place;

/// Smallest and largest patch in pixels: less can't be read, more is looked for in a smaller copy.
const LEAST: usize = 10;
const MOST: usize = 1000;
/// How nearly whole a patch has to be; a disc has 1.05.
const WHOLE: core::ops::RangeInclusive<f64> = 0.8..=1.12;
/// How many times as long as wide it may be, its border taken off.
const LONGEST: f64 = 2.6;

/// A copy of a picture as it is searched: base-2 logarithms of its light, evened over 3 by 3 pixels.
pub(super) struct Level {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) stops: [Vec<f32>; 3],
}

/// A flat patch: its middle and its area in pixels.
#[derive(Clone, Copy, Debug)]
pub(super) struct Flat {
    pub(super) at: Place,
    pub(super) area: f64,
}

impl Level {
    /// A copy of scene light at `width` columns. What is darker than `floor` counts as hardly more than that.
    pub(super) fn of(scene_lin: &Planes, width: usize, floor: f32) -> Self {
        let height = (scene_lin.height * width).div_ceil(scene_lin.width.max(1));
        let copy = reduce(scene_lin, width, height);
        let (width, height) = (copy.width, copy.height);
        let stops = copy.planes.map(|plane| {
            let even = evened(&plane, width, height);
            even.into_iter()
                .map(|light| libm::log2f(light.max(0.0) + floor))
                .collect()
        });
        Self {
            width,
            height,
            stops,
        }
    }

    /// Stops at the pixel that holds a place; none outside.
    pub(super) fn at(&self, [x, y]: Place) -> Option<[f64; 3]> {
        let inside = x >= 0.0 && y >= 0.0 && x < self.width as f64 && y < self.height as f64;
        let i = inside.then(|| y as usize * self.width + x as usize)?;
        Some([0, 1, 2].map(|c| f64::from(self.stops[c][i])))
    }

    /// Largest change about each pixel over two, in stops.
    pub(super) fn changes(&self) -> Vec<f32> {
        let (w, h) = (self.width, self.height);
        let mut out = vec![f32::INFINITY; w * h];
        for y in 1..h.saturating_sub(1) {
            for x in 1..w.saturating_sub(1) {
                let i = y * w + x;
                out[i] = self.stops.iter().fold(0.0_f32, |most, plane| {
                    let across = (plane[i + 1] - plane[i - 1]).abs();
                    let down = (plane[i + w] - plane[i - w]).abs();
                    most.max(across).max(down)
                });
            }
        }
        out
    }

    /// All whole patches in which `changes` stay below `still`, in stops.
    pub(super) fn flats(&self, changes: &[f32], still: f32) -> Vec<Flat> {
        let mut open: Vec<bool> = changes.iter().map(|change| *change < still).collect();
        let mut out = Vec::new();
        let mut stack = Vec::new();
        for start in 0..open.len() {
            if !open[start] {
                continue;
            }
            open[start] = false;
            stack.push(start);
            let mut sums = Sums::default();
            // `changes` are infinite along the border, so no neighbour lies outside.
            while let Some(i) = stack.pop() {
                sums.add(i % self.width, i / self.width);
                for next in [i - 1, i + 1, i - self.width, i + self.width] {
                    if open[next] {
                        open[next] = false;
                        stack.push(next);
                    }
                }
            }
            out.extend(sums.whole());
        }
        out
    }
}

/// Count, sums and sums of products of pixels.
#[derive(Default)]
struct Sums {
    count: f64,
    x: f64,
    y: f64,
    xx: f64,
    xy: f64,
    yy: f64,
}

impl Sums {
    fn add(&mut self, x: usize, y: usize) {
        let (x, y) = (x as f64 + 0.5, y as f64 + 0.5);
        self.count += 1.0;
        self.x += x;
        self.y += y;
        self.xx += x * x;
        self.xy += x * y;
        self.yy += y * y;
    }

    /// The patch, if it is a whole one of a size that can be.
    fn whole(&self) -> Option<Flat> {
        let area = self.count;
        if area < LEAST as f64 || area > MOST as f64 {
            return None;
        }
        let at = [self.x / area, self.y / area];
        // A pixel is a square itself: a twelfth on each axis.
        let xx = self.xx / area - at[0] * at[0] + 1.0 / 12.0;
        let yy = self.yy / area - at[1] * at[1] + 1.0 / 12.0;
        let xy = self.xy / area - at[0] * at[1];
        let determinant = xx * yy - xy * xy;
        let whole = area / (12.0 * libm::sqrt(determinant.max(1e-9)));
        let half = (xx + yy) / 2.0;
        let root = libm::sqrt((half * half - determinant).max(0.0));
        let long = libm::sqrt((half + root) / (half - root).max(1e-9));
        (WHOLE.contains(&whole) && long < LONGEST).then_some(Flat { at, area })
    }
}

/// Means of 3 by 3 pixels; the border's of what there is.
fn evened(plane: &[f32], width: usize, height: usize) -> Vec<f32> {
    let mut out = vec![0.0; plane.len()];
    for y in 0..height {
        let rows = y.saturating_sub(1)..(y + 2).min(height);
        for x in 0..width {
            let columns = x.saturating_sub(1)..(x + 2).min(width);
            let count = (rows.len() * columns.len()) as f32;
            let sum: f32 = rows
                .clone()
                .map(|y| plane[y * width..][columns.clone()].iter().sum::<f32>())
                .sum();
            out[y * width + x] = sum / count;
        }
    }
    out
}
