//! What the patches of a chart read: their code, their light, what is clipped, how evenly they are lit.

use lookwright_colour::Rgb;
use lookwright_colour::encoding::EncodingClass;
use lookwright_film::look::Frame;
use lookwright_film::path::FrameCode;
use lookwright_film::path::intake::IntakePoint;
use lookwright_film::spatial::Planes;

use super::find::place;
use super::grid::{Grid, Place};
use super::published::{FIRST_GREY, PATCHES, luminance, scene_lin};
use crate::judge::still::{median, solved};

/// Half the side of what is read of a patch, in patches: well within its border.
const HALF: f64 = 0.22;
/// Most places that are read along a side.
const MOST: usize = 24;
/// The share that is left out at either end: dust, glints. *Chosen.*
const TRIM: f64 = 0.2;
/// A code from here on is at its top.
const TOP: f64 = 0.995;
/// A grey that falls short of the next darker one's reading by so many stops is at the camera's end.
const SHORT: f64 = 0.2;
/// How nearly the same all is that lies at that end: in scene light, in part of it, and in code.
const LEVEL_LIGHT: f64 = 0.04;
const LEVEL_CODE: f64 = 0.006;

/// One patch as it was read.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reading {
    /// Trimmed mean of its code.
    pub(super) code: [f64; 3],
    /// That as scene light without the frame's trim, AP1.
    pub(super) scene_lin: [f64; 3],
    /// Half the spread of its luminance code's middle two thirds, over its mean.
    pub(super) spread: f64,
    /// Whether one of its channels is at the end of what the camera can tell.
    pub(super) clipped: bool,
}

/// Reads all patches. `untrimmed`: the frame without its trim.
pub(super) fn read(code: &Planes, untrimmed: &Frame, grid: &Grid) -> [Reading; PATCHES] {
    let intake = IntakePoint::new(untrimmed);
    let mut out: [Reading; PATCHES] = core::array::from_fn(|patch| {
        let places = places(code, grid, patch);
        let of = |channel: usize| -> Vec<f64> {
            let mut values: Vec<f64> = places
                .iter()
                .map(|i| f64::from(code.planes[channel][*i]))
                .collect();
            values.sort_unstable_by(f64::total_cmp);
            values
        };
        let sorted = [of(0), of(1), of(2)];
        let mean = [0, 1, 2].map(|c| trimmed_mean(&sorted[c]));
        let green = &sorted[1];
        let at = |share: f64| {
            let place = (share * green.len() as f64) as usize;
            green.get(place).copied().unwrap_or(0.0)
        };
        let pixel = Rgb::from_array(mean.map(|v| v as f32));
        let light = intake.apply(FrameCode(pixel)).0.to_array();
        Reading {
            code: mean,
            scene_lin: light.map(f64::from),
            spread: (at(5.0 / 6.0) - at(1.0 / 6.0)) / 2.0 / mean[1].abs().max(1e-6),
            clipped: false,
        }
    });
    let ends = ends(&out, untrimmed.source.encoding.info().class);
    for reading in &mut out {
        reading.clipped = (0..3).any(|c| reading.code[c] >= ends[c]);
    }
    out
}

/// The code of each channel from which on the camera, or the file, tells nothing apart.
fn ends(readings: &[Reading; PATCHES], class: EncodingClass) -> [f64; 3] {
    [0, 1, 2].map(|c| {
        let stops =
            |patch: usize| libm::log2(readings[patch].scene_lin[c].max(1e-6) / scene_lin(patch)[c]);
        let most = readings.iter().fold(0.0, |most, it| it.code[c].max(most));
        // What is at an end has all of it: where only the light falls, whites go on.
        let at_end = |grey: usize| match class {
            EncodingClass::SceneLinear => readings[grey].code[c] > most * (1.0 - LEVEL_LIGHT),
            _ => readings[grey].code[c] > most - LEVEL_CODE,
        };
        // From the darkest grey upwards, black left out: flare lifts it.
        let mut darker_first = (FIRST_GREY..PATCHES - 2).rev();
        let short =
            darker_first.find(|grey| at_end(*grey) && stops(*grey) < stops(*grey + 1) - SHORT);
        match short {
            // A finished photo bends its whites; it is clipped only at the top of its scale.
            Some(grey) if class != EncodingClass::Display => readings[grey].code[c] * 0.995,
            _ if class == EncodingClass::SceneLinear => f64::INFINITY,
            _ => TOP,
        }
    })
}

/// Pixels in the middle of a patch.
fn places(code: &Planes, grid: &Grid, patch: usize) -> Vec<usize> {
    let [u, v] = place(patch);
    let along = ((2.0 * HALF * grid.pitch()) as usize).clamp(3, MOST);
    let step = |k: usize| (2.0 * (k as f64 + 0.5) / along as f64 - 1.0) * HALF;
    let inside = |at: f64, length: usize| (at.max(0.0) as usize).min(length.saturating_sub(1));
    (0..along * along)
        .map(|k| {
            let [x, y] = grid.at([u + step(k % along), v + step(k / along)]);
            inside(y, code.height) * code.width + inside(x, code.width)
        })
        .collect()
}

/// The corners of what is read of a patch.
pub(super) fn outline(grid: &Grid, patch: usize) -> [Place; 4] {
    let [u, v] = place(patch);
    [[-HALF, -HALF], [HALF, -HALF], [HALF, HALF], [-HALF, HALF]]
        .map(|[across, down]| grid.at([u + across, v + down]))
}

fn trimmed_mean(sorted: &[f64]) -> f64 {
    let cut = (TRIM * sorted.len() as f64) as usize;
    let kept = &sorted[cut..sorted.len() - cut];
    kept.iter().sum::<f64>() / kept.len().max(1) as f64
}

/// How much the light changes over the chart, in stops: from the left to the right, from the top to the
/// foot. Patches that are clipped don't count. `balanced`: what each patch has, its light made neutral.
pub(super) fn slopes(readings: &[Reading; PATCHES], balanced: &[[f64; 3]; PATCHES]) -> [f64; 2] {
    // Against the published lightness as well, so that contrast is not taken for a slope.
    let mut matrix = vec![vec![0.0; 4]; 4];
    let mut right = vec![0.0; 4];
    for (i, reading) in readings.iter().enumerate().take(PATCHES - 1) {
        if reading.clipped {
            continue;
        }
        let own = libm::log2(luminance(scene_lin(i)));
        let seen = libm::log2(luminance(balanced[i]).max(1e-6));
        let [u, v] = place(i);
        let row = [1.0, u / 5.0 - 0.5, v / 3.0 - 0.5, own + 2.0];
        for (a, row_a) in row.iter().enumerate() {
            right[a] += row_a * (seen - own);
            for (b, row_b) in row.iter().enumerate() {
                matrix[a][b] += row_a * row_b;
            }
        }
    }
    let fit = solved(&matrix, &right);
    [fit[1], fit[2]]
}

/// Luminance of the middle of what lies about the chart, scene light; none where there is hardly anything.
pub(super) fn surround(scene_lin: &Planes, grid: &Grid) -> Option<f64> {
    let corners = [[-1.0, -1.0], [6.0, -1.0], [6.0, 4.0], [-1.0, 4.0]].map(|at| grid.at(at));
    let outside = |x: f64, y: f64| {
        let side = |i: usize| {
            let ([ax, ay], [bx, by]) = (corners[i], corners[(i + 1) % 4]);
            (bx - ax) * (y - ay) - (by - ay) * (x - ax)
        };
        let sides = [side(0), side(1), side(2), side(3)];
        sides.iter().any(|s| *s > 0.0) && sides.iter().any(|s| *s < 0.0)
    };
    let mut around = Vec::new();
    for y in (0..scene_lin.height).step_by(4) {
        for x in (0..scene_lin.width).step_by(4) {
            if outside(x as f64, y as f64) {
                let i = y * scene_lin.width + x;
                let light = [0, 1, 2].map(|c| f64::from(scene_lin.planes[c][i]));
                around.push(luminance(light));
            }
        }
    }
    let enough = around.len() * 16 * 8 > scene_lin.pixels();
    enough.then(|| median(around))
}
