//! What is compared of two pictures: each point as it is seen, and what a whole picture is like.
//!
//! Colours are CIELAB's with chroma drawn in as CIE94 does it (`C / (1 + 0.045 C)`), so that equal
//! distances are about equally seen. Of pictures that show different things only what most pictures
//! share is compared: how light is spread (quantiles), what tint each part of the tones has, how
//! colourful each third is, and what each hue looks like where both have it. Each figure counts by how
//! little it varies between pictures of one look, and figures that go along with each other count as
//! few (`APART`, `ALONG`): both measured.

use core::ops::Range;

use lookwright_colour::encoding::Curve;
use lookwright_colour::space::{
    Cat, Lab, primaries::AP1, primaries::BT709, rgb_to_rgb, white::D65,
};

use super::solve::median;

/// Which part of a picture lies below each lightness that is compared.
const TONES: [f64; 7] = [0.02, 0.1, 0.25, 0.5, 0.75, 0.9, 0.98];
/// Of each third: how colourful its middle and its most colourful tenth are.
const COLOURFUL: [f64; 2] = [0.5, 0.9];
/// Six hues of CIELAB in degrees, where the primaries of display pictures and what lies between them are.
const HUES: [f64; 6] = [40.0, 95.0, 140.0, 200.0, 285.0, 335.0];
/// Below this chroma a colour has hardly a hue.
const HARDLY: f64 = 6.0;
/// A hue that takes less of a picture is not there.
pub(super) const ABSENT: f64 = 0.01;

/// The parts of the tones whose tint is compared, as shares from the darkest on.
const PARTS: [Range<f64>; 5] = [0.0..0.06, 0.0..0.333, 0.333..0.667, 0.667..1.0, 0.94..1.0];

/// How far pictures of different things lie apart that went through one look, one standard deviation.
/// Measured on sixteen open photographs, tints and colourfulness on sixteen more.
struct Apart {
    tones: [f64; 7],
    tint: [f64; 2],
    colourful: f64,
    of_hue: [f64; 3],
}
const APART: Apart = Apart {
    tones: [13.8, 15.9, 14.9, 13.6, 16.6, 13.6, 10.1],
    tint: [4.6, 6.8],
    colourful: 4.5,
    of_hue: [15.0, 3.3, 3.5],
};
/// How neighbouring tones, tints and colourfulnesses go along with each other (correlation).
const ALONG: [f64; 3] = [0.9, 0.75, 0.85];

/// One point of a picture as it is seen: lightness, and two axes of colour.
pub(super) type Seen = [f64; 3];

/// Of sRGB code.
pub(super) fn lab(code: [f32; 3]) -> Lab {
    let light = code.map(|c| f64::from(Curve::Srgb.decode(c)));
    Lab::from_xyz(BT709.rgb_to_xyz().apply(light), D65)
}

/// Of AP1 light of a finished picture, white at 1.
pub(super) fn of_ap1(light: [f32; 3]) -> Lab {
    let to_xyz = BT709
        .rgb_to_xyz()
        .after(&rgb_to_rgb(&AP1, &BT709, Cat::Bradford));
    Lab::from_xyz(to_xyz.apply(light.map(f64::from)), D65)
}

pub(super) fn seen(lab: Lab) -> Seen {
    let drawn_in = 1.0 / (1.0 + 0.045 * lab.chroma());
    [lab.l, lab.a * drawn_in, lab.b * drawn_in]
}

/// What a picture is like, whatever it shows.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Like {
    tones: [f64; 7],
    /// Middle of both colour axes in each of [`PARTS`].
    tints: [[f64; 5]; 2],
    /// Of each third, darkest first: its middle, its most colourful tenth.
    colourful: [f64; 6],
    pub(super) hues: [Hue; 6],
}

/// What a hue looks like in a picture.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Hue {
    /// How much of the picture has it.
    pub(super) share: f64,
    /// Its mean lightness, chroma, and how far it is turned from its middle.
    mean: [f64; 3],
}

impl Like {
    pub(super) fn of(points: &[Seen]) -> Self {
        let mut sorted: Vec<&Seen> = points.iter().collect();
        sorted.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let part = |share: &Range<f64>| {
            let place = |share: f64| (share * sorted.len() as f64) as usize;
            let first = place(share.start).min(sorted.len() - 1);
            &sorted[first..place(share.end).clamp(first + 1, sorted.len())]
        };
        let tint =
            |axis: usize| PARTS.map(|share| median(part(&share).iter().map(|p| p[axis]).collect()));
        let mut colourful = [0.0; 6];
        for (pair, share) in colourful.chunks_exact_mut(2).zip(&PARTS[1..4]) {
            let mut chromas: Vec<f64> = part(share).iter().map(|p| chroma(p)).collect();
            chromas.sort_unstable_by(f64::total_cmp);
            pair.copy_from_slice(&COLOURFUL.map(|share| at(&chromas, share, |c| *c)));
        }
        Self {
            tones: TONES.map(|share| at(&sorted, share, |p| p[0])),
            tints: [tint(1), tint(2)],
            colourful,
            hues: HUES.map(|hue| Hue::of(points, hue)),
        }
    }

    /// This picture's figures less another's, in standard deviations of [`APART`]; hues count as far
    /// as both have them.
    pub(super) fn less(&self, other: &Self) -> Vec<f64> {
        let tones = (0..7).map(|i| (self.tones[i] - other.tones[i]) / APART.tones[i]);
        let mut out = alone(tones, ALONG[0]);
        for (axis, apart) in APART.tint.iter().enumerate() {
            let pairs = self.tints[axis].iter().zip(&other.tints[axis]);
            out.extend(alone(pairs.map(|(a, b)| (a - b) / apart), ALONG[1]));
        }
        let pairs = self.colourful.iter().zip(&other.colourful);
        out.extend(alone(
            pairs.map(|(a, b)| (a - b) / APART.colourful),
            ALONG[2],
        ));
        let hues = (0..6).flat_map(|i| {
            let (a, b) = (&self.hues[i], &other.hues[i]);
            let both = a.share.min(b.share);
            let heard = both / (both + 3.0 * ABSENT);
            (0..3).map(move |k| heard * (a.mean[k] - b.mean[k]) / APART.of_hue[k])
        });
        out.extend(hues);
        out
    }

    /// How far tones and colours lie apart on average, as they are seen.
    pub(super) fn distance(&self, other: &Self) -> f64 {
        let tones = (0..7).map(|i| (self.tones[i] - other.tones[i]).abs());
        let [a, b] = [0, 1].map(|axis| self.tints[axis].iter().zip(&other.tints[axis]));
        let tints = a.zip(b).map(|(a, b)| libm::hypot(a.0 - a.1, b.0 - b.1));
        let pairs = self.colourful.iter().zip(&other.colourful);
        let colourful = pairs.map(|(a, b)| (a - b).abs());
        tones.sum::<f64>() / 7.0 + tints.sum::<f64>() / 5.0 + colourful.sum::<f64>() / 6.0
    }

    /// Lightness of the darkest and the lightest fiftieth.
    pub(super) fn ends(&self) -> [f64; 2] {
        [self.tones[0], self.tones[6]]
    }
}

impl Hue {
    fn of(points: &[Seen], hue: f64) -> Self {
        let (sine, cosine) = (libm::sin(hue.to_radians()), libm::cos(hue.to_radians()));
        let (mut sum, mut mean) = (0.0, [0.0; 3]);
        for point in points {
            let along = point[1] * cosine + point[2] * sine;
            let across = point[2] * cosine - point[1] * sine;
            let chroma = chroma(point);
            // A window of 60 degrees to either side, without a kink; nothing near grey.
            let near = (along / chroma.max(1e-6) - 0.5).max(0.0) * 2.0;
            let coloured = chroma * chroma / (chroma * chroma + HARDLY * HARDLY);
            let weight = near * near * coloured;
            sum += weight;
            for (m, v) in mean.iter_mut().zip([point[0], chroma, across]) {
                *m += weight * v;
            }
        }
        let per = 1.0 / (sum + 1e-3);
        Self {
            share: sum / (points.len() as f64).max(1.0),
            mean: mean.map(|m| m * per),
        }
    }
}

/// Figures of which each goes along with the one before it, as ones that say as much and don't: what
/// Cholesky's inverse does to a chain (an autoregressive process of order one).
fn alone(figures: impl Iterator<Item = f64>, along: f64) -> Vec<f64> {
    let own = 1.0 / libm::sqrt(1.0 - along * along);
    let mut before = None;
    figures
        .map(|figure| {
            let new = before.map_or(figure, |before: f64| (figure - along * before) * own);
            before = Some(figure);
            new
        })
        .collect()
}

fn chroma(point: &Seen) -> f64 {
    libm::hypot(point[1], point[2])
}

/// The value below which a share of sorted ones lies, between two of them.
fn at<T>(sorted: &[T], share: f64, value: impl Fn(&T) -> f64) -> f64 {
    let place = share * sorted.len().saturating_sub(1) as f64;
    let low = place as usize;
    let get = |i: usize| sorted.get(i).or(sorted.last()).map_or(0.0, &value);
    get(low) + (get(low + 1) - get(low)) * (place - low as f64)
}
