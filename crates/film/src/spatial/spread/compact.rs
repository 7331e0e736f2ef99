//! The compact part of a kernel: whole on a coarse level, its edge again on finer ones.
//!
//! A core `h` runs whole on the level where it is 12 to 24 cells in radius. Levels smooth, by `S_n` in
//! all; so a level is given `g_n = 2 h - S_n * h`, which comes out as `h` wherever `h` is smooth. At its
//! sharp edge it does not, and each finer level gives what the next coarser one lacks (well within the edge the
//! coarsest is given what smoothing leaves even so, `(1 - S_n)^2 h`):
//!
//! ```text
//! t_n = g_n                    on the coarsest level
//! t_m = g_m - E_m * g_(m+1)    on those below it
//! ```
//!
//! `E_m` is what lies between two levels, a Gaussian of 7/4 square cells: 3/2 for halving and doubling,
//! 1/4 for the larger cells' own width; `S_m` is all that lies below, and nothing for the picture itself.
//! All of them together are `h`. Away from the edge `t_m` is next to nothing, so only a band of cells
//! beside it is kept.

use super::super::filter::Quarter;
use super::super::padded::PAD;
use super::{Core, level_for};

/// Radius, in cells, from which a whole core moves on to the next level; the widest is twice this and
/// one cell more, which the margin must hold.
const SMALLEST_CELLS: f64 = 12.0;
/// Cells from the edge inwards where nothing, and where all, of [`left_inside`] is given besides.
const INSIDE_CELLS: [f64; 2] = [1.0, 3.0];
/// Radius, in cells, up to which the edge is given again on finer levels, the picture itself first.
const FARTHEST_CELLS: f64 = 64.0;
/// Cells of the smoothing beside a whole core.
const SMOOTHED_CELLS: f64 = 2.5;
/// Cells on both sides of the edge that the band reaches.
const BAND_CELLS: f64 = 4.5;
/// Taps of the band that are smaller than this share of the largest are left out.
const SMALLEST_TAP: f64 = 4e-3;
/// Places along each axis that a tap is the mean of.
const PLACES: usize = 16;

/// The taps on each level that has some.
pub(super) fn quarters(core: &Core, widest_px: f64) -> Vec<(usize, Quarter)> {
    let coarsest = level_for(core.radius_px.min(widest_px), SMALLEST_CELLS);
    let finest = if core.radius_px > widest_px {
        coarsest
    } else {
        let octaves = libm::ceil(libm::log2(core.edge_px / FARTHEST_CELLS));
        (octaves.max(0.0) as usize).min(coarsest)
    };
    let light = light(core);
    let bands = (finest..coarsest).map(|n| (n, band(core, n, light)));
    bands.chain([(coarsest, whole(core, coarsest))]).collect()
}

/// The variance in square pixels that level `n` smooths by, beside the picture itself.
fn smoothing(n: usize) -> f64 {
    (libm::exp2(2.0 * n as f64) - 1.0) * 7.0 / 12.0
}

/// The core at a radius.
fn sharp(core: &Core, r: f64) -> f64 {
    if r < core.radius_px {
        (core.profile)(r)
    } else {
        0.0
    }
}

/// What level `n` has to be given so that it comes out as the core: `g_n`, smoothed by `more`.
fn given(core: &Core, n: usize, more: f64, r: f64) -> f64 {
    let once = |variance: f64| {
        if variance > 0.0 {
            smooth(core, r, variance)
        } else {
            sharp(core, r)
        }
    };
    if n == 0 {
        return once(more);
    }
    2.0 * once(more) - once(more + smoothing(n))
}

/// The whole core on level `n`.
fn whole(core: &Core, n: usize) -> Quarter {
    let cell_px = libm::exp2(n as f64);
    let beside = if n == 0 { 0.0 } else { SMOOTHED_CELLS };
    let reach = core.radius_px / cell_px + beside;
    // Where the picture is smaller than the core, that is cut.
    let radius = ((reach + 0.5) as usize).min(2 * PAD - 1);
    let smooth_part = Table::new(0.0, (reach + 1.0) * cell_px, cell_px, |r| {
        given(core, n, 0.0, r) - given_sharp(core, n, r) + left_inside(core, n, r)
    });
    let profile = |r: f64| given_sharp(core, n, r) + smooth_part.at(r);
    let taps = sampled(radius, cell_px, |_| true, &profile);
    let total = sum(&taps, radius);
    let scale = if total == 0.0 {
        0.0
    } else {
        core.share / total
    };
    in_single(radius, &taps, scale)
}

/// What `g_n` still lacks of `h` after smoothing, `(1 - S_n)^2 h`, within the edge and away from it.
fn left_inside(core: &Core, n: usize, r: f64) -> f64 {
    let cell_px = libm::exp2(n as f64);
    let [none, all] = INSIDE_CELLS;
    let share = (((core.edge_px - r) / cell_px - none) / (all - none)).clamp(0.0, 1.0);
    if n == 0 || share == 0.0 {
        return 0.0;
    }
    let smoothed = |times: f64| smooth(core, r, times * smoothing(n));
    share * (sharp(core, r) - 2.0 * smoothed(1.0) + smoothed(2.0))
}

/// What `g_n` has of the core as it is, with its edge.
fn given_sharp(core: &Core, n: usize, r: f64) -> f64 {
    sharp(core, r) * if n == 0 { 1.0 } else { 2.0 }
}

/// What level `n` adds beside the edge.
fn band(core: &Core, n: usize, light: f64) -> Quarter {
    let cell_px = libm::exp2(n as f64);
    let from = (core.edge_px - BAND_CELLS * cell_px).max(0.0);
    let to = core.edge_px + BAND_CELLS * cell_px;
    let between = smoothing(n + 1) - smoothing(n);
    let smooth_part = Table::new(from, to, cell_px, |r| {
        given(core, n, 0.0, r) - given_sharp(core, n, r) - given(core, n + 1, between, r)
    });
    let profile = |r: f64| {
        if r < from || r > to {
            0.0
        } else {
            given_sharp(core, n, r) + smooth_part.at(r)
        }
    };
    let radius = (to / cell_px) as usize + 1;
    let is_near = |r: f64| r + cell_px > from && r - cell_px < to;
    let mut taps = sampled(radius, cell_px, is_near, &profile);
    let largest = taps.iter().fold(0.0_f64, |a, tap| a.max(tap.abs()));
    for tap in &mut taps {
        if tap.abs() < SMALLEST_TAP * largest {
            *tap = 0.0;
        }
    }
    // Together they hold no light: it is only moved.
    let over = sum(&taps, radius);
    let sizes: Vec<f64> = taps.iter().map(|tap| tap.abs()).collect();
    let all = sum(&sizes, radius);
    for (tap, size) in taps.iter_mut().zip(&sizes) {
        *tap -= size * over / all.max(f64::MIN_POSITIVE);
    }
    in_single(radius, &taps, core.share * cell_px * cell_px / light)
}

/// The core's light, to the scale of its profile: midpoints over the radius.
fn light(core: &Core) -> f64 {
    const STEPS: usize = 4000;
    let step = core.radius_px / STEPS as f64;
    (0..STEPS)
        .map(|i| (i as f64 + 0.5) * step)
        .map(|r| 2.0 * core::f64::consts::PI * r * (core.profile)(r) * step)
        .sum()
}

/// The core, smoothed by a Gaussian of that variance in square pixels along both axes, at the radius
/// `r`: a circle of radius `a` comes there as `a / v exp(-(r^2 + a^2) / 2 v) I0(r a / v)`.
fn smooth(core: &Core, r: f64, variance: f64) -> f64 {
    const STEPS: usize = 96;
    let sigma = variance.sqrt();
    let from = (r - 5.0 * sigma).max(0.0);
    let to = (r + 5.0 * sigma).min(core.radius_px);
    let step = (to - from).max(0.0) / STEPS as f64;
    let sum: f64 = (0..STEPS)
        .map(|i| from + (i as f64 + 0.5) * step)
        .map(|a| {
            let off = libm::exp(-(r - a) * (r - a) / (2.0 * variance));
            (core.profile)(a) * a * off * scaled_bessel(r * a / variance)
        })
        .sum();
    sum * step / variance
}

/// `exp(-x) I0(x)` for `x >= 0`: Abramowitz and Stegun 9.8.1 and 9.8.2, within 2e-7.
fn scaled_bessel(x: f64) -> f64 {
    let polynomial = |t: f64, c: &[f64]| c.iter().rev().fold(0.0, |sum, c| sum * t + c);
    if x < 3.75 {
        let t = (x / 3.75) * (x / 3.75);
        let c = [
            1.0,
            3.515_622_9,
            3.089_942_4,
            1.206_749_2,
            0.265_973_2,
            0.036_076_8,
            0.004_581_3,
        ];
        return polynomial(t, &c) * libm::exp(-x);
    }
    let c = [
        0.398_942_28,
        0.013_285_92,
        0.002_253_19,
        -0.001_575_65,
        0.009_162_81,
        -0.020_577_06,
        0.026_355_37,
        -0.016_476_33,
        0.003_923_77,
    ];
    polynomial(3.75 / x, &c) / x.sqrt()
}

/// A function of the radius, by its values an eighth of a cell apart.
struct Table {
    from: f64,
    step: f64,
    values: Vec<f64>,
}

impl Table {
    fn new(from: f64, to: f64, cell_px: f64, of: impl Fn(f64) -> f64) -> Self {
        let step = cell_px / 8.0;
        let count = ((to - from) / step) as usize + 3;
        let values = (0..count).map(|i| of(from + i as f64 * step)).collect();
        Self { from, step, values }
    }

    /// Linear between its values, and 0 outside.
    fn at(&self, r: f64) -> f64 {
        let place = (r - self.from) / self.step;
        let i = place as usize;
        match (self.values.get(i), self.values.get(i + 1)) {
            (Some(a), Some(b)) if place >= 0.0 => a + (b - a) * (place - i as f64),
            _ => 0.0,
        }
    }
}

/// A quarter of taps, each the mean of the profile over its cell; those that are not `wanted` by the
/// radius of their middle are 0.
fn sampled(
    radius: usize,
    cell_px: f64,
    wanted: impl Fn(f64) -> bool,
    profile: &dyn Fn(f64) -> f64,
) -> Vec<f64> {
    let mut taps = vec![0.0; (radius + 1) * (radius + 1)];
    let far = |x: f64, y: f64| (x * x + y * y).sqrt();
    for (i, tap) in taps.iter_mut().enumerate() {
        let (dx, dy) = ((i % (radius + 1)) as f64, (i / (radius + 1)) as f64);
        if !wanted(far(dx, dy) * cell_px) {
            continue;
        }
        let off = |i: usize, d: f64| ((i as f64 + 0.5) / PLACES as f64 - 0.5 + d) * cell_px;
        let mean: f64 = (0..PLACES * PLACES)
            .map(|place| profile(far(off(place % PLACES, dx), off(place / PLACES, dy))))
            .sum();
        *tap = mean / (PLACES * PLACES) as f64;
    }
    taps
}

/// All four quarters.
fn sum(taps: &[f64], radius: usize) -> f64 {
    let times = |d: usize| if d == 0 { 1.0 } else { 2.0 };
    let weighted = taps.iter().enumerate();
    weighted
        .map(|(i, tap)| tap * times(i % (radius + 1)) * times(i / (radius + 1)))
        .sum()
}

fn in_single(radius: usize, taps: &[f64], scale: f64) -> Quarter {
    Quarter {
        radius,
        taps: taps.iter().map(|tap| (tap * scale) as f32).collect(),
    }
}
