//! Legal and full range mixed up, told by where the values end.

use super::nodes::Nodes;
use super::{Diagnosis, Found};
use crate::health::finding::Severity;
use crate::health::judge::Judge;
use lookwright_colour::encoding::{Range, legal_limits};
use lookwright_colour::error::Result;

/// Both ends are met if each is this near: a code of 10 bits.
const NEAR: f64 = 1.0 / 1023.0;
/// One end is met if many values pile up there, this near.
const PILED_NEAR: f64 = 1e-4;
/// Least share of values in a pile.
const PILED: f64 = 0.01;

/// Ends of the values, what brought them there, and what to do.
struct Levels {
    ends: [f64; 2],
    diagnosis: Diagnosis,
    what: &'static str,
    advice: &'static str,
}

/// Ranges between which values end by a slip.
///
/// # Errors
/// If legal range is not defined: it is taken at 10 bits, so never.
pub(super) fn mixed_up(nodes: &Nodes<'_>, judge: &Judge) -> Result<Option<Found>> {
    let legal @ [black, white] = legal_limits(10)?;
    let squeeze = |v: f64| black + v * (white - black);
    let expand = |v: f64| (v - black) / (white - black);
    let known = [
        Levels {
            ends: legal,
            diagnosis: Diagnosis::LegalForFull,
            what: "The output just fills legal range, though it is taken as full range.",
            advice: "Probably a legal-range table: judge and use it as such, or pictures get flat.",
        },
        Levels {
            ends: legal.map(squeeze),
            diagnosis: Diagnosis::LegalTwice,
            what: "The output is squeezed into legal range twice.",
            advice: "Write the table again with one change of range only.",
        },
        Levels {
            ends: [0.0, 1.0].map(expand),
            diagnosis: Diagnosis::Expanded,
            what: "The output is expanded from legal to full range, though it was full range already.",
            advice: "Write the table again without the change of range.",
        },
        Levels {
            ends: [0.0, 1.0].map(|v| expand(expand(v))),
            diagnosis: Diagnosis::ExpandedTwice,
            what: "The output is expanded from legal to full range twice.",
            advice: "Write the table again with one change of range only, or none.",
        },
    ];
    let is_legal = judge.setting.range == Range::Legal;
    let met = known
        .into_iter()
        .filter(|levels| !(is_legal && levels.diagnosis == Diagnosis::LegalForFull))
        .find(|levels| meets(nodes, levels.ends));
    Ok(met.map(|levels| {
        // A legal-range table is right for one who takes it so, unless it says itself to be of full range.
        let may_be_meant = levels.diagnosis == Diagnosis::LegalForFull && !judge.setting.said;
        let codes = |v: f32| f64::from(v) * 1023.0;
        Found {
            severity: if may_be_meant {
                Severity::Minor
            } else {
                Severity::Serious
            },
            ..Found::serious(
                levels.diagnosis,
                levels.what.to_owned(),
                format!(
                    "codes of 10 bits {:.1} to {:.1}",
                    codes(nodes.least()),
                    codes(nodes.most())
                ),
                levels.advice.to_owned(),
            )
        }
    }))
}

/// Whether the values fill a range, or pile up at one end of it without leaving the other.
fn meets(nodes: &Nodes<'_>, [low, high]: [f64; 2]) -> bool {
    let (least, most) = (f64::from(nodes.least()), f64::from(nodes.most()));
    if (least - low).abs() < NEAR && (most - high).abs() < NEAR {
        return true;
    }
    let inside = least > low - PILED_NEAR && most < high + PILED_NEAR;
    let values = || nodes.grid.nodes().iter().flatten().map(|&v| f64::from(v));
    let all = (nodes.grid.nodes().len() * 3) as f64;
    let piled = |end: f64| {
        let there = values().filter(|v| (v - end).abs() < PILED_NEAR).count() as f64;
        there > PILED * all
    };
    inside && (piled(low) || piled(high))
}
