//! The ends: clipped channels, full or legal range, and input outside the domain.

use super::finding::{Check, Finding, Severity};
use super::grey::grey_curve;
use super::judge::Judge;
use crate::Grid3;
use lookwright_colour::encoding::{Range, legal_limits};
use lookwright_colour::error::Result;

/// A signal this close to its end is clipped: half a code of 10 bits.
const AT_END: f32 = 0.5 / 1023.0;
/// Share of the grey axis that may be clipped at white. Common practice, no source.
const WHITES_MINOR: f64 = 0.02;
const WHITES_SERIOUS: f64 = 0.12;
/// Slope to white from which it is a cut and not a shoulder: half of the identity's. Common practice, no
/// source.
const HARD: f64 = 0.5;
/// Share of the grey axis that may be clipped at black: camera logs keep up to an eighth of their
/// codes below black.
const BLACKS_MINOR: f64 = 0.125;
const BLACKS_SERIOUS: f64 = 0.25;
/// Codes that a 10-bit interface keeps for timing: nothing may leave 4 ... 1019.
const TIMING: [f64; 2] = [4.0 / 1023.0, 1019.0 / 1023.0];

/// Shares of clipped output.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clipping {
    /// Share of the table's nodes at or below black, per channel.
    pub black: [f64; 3],
    /// Share of the table's nodes at or above white, per channel.
    pub white: [f64; 3],
    /// Share of the grey axis with a channel at or below black.
    pub grey_black: f64,
    /// Share of the grey axis with a channel at or above white.
    pub grey_white: f64,
    /// Slope with which greys come to white, the identity's 1: over the last 3 % of the axis before it.
    pub slope_to_white: f64,
}

pub(super) fn clipping(grid: &Grid3, judge: &Judge) -> Clipping {
    let at_black = |v: f32| v <= AT_END;
    let at_white = |v: f32| v >= 1.0 - AT_END;
    let share = |channel: usize, at: fn(f32) -> bool| {
        let clipped = |n: &&[f32; 3]| at(judge.signal(**n)[channel]);
        grid.nodes().iter().filter(clipped).count() as f64 / grid.nodes().len() as f64
    };
    let curve = grey_curve(grid);
    let on_axis = |at: fn(f32) -> bool| {
        let clipped = |(_, out): &&(f32, [f32; 3])| judge.signal(*out).iter().any(|&v| at(v));
        curve.iter().filter(clipped).count() as f64 / curve.len() as f64
    };
    Clipping {
        black: [0, 1, 2].map(|c| share(c, at_black)),
        white: [0, 1, 2].map(|c| share(c, at_white)),
        grey_black: on_axis(at_black),
        grey_white: on_axis(at_white),
        slope_to_white: slope_to_white(&curve, judge),
    }
}

/// The steepest channel's, where greys come to white at all.
fn slope_to_white(curve: &[(f32, [f32; 3])], judge: &Judge) -> f64 {
    let signal = |i: usize| judge.signal(curve[i].1);
    let before = curve.len() * 3 / 100;
    let slopes = (0..3).filter_map(|c| {
        let first = (0..curve.len()).find(|&i| signal(i)[c] >= 1.0 - AT_END)?;
        let from = first.checked_sub(before)?;
        let rise = f64::from(signal(first)[c].min(1.0) - signal(from)[c]);
        Some(rise / f64::from(curve[first].0 - curve[from].0))
    });
    slopes.fold(0.0, f64::max)
}

pub(super) fn clip_findings(found: &Clipping) -> [Finding; 2] {
    let measure = |grey: f64, channels: [f64; 3]| {
        let [r, g, b] = channels.map(|v| v * 100.0);
        format!(
            "{:.1} % of the grey axis; of all colours red {r:.1} %, green {g:.1} %, blue {b:.1} %",
            grey * 100.0
        )
    };
    // What comes to white slowly has rolled off, however early.
    let white = if found.slope_to_white > HARD {
        Severity::of(found.grey_white, WHITES_MINOR, WHITES_SERIOUS)
    } else {
        Severity::Info
    };
    let black = Severity::of(found.grey_black, BLACKS_MINOR, BLACKS_SERIOUS);
    [
        Finding {
            check: Check::ClippedBlacks,
            severity: black,
            what: match black {
                Severity::Info => "Blacks keep their detail.",
                _ => "Much of the dark range is cut to black.",
            }
            .to_owned(),
            place: format!("greys below code {:.3}", found.grey_black),
            measure: measure(found.grey_black, found.black),
            advice: match black {
                Severity::Info => String::new(),
                _ => "Lower the black drop, or check that the input encoding is the right one."
                    .to_owned(),
            },
        },
        Finding {
            check: Check::ClippedWhites,
            severity: white,
            what: match white {
                Severity::Info => "Highlights keep their detail.",
                _ => "Highlights are cut off hard.",
            }
            .to_owned(),
            place: format!("greys above code {:.3}", 1.0 - found.grey_white),
            measure: measure(found.grey_white, found.white),
            advice: match white {
                Severity::Info => String::new(),
                _ => "Roll the whites off earlier and more softly.".to_owned(),
            },
        },
    ]
}

pub(super) fn range_finding(grid: &Grid3, judge: &Judge) -> Result<Finding> {
    let values = || grid.nodes().iter().flatten().map(|&v| f64::from(v));
    let low = values().fold(f64::INFINITY, f64::min);
    let high = values().fold(f64::NEG_INFINITY, f64::max);
    let [black, white] = legal_limits(10)?;
    let code = 1.0 / 1023.0;
    let outside = |range: [f64; 2]| low < range[0] - code || high > range[1] + code;
    let legal = judge.setting.range == Range::Legal;
    let (severity, what, advice) = if legal && outside(TIMING) {
        (
            Severity::Serious,
            "A legal-range table gives codes that interfaces keep for timing.",
            "Write the table in legal range, or judge and use it as full range.",
        )
    } else if legal && outside([black, white]) {
        (
            Severity::Minor,
            "A legal-range table leaves black and white (64 and 940 of 1023).",
            "Legal if meant as headroom; else write the table in legal range.",
        )
    } else if !legal && outside([0.0, 1.0]) {
        (
            Severity::Minor,
            "The output leaves 0 to 1; many tools cut it there.",
            "Fine between two steps of a grade; for delivery, bend it back inside.",
        )
    } else {
        (Severity::Info, "The output keeps to its range.", "")
    };
    let codes = |v: f64| v * 1023.0;
    Ok(Finding {
        check: Check::OutputRange,
        severity,
        what: what.to_owned(),
        place: String::new(),
        measure: format!(
            "codes of 10 bits {:.1} to {:.1}; from legal black {:+.1}, from legal white {:+.1}",
            codes(low),
            codes(high),
            codes(low - black),
            codes(high - white)
        ),
        advice: advice.to_owned(),
    })
}

/// What lies beyond the domain is held at its edge; that hurts where the curve still rises there, unless it
/// has come to white.
pub(super) fn outside_finding(grid: &Grid3, judge: &Judge) -> Finding {
    let last = grid.size() - 1;
    let slope = |from: usize, to: usize| {
        let (a, b) = (
            judge.signal(grid.node([from; 3])),
            judge.signal(grid.node([to; 3])),
        );
        [0, 1, 2].map(|c| f64::from(b[c].clamp(0.0, 1.0) - a[c].clamp(0.0, 1.0)) * last as f64)
    };
    let steepest = |slopes: [f64; 3]| slopes.into_iter().fold(f64::MIN, f64::max);
    let (at_top, bottom) = (slope(last - 1, last), steepest(slope(0, 1)));
    let top = steepest(at_top);
    let end = judge.signal(grid.node([last; 3]));
    // A tenth of the identity's slope is a shoulder that has all but ended; a code below white is white.
    // Codes of an encoding end at 1.
    let ends = judge.source.is_some() && (0..3).all(|c| grid.domain_max()[c] >= 1.0);
    let rising = !ends && (0..3).any(|c| at_top[c] > 0.1 && end[c] < 1.0 - 1.0 / 1023.0);
    let (min, max) = (grid.domain_min(), grid.domain_max());
    Finding {
        check: Check::OutsideDomain,
        severity: if rising {
            Severity::Minor
        } else {
            Severity::Info
        },
        what: if rising {
            "Input above the table's domain is cut while the curve still rises."
        } else if ends {
            "The table takes all codes that its encoding has."
        } else if top > 0.1 {
            "Input above the table's domain is held at white."
        } else {
            "Input above the table's domain is held where the curve has levelled off."
        }
        .to_owned(),
        place: format!(
            "domain {} to {}",
            min[0].min(min[1]).min(min[2]),
            max[0].max(max[1]).max(max[2])
        ),
        measure: format!("slope {bottom:.2} at the lower end, {top:.2} at the upper end"),
        advice: if rising {
            "Keep the source inside the domain, or use a table with a shaper for light above white."
                .to_owned()
        } else {
            String::new()
        },
    }
}

#[cfg(test)]
mod tests {
    use super::super::judge::Setting;
    use super::*;

    fn judge(range: Range) -> Judge {
        Judge::new(Setting {
            range,
            ..Setting::default()
        })
        .unwrap()
    }

    #[test]
    fn shares_of_clipped_greys_are_counted() {
        // A clip at 3/4: a quarter of the axis.
        let grid = Grid3::sample_codes(65, |rgb| rgb.map(|v| (v / 0.75).min(1.0))).unwrap();
        let found = clipping(&grid, &judge(Range::Full));
        assert!((found.grey_white - 0.25).abs() < 0.01, "{found:?}");
        assert!((found.white[1] - 17.0 / 65.0).abs() < 1e-9);
        assert!(found.grey_black < 0.01);
        let [black, white] = clip_findings(&found);
        assert_eq!(
            (black.severity, white.severity),
            (Severity::Info, Severity::Serious)
        );
    }

    #[test]
    fn legal_range_is_told_from_full() {
        let full = Grid3::sample_codes(5, |rgb| rgb).unwrap();
        let [black, white] = legal_limits(10).unwrap().map(|v| v as f32);
        let legal = full
            .map_nodes(|n| n.map(|v| black + v * (white - black)))
            .unwrap();
        for (grid, range, severity) in [
            (&full, Range::Full, Severity::Info),
            (&legal, Range::Legal, Severity::Info),
            // Told as a mistake.
            (&legal, Range::Full, Severity::Info),
            (&full, Range::Legal, Severity::Serious),
        ] {
            let finding = range_finding(grid, &judge(range)).unwrap();
            assert_eq!(finding.severity, severity, "{finding:?}");
        }
    }

    #[test]
    fn a_curve_that_still_rises_at_the_edge_is_told() {
        let white = Grid3::sample_codes(17, |rgb| rgb).unwrap();
        let finding = outside_finding(&white, &judge(Range::Full));
        assert_eq!(finding.severity, Severity::Info, "{finding:?}");
        let rising = Grid3::sample_codes(17, |rgb| rgb.map(|v| v * 0.9)).unwrap();
        let finding = outside_finding(&rising, &judge(Range::Full));
        assert_eq!(finding.severity, Severity::Minor);
        // A channel that still rises at white, beside one that rests below it.
        let warm = Grid3::sample_codes(17, |[r, g, b]| [r, g, 0.8 * b.min(0.5)]).unwrap();
        let finding = outside_finding(&warm, &judge(Range::Full));
        assert_eq!(finding.severity, Severity::Info, "{finding:?}");
        let level = Grid3::sample_codes(17, |rgb| {
            rgb.map(|v| (1.0 - libm::exp(-6.0 * f64::from(v))) as f32)
        })
        .unwrap();
        assert_eq!(
            outside_finding(&level, &judge(Range::Full)).severity,
            Severity::Info
        );
    }
}
