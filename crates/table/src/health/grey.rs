//! The grey axis: its tint, its kinks, and how far it pulls the source's steps apart.

use super::finding::{Check, Finding, Severity};
use super::judge::{BLACK_VELVET, Judge};
use crate::{Grid3, Interpolation};

/// Points on the grey axis for tint and curves.
const POINTS: usize = 257;
/// Chroma (CIELAB) up to which a grey looks grey, and up to which looks give it a colour on purpose: a warm
/// print, a faded reel. Whether a tint is meant no table tells, so it is said and never serious. Common
/// practice, no source.
const TINTED: f64 = 4.0;
const TINT_MINOR: f64 = 15.0;
/// A change of slope from which an edge may be seen in a smooth gradient, in display steps between the nodes
/// of a grid of 33. Common practice, no source.
const KINK_MINOR: f64 = 5.0;
const KINK_SERIOUS: f64 = 10.0;
const KINK_GRID: f64 = 32.0;
/// Display steps that one step of the source may become before gradients break into bands: one.
const STRETCH_MINOR: f64 = 1.0;
const STRETCH_SERIOUS: f64 = 2.0;

/// Output along the grey axis: code 0 ... 1 of the domain, and the table's red, green and blue.
#[must_use]
pub fn grey_curve(grid: &Grid3) -> Vec<(f32, [f32; 3])> {
    let (min, max) = (grid.domain_min(), grid.domain_max());
    (0..POINTS)
        .map(|i| {
            let code = i as f32 / (POINTS - 1) as f32;
            let input = core::array::from_fn(|c| min[c] + (max[c] - min[c]) * code);
            (code, grid.apply(input, Interpolation::Tetrahedral))
        })
        .collect()
}

pub(super) fn tint_finding(grid: &Grid3, judge: &Judge) -> Finding {
    // Below a lightness of 2 a colour is black to the eye.
    let seen = grey_curve(grid)
        .into_iter()
        .map(|(code, out)| (code, judge.lab(out)))
        .filter(|(_, lab)| lab.l > 2.0);
    let worst = seen.max_by(|a, b| a.1.chroma().total_cmp(&b.1.chroma()));
    let (code, chroma, hue) = worst.map_or((0.0, 0.0, 0.0), |(code, lab)| {
        (code, lab.chroma(), lab.hue_degrees())
    });
    let severity = Severity::of(chroma, TINT_MINOR, f64::INFINITY);
    Finding {
        check: Check::GreyTint,
        severity,
        what: if chroma > TINTED {
            format!("Greys lean to {}.", hue_word(hue))
        } else {
            "Greys stay grey.".to_owned()
        },
        place: format!("most at grey code {code:.3}"),
        measure: format!("chroma {chroma:.1} (CIELAB)"),
        advice: match severity {
            Severity::Info => String::new(),
            _ => "Fine if the look intends it; otherwise balance the printer points or the split tone."
                .to_owned(),
        },
    }
}

/// The name of a CIELAB hue.
fn hue_word(hue_degrees: f64) -> &'static str {
    const WORDS: [&str; 8] = [
        "red", "orange", "yellow", "green", "cyan", "azure", "blue", "magenta",
    ];
    // Eight sectors, the first centred on 15 degrees.
    let turned = (hue_degrees + 7.5).rem_euclid(360.0);
    WORDS[(turned / 45.0) as usize % 8]
}

/// The sharpest bend on the grey axis above black: its node, channel, and size in display steps between
/// the nodes of a grid of 33, so that it is the change of slope that counts, whatever the grid.
fn sharpest_bend(grid: &Grid3, judge: &Judge) -> (usize, usize, f64) {
    let size = grid.size();
    let steps =
        f64::from((1_u32 << judge.setting.display_bits) - 1) * (size - 1) as f64 / KINK_GRID;
    let mut sharpest = (0, 0, 0.0);
    for channel in 0..3 {
        let value = |i: usize| f64::from(judge.signal(grid.node([i; 3]))[channel]);
        let bend = |i: usize| value(i + 1) - 2.0 * value(i) + value(i - 1);
        // No edge is seen in what is darker than black velvet, and a curve that comes out of black is
        // steep there.
        let seen = |i: usize| judge.lab(grid.node([i; 3])).l > BLACK_VELVET;
        for i in (2..size.saturating_sub(2)).filter(|&i| seen(i - 1) && seen(i) && seen(i + 1)) {
            // A smooth curve bends about as much at the next node; an edge does not.
            let alone = (bend(i) - bend(i - 1))
                .abs()
                .min((bend(i) - bend(i + 1)).abs());
            if alone * steps > sharpest.2 {
                sharpest = (i, channel, alone * steps);
            }
        }
    }
    sharpest
}

pub(super) fn kink_finding(grid: &Grid3, judge: &Judge) -> Finding {
    let (node, channel, size) = sharpest_bend(grid, judge);
    let severity = Severity::of(size, KINK_MINOR, KINK_SERIOUS);
    Finding {
        check: Check::Kinks,
        severity,
        what: match severity {
            Severity::Info => "Gradients of grey are smooth.",
            _ => "A gradient of grey shows an edge where the slope changes at once.",
        }
        .to_owned(),
        place: format!(
            "sharpest in {} at grey code {:.3}",
            ["red", "green", "blue"][channel],
            node as f64 / (grid.size() - 1) as f64
        ),
        measure: format!(
            "bend of {size:.1} display steps of {} bits between nodes of a grid of 33",
            judge.setting.display_bits
        ),
        advice: match severity {
            Severity::Info => String::new(),
            _ => "Roll off instead of clipping: white roll, black drop, smoother curve points."
                .to_owned(),
        },
    }
}

pub(super) fn stretch_finding(grid: &Grid3, judge: &Judge) -> Finding {
    let size = grid.size();
    let full = |bits: u32| f64::from((1_u32 << bits) - 1);
    let (source, display) = (
        full(judge.setting.source_bits),
        full(judge.setting.display_bits),
    );
    let mut most = (0, 0.0);
    for i in 0..size - 1 {
        let (a, b) = (
            judge.signal(grid.node([i; 3])),
            judge.signal(grid.node([i + 1; 3])),
        );
        for channel in 0..3 {
            let slope = f64::from((b[channel] - a[channel]).abs()) * (size - 1) as f64;
            let steps = slope * display / source;
            if steps > most.1 {
                most = (i, steps);
            }
        }
    }
    let severity = Severity::of(most.1, STRETCH_MINOR, STRETCH_SERIOUS);
    Finding {
        check: Check::Stretch,
        severity,
        what: match severity {
            Severity::Info => "The source has steps enough for this contrast.",
            _ => "The source's steps are pulled apart so far that gradients may band.",
        }
        .to_owned(),
        place: format!(
            "steepest above grey code {:.3}",
            most.0 as f64 / (size - 1) as f64
        ),
        measure: format!(
            "one step of {} bits becomes {:.2} display steps of {} bits",
            judge.setting.source_bits, most.1, judge.setting.display_bits
        ),
        advice: match severity {
            Severity::Info => String::new(),
            _ => "Lower the slope, or start from a source of more bits.".to_owned(),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::super::judge::Setting;
    use super::*;

    fn judge() -> Judge {
        Judge::new(Setting::default()).unwrap()
    }

    #[test]
    fn an_identity_is_smooth_neutral_and_unstretched() {
        let grid = Grid3::sample_codes(17, |rgb| rgb).unwrap();
        for finding in [
            tint_finding(&grid, &judge()),
            kink_finding(&grid, &judge()),
            stretch_finding(&grid, &judge()),
        ] {
            assert_eq!(finding.severity, Severity::Info, "{finding:?}");
        }
    }

    #[test]
    fn a_hard_clip_is_a_kink_and_a_soft_one_is_not() {
        let hard = Grid3::sample_codes(33, |rgb| rgb.map(|v| (1.6 * v).min(1.0))).unwrap();
        let finding = kink_finding(&hard, &judge());
        assert_eq!(finding.severity, Severity::Serious, "{finding:?}");
        let soft = Grid3::sample_codes(33, |rgb| {
            rgb.map(|v| (1.0 - libm::exp(-1.6 * f64::from(v))) as f32)
        })
        .unwrap();
        assert_eq!(kink_finding(&soft, &judge()).severity, Severity::Info);
    }

    #[test]
    fn a_tint_is_named_by_its_hue() {
        for (gain, word) in [
            ([1.0, 0.7, 0.7], "red"),
            ([0.7, 0.7, 1.0], "blue"),
            ([0.7, 1.0, 0.7], "green"),
            ([1.0, 1.0, 0.6], "yellow"),
        ] {
            let grid = Grid3::sample_codes(9, |rgb| [0, 1, 2].map(|c| rgb[c] * gain[c])).unwrap();
            let finding = tint_finding(&grid, &judge());
            assert_eq!(finding.what, format!("Greys lean to {word}."));
        }
    }

    /// A slope of 6: one code of 1023 becomes 6 * 255 / 1023 codes of 255.
    #[test]
    fn stretch_is_slope_by_depths() {
        let grid = Grid3::sample_codes(33, |rgb| {
            rgb.map(|v| ((v - 0.5) * 6.0 + 0.5).clamp(0.0, 1.0))
        })
        .unwrap();
        let finding = stretch_finding(&grid, &judge());
        assert!(
            finding.measure.contains("becomes 1.50 display steps"),
            "{finding:?}"
        );
        assert_eq!(finding.severity, Severity::Minor);
    }
}
