//! What is compared of two pictures: each point as it is seen, and what a whole picture is like.
//!
//! Colours are CIELAB's with chroma drawn in as CIE94 does it (`C / (1 + 0.045 C)`), so that equal
//! distances are about equally seen. Of pictures that show different things only what most pictures
//! share is compared: how light is spread (quantiles), what tint each part of the tones has, how
//! colourful each third is. Each figure counts by how little it varies between photographs, and figures
//! that go along with each other count as few (`APART`, `ALONG`): both measured. What each hue looks like is
//! what a picture shows rather than its look: counted too, it left looks farther from those that were put on.

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

/// How far photographs lie from [`super::typical::FIGURES`], one standard deviation: measured on the same, the
/// photographs counting three times as much as the views.
const APART: [f64; 23] = [
    8.7, 10.3, 9.8, 10.6, 13.2, 13.0, 11.0, // Tones.
    3.4, 3.8, 4.1, 3.4, 3.2, 3.9, 5.0, 6.7, 7.7, 7.2, // Tints.
    3.4, 3.4, 3.5, 3.4, 3.6, 3.4, // Colourfulness.
];
/// Tones, both tints, colourfulness: where they stand, and how neighbours go along with each other (correlation).
const ALONG: [(Range<usize>, f64); 4] =
    [(0..7, 0.85), (7..12, 0.75), (12..17, 0.75), (17..23, 0.7)];

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
    /// How much of it has each of [`HUES`].
    pub(super) hues: [f64; 6],
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
            hues: HUES.map(|hue| share_of(points, hue)),
        }
    }

    /// Tones, tints and colourfulness in one list.
    pub(super) fn figures(&self) -> [f64; 23] {
        let parts = [
            &self.tones[..],
            &self.tints[0],
            &self.tints[1],
            &self.colourful,
        ];
        let mut all = parts.into_iter().flatten();
        core::array::from_fn(|_| all.next().copied().unwrap_or(0.0))
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

/// How much of a picture has a hue.
fn share_of(points: &[Seen], hue: f64) -> f64 {
    let (sine, cosine) = (libm::sin(hue.to_radians()), libm::cos(hue.to_radians()));
    let weights = points.iter().map(|point| {
        let chroma = chroma(point);
        let along = point[1] * cosine + point[2] * sine;
        // A window of 60 degrees to either side, without a kink; nothing near grey.
        let near = (along / chroma.max(1e-6) - 0.5).max(0.0) * 2.0;
        near * near * chroma * chroma / (chroma * chroma + HARDLY * HARDLY)
    });
    weights.sum::<f64>() / (points.len() as f64).max(1.0)
}

/// Differences of figures in standard deviations, those that go along with each other as few.
pub(super) fn weighed(less: [f64; 23]) -> Vec<f64> {
    let ranges = ALONG.into_iter();
    let lists = ranges.map(|(range, along)| {
        let figures = range.map(|i| less[i] / APART[i]);
        alone(figures, along)
    });
    lists.flatten().collect()
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
