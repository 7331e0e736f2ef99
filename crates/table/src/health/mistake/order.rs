//! Axes or channels in another order, hues turned, a table upside down.

use super::nodes::{NAMES, Nodes};
use super::{Diagnosis, Found};
use crate::Interpolation;
use crate::health::grey::grey_curve;
use crate::health::judge::Judge;

/// Codes about grey, in shares of the axis, that are looked at.
const NEAR_GREY: f64 = 0.15;
/// Share of its range by which each channel falls from black to white in a table that is upside down.
const FALLS: f32 = 0.3;
/// How many times more a channel follows another axis than its own where two were exchanged, and where all
/// were moved on: 2.8 lies between colours of two fifths of their chroma (3) and a turn of hue by 90
/// degrees (2.7).
const FOLLOWS: f64 = 2.0;
const FOLLOWS_TURNED: f64 = 2.8;
/// From how much, of the whole, one of two orders is the likelier; below, either may be. Chosen on the tuning half of the scored
/// tables: cameras' conversions have 0.1 to 0.6, plain curves 0.
const LIKELIER: f64 = 0.05;
/// Turn of all hues, in degrees, from which it is no look's, and the least of any single hue. Chosen.
const TURNED: f64 = 25.0;
const TURNED_LEAST: f64 = 10.0;
/// Hues that are looked at, all around.
const HUES: usize = 12;
/// How far their codes are from grey's: as a pale surface's in a log encoding.
const AROUND: f64 = 0.08;

/// How much each channel goes along each axis about the greys, in shares of all that it does there.
///
/// Ends and strong colours are left out: there channels are cut, and camera primaries lie outside the
/// screen's.
fn along(nodes: &Nodes<'_>) -> [[f64; 3]; 3] {
    let last = nodes.size() - 1;
    let apart = (last as f64 * NEAR_GREY).max(1.0);
    let mut sums = [[0.0_f64; 3]; 3];
    for place in nodes.places() {
        let spread = place.iter().max().unwrap_or(&0) - place.iter().min().unwrap_or(&0);
        if spread as f64 > apart {
            continue;
        }
        for axis in (0..3).filter(|&axis| place[axis] < last) {
            let mut next = place;
            next[axis] += 1;
            let (here, there) = (nodes.grid.node(place), nodes.grid.node(next));
            for c in 0..3 {
                sums[c][axis] += f64::from(there[c]) - f64::from(here[c]);
            }
        }
    }
    sums.map(|row| {
        let all = row.iter().map(|v| v.abs()).sum::<f64>().max(1e-9);
        row.map(|sum| sum / all)
    })
}

pub(super) fn upside_down(nodes: &Nodes<'_>) -> Option<Found> {
    let (dark, light) = (
        nodes.grid.node([0; 3]),
        nodes.grid.node([nodes.size() - 1; 3]),
    );
    let falls = (0..3).all(|c| light[c] - dark[c] < -FALLS * (nodes.high[c] - nodes.low[c]));
    falls.then(|| {
        Found::serious(
            Diagnosis::UpsideDown,
            "The table is upside down: more light comes out darker in every channel.".to_owned(),
            String::new(),
            "Right for a negative; else write its values in the opposite order.".to_owned(),
        )
    })
}

/// Two of three exchanged, or all three moved on by one.
pub(super) fn exchanged(nodes: &Nodes<'_>) -> Option<Found> {
    let along = along(nodes);
    let follows =
        |c: usize, other: usize, times: f64| along[c][other] > (times * along[c][c]).max(0.2);
    for (from, words) in [
        (
            [1, 2, 0],
            "red comes out of green, green of blue, blue of red",
        ),
        (
            [2, 0, 1],
            "red comes out of blue, green of red, blue of green",
        ),
    ] {
        if (0..3).all(|c| follows(c, from[c], FOLLOWS_TURNED)) {
            return Some(Found::serious(
                Diagnosis::ChannelsTurned,
                format!("The channels are moved on by one: {words}."),
                String::new(),
                "Write the channels in the order red, green, blue.".to_owned(),
            ));
        }
    }
    let (a, b) = [(0, 2), (0, 1), (1, 2)]
        .into_iter()
        .find(|&(a, b)| follows(a, b, FOLLOWS) && follows(b, a, FOLLOWS))?;
    // How much of red and of blue comes out in green, and how much of green in them: conversions from a
    // camera's primaries to a screen's, and the weights of lightness, have more of the one than of the other.
    let sided = along[1][2] - along[1][0] + along[2][1] - along[0][1];
    let (diagnosis, what, advice) = match (a, b) {
        (0, 2) if sided > LIKELIER => (
            Diagnosis::AxesExchanged,
            "The red and blue axes are exchanged: the rows run with blue fastest.".to_owned(),
            "Write the rows with red changing fastest, as .cube has it.",
        ),
        (0, 2) if sided >= -LIKELIER => (
            Diagnosis::AxesOrChannels,
            "Red and blue are exchanged: each comes out as the other.".to_owned(),
            "Write the rows with red changing fastest, as .cube has it; if they are, exchange the two \
             channels.",
        ),
        _ => (
            Diagnosis::ChannelsExchanged,
            format!(
                "The {} and {} channels are exchanged: each comes out as the other.",
                NAMES[a], NAMES[b]
            ),
            "Write the channels in the order red, green, blue.",
        ),
    };
    Some(Found::serious(
        diagnosis,
        what,
        String::new(),
        advice.to_owned(),
    ))
}

/// All hues turned one way.
pub(super) fn hue_turned(nodes: &Nodes<'_>, judge: &Judge) -> Option<Found> {
    let seen = |input: [f32; 3]| match &judge.source {
        Some(source) => source.lab(input),
        // Codes' hues are much the same whatever the curve.
        None => judge.lab(input),
    };
    // The grey that comes out nearest to half of white's lightness.
    let (code, grey_out) = grey_curve(nodes.grid)
        .into_iter()
        .map(|(code, out)| (code, judge.lab(out)))
        .min_by(|a, b| (a.1.l - 50.0).abs().total_cmp(&(b.1.l - 50.0).abs()))?;
    let (min, max) = (nodes.grid.domain_min(), nodes.grid.domain_max());
    let input = |code: [f64; 3]| [0, 1, 2].map(|c| min[c] + (max[c] - min[c]) * code[c] as f32);
    let grey_in = seen(input([f64::from(code); 3]));
    let mut turns = [0.0_f64; HUES];
    for (i, turn) in turns.iter_mut().enumerate() {
        let angle = 2.0 * core::f64::consts::PI * i as f64 / HUES as f64;
        // Codes around grey.
        let around = input([0, 1, 2].map(|c| {
            let own = angle - 2.0 * core::f64::consts::PI * f64::from(c) / 3.0;
            f64::from(code) + AROUND * libm::cos(own)
        }));
        let (from, to) = (
            seen(around),
            judge.lab(nodes.grid.apply(around, Interpolation::Tetrahedral)),
        );
        let (a, b) = (from.a - grey_in.a, from.b - grey_in.b);
        let (x, y) = (to.a - grey_out.a, to.b - grey_out.b);
        // Black and white has no hue.
        if x * x + y * y < 1.0 {
            return None;
        }
        *turn = libm::atan2(a * y - b * x, a * x + b * y).to_degrees();
    }
    let mean = turns.iter().sum::<f64>() / HUES as f64;
    let one_way = turns.iter().all(|turn| turn * mean.signum() > TURNED_LEAST);
    (one_way && mean.abs() > TURNED).then(|| {
        Found::serious(
            Diagnosis::HueTurned,
            format!("All hues are turned by about {:.0} degrees.", mean.abs()),
            format!(
                "{:.0} to {:.0} degrees (CIELAB)",
                turns.iter().copied().fold(f64::MAX, f64::min),
                turns.iter().copied().fold(f64::MIN, f64::max)
            ),
            "Take the turn of hue out of the grade, and check the primaries that go in.".to_owned(),
        )
    })
}
