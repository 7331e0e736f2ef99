//! Fold-overs, reversals and whether a table can be undone, as its slopes tell.

use super::finding::{Check, Finding, Severity};
use super::slopes::{FALL, Slopes};

/// Share of what counts that may fold at its edges before it is minor. Common practice, no source.
const EDGE_FOLDS_MINOR: f64 = 0.005;
/// Fall of a channel along the greys that shows: two steps of a display of 8 bits. Chosen.
const GREY_FALL: f32 = 2.0 / 255.0;
fn at_code(node: [usize; 3], size: usize) -> String {
    let [r, g, b] = node.map(|i| i as f64 / (size - 1) as f64);
    format!("{r:.3} {g:.3} {b:.3}")
}

/// What counts.
fn counted(found: &Slopes) -> &'static str {
    match found.of_surfaces {
        true => "what surfaces have",
        false => "the table",
    }
}

fn percent(share: f64) -> String {
    format!("{:.2} %", share * 100.0)
}

pub(super) fn fold_finding(found: &Slopes, size: usize) -> Finding {
    let severity = if found.folded_ordinary > 0.0 {
        Severity::Serious
    } else {
        Severity::of(found.folded, EDGE_FOLDS_MINOR, f64::INFINITY)
    };
    Finding {
        check: Check::FoldOvers,
        severity,
        what: match (severity, found.worst_fold) {
            (_, None) => "Colours keep their order everywhere.",
            (Severity::Serious, _) => "Ordinary colours come out in exchanged order.",
            (Severity::Minor, _) if found.of_surfaces => {
                "Some of the strongest colours that surfaces have come out in exchanged order."
            }
            (Severity::Minor, _) => "Some very strong colours come out in exchanged order.",
            (Severity::Info, _) if found.of_surfaces => {
                "Colours of surfaces keep their order; some of coloured lamps or stronger do not."
            }
            (Severity::Info, _) => "Colours keep their order but for very few strong ones.",
        }
        .to_owned(),
        place: found.worst_fold.map_or_else(String::new, |(node, _)| {
            format!("worst beside code {}", at_code(node, size))
        }),
        measure: format!(
            "{} of {} is turned over, of ordinary colours {}, of the whole table {}",
            percent(found.folded),
            counted(found),
            percent(found.folded_ordinary),
            percent(found.folded_anywhere)
        ),
        advice: match severity {
            Severity::Info => String::new(),
            _ => "Soften what pushes colours past each other: saturation, dye density, steep \
                  curves, hard gamut clips."
                .to_owned(),
        },
    }
}

pub(super) fn reversal_finding(found: &Slopes, size: usize) -> Finding {
    // A channel that falls where colours keep their order turns the colour and does not undo it:
    // more colour comes out denser, or a filter darkens it.
    let severity =
        if found.grey_fall > GREY_FALL || found.reversed_ordinary * found.folded_ordinary > 0.0 {
            Severity::Serious
        } else if found.grey_fall > FALL || found.reversed.min(found.folded) > EDGE_FOLDS_MINOR {
            Severity::Minor
        } else {
            Severity::Info
        };
    Finding {
        check: Check::Reversals,
        severity,
        what: match (severity, found.worst_reversal) {
            (_, None) => "More light never comes out darker.",
            _ if found.grey_fall > FALL => "Greys get darker in a channel while their light rises.",
            (Severity::Serious, _) => "In ordinary colours a channel falls while its light rises.",
            (Severity::Minor, _) => "In very strong colours a channel falls while its light rises.",
            _ => "Some colours get darker as they get stronger, but keep their order.",
        }
        .to_owned(),
        place: found
            .worst_reversal
            .map_or_else(String::new, |(node, channel, _)| {
                format!(
                    "worst in {} above code {}",
                    ["red", "green", "blue"][channel],
                    at_code(node, size)
                )
            }),
        measure: format!(
            "{} of the steps of {}, of ordinary colours {}, largest fall {:.1} codes of 10 bits, of greys {:.1}",
            percent(found.reversed),
            counted(found),
            percent(found.reversed_ordinary),
            found.worst_reversal.map_or(0.0, |(.., fall)| fall * 1023.0),
            found.grey_fall * 1023.0
        ),
        advice: match severity {
            Severity::Info => String::new(),
            _ => "Look for a curve that bends back, or for white roll and black drop set too hard."
                .to_owned(),
        },
    }
}

pub(super) fn inverse_finding(found: &Slopes) -> Finding {
    let lost = found.flat + found.folded_anywhere;
    // A hundredth of colour space at the edges is lost to any rendering for a screen.
    let nearly = lost <= 0.01 && found.folded_ordinary == 0.0;
    Finding {
        check: Check::Invertibility,
        severity: Severity::Info,
        what: if nearly {
            "The table can be undone almost everywhere."
        } else {
            "The table cannot be undone everywhere; keep the original pictures."
        }
        .to_owned(),
        place: String::new(),
        measure: format!(
            "{} of the table is flat (colours fall together), {} turned over",
            percent(found.flat),
            percent(found.folded_anywhere)
        ),
        advice: String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::judge::Setting;
    use super::super::slopes::slopes;
    use super::*;
    use crate::Grid3;
    use lookwright_colour::encoding::{EncodingId, Range};

    fn measured(grid: &Grid3) -> Slopes {
        slopes(grid, Setting::default()).unwrap()
    }

    /// ACEScct in which red turns back from where its light is `least` times as much as green's and blue's: its
    /// codes rise by 1 / 17.52 a stop (S-2016-001).
    fn turned(least: f32) -> Grid3 {
        Grid3::sample_codes(33, |[r, g, b]| {
            let over = (r - g.max(b) - libm::log2f(least) / 17.52).max(0.0);
            [r - 1.5 * over, g, b]
        })
        .unwrap()
    }

    /// Red of 32 times as much light as green and blue is a laser's; there are paints of 2 and more.
    #[test]
    fn folds_count_where_surfaces_are() {
        let of = |grid: &Grid3, source| {
            let setting = Setting {
                source,
                ..Setting::default()
            };
            let found = slopes(grid, setting).unwrap();
            let finding = fold_finding(&found, 33);
            let reversal = reversal_finding(&found, 33).severity;
            (finding.severity.max(reversal), finding.what)
        };
        let log = Some((EncodingId::AcesCct, Range::Full));
        let (severity, what) = of(&turned(32.0), log);
        assert_eq!(severity, Severity::Info, "{what}");
        assert!(what.contains("coloured lamps"), "{what}");
        let (severity, what) = of(&turned(2.0), log);
        assert_eq!(severity, Severity::Minor, "{what}");
        assert!(what.contains("that surfaces have"), "{what}");
        // Where it is not known what goes in, all counts.
        let (severity, what) = of(&turned(32.0), None);
        assert_eq!(severity, Severity::Minor, "{what}");
        assert!(what.contains("very strong colours"), "{what}");
    }

    /// A red filter before black and white film: green and blue darken, and no two colours change places.
    #[test]
    fn a_filter_is_no_reversal() {
        let filtered = Grid3::sample_codes(17, |[r, g, b]| [1.2 * r - 0.1 * g - 0.1 * b; 3]);
        let found = measured(&filtered.unwrap());
        assert!(found.reversed > 0.5, "{found:?}");
        let finding = reversal_finding(&found, 17);
        assert_eq!(finding.severity, Severity::Info, "{finding:?}");
    }

    /// Red comes down by 15 codes of 10 bits, in black, where no one sees it, or in the shadows.
    #[test]
    fn greys_may_fall_in_black() {
        for (from, severity) in [(0.03, Severity::Info), (0.3, Severity::Serious)] {
            let grid = Grid3::sample_codes(65, |[r, g, b]| {
                let falls = r == g && g == b && (from..from + 0.05).contains(&r);
                [if falls { r - 0.03 } else { r }, g, b]
            });
            let finding = reversal_finding(&measured(&grid.unwrap()), 65);
            assert_eq!(finding.severity, severity, "{finding:?}");
        }
    }

    #[test]
    fn exchanging_two_channels_turns_everything_over() {
        let found = measured(&Grid3::sample_codes(17, |[r, g, b]| [g, r, b]).unwrap());
        assert_eq!((found.folded, found.folded_ordinary), (1.0, 1.0));
        assert_eq!(fold_finding(&found, 17).severity, Severity::Serious);
        let turned = measured(&Grid3::sample_codes(5, |[r, g, b]| [g, b, r]).unwrap());
        assert_eq!(turned.folded, 0.0);
    }

    /// Determinant of a linear map: the same in every tetrahedron.

    #[test]
    fn a_dip_is_found_where_it_is() {
        let dip = |v: f32| if v > 0.55 && v < 0.7 { v - 0.2 } else { v };
        let grid = Grid3::sample_codes(33, |[r, g, b]| [r, dip(g), b]).unwrap();
        let found = measured(&grid);
        let (node, channel, fall) = found.worst_reversal.unwrap();
        assert_eq!((node[1], channel), (17, 1));
        assert!((fall - (0.2 - 1.0 / 32.0)).abs() < 1e-6);
        assert_eq!(reversal_finding(&found, 33).severity, Severity::Serious);
        assert!(found.folded > 0.0);
    }

    #[test]
    fn a_clipped_table_cannot_be_undone() {
        let grid = Grid3::sample_codes(9, |rgb| rgb.map(|v| (1.5 * v).min(1.0))).unwrap();
        let found = measured(&grid);
        // Flat wherever a channel is above 2/3: 1 - (6/8)^3 of the cells, and none folded. The
        // sixth cell is still cut by the clip, so it has a slope.
        assert!(
            (found.flat - (1.0 - 0.75_f64.powi(3))).abs() < 1e-9,
            "{}",
            found.flat
        );
        assert!(inverse_finding(&found).what.contains("cannot be undone"));
    }
}
