//! What a table does to greys of a known encoding: whether it takes that encoding in at all, and once.

use super::nodes::Nodes;
use super::{Diagnosis, Found};
use crate::Interpolation;
use crate::health::judge::Judge;
use lookwright_colour::encoding::EncodingClass;

/// Reflectances of black cloth and of white paper; from memory.
const BLACK: f64 = 0.02;
const WHITE: f64 = 0.9;
/// Least difference of their lightness (CIELAB) in a picture for a screen, and most difference over the stop
/// about mid-grey. Chosen between what the tuning half of the scored tables has; see CHECK.md.
const APART_LEAST: f64 = 45.0;
const STOP_MOST: f64 = 24.0;

pub(super) fn greys(nodes: &Nodes<'_>, judge: &Judge) -> Option<Found> {
    let source = judge.source.as_ref()?;
    if !judge.setting.said || source.class != EncodingClass::Log {
        return None;
    }
    let lightness = |reflectance: f64| {
        let code = source.grey_code(reflectance);
        judge
            .lab(nodes.grid.apply([code; 3], Interpolation::Tetrahedral))
            .l
    };
    let apart = lightness(WHITE) - lightness(BLACK);
    let half_stop = core::f64::consts::SQRT_2;
    let stop = lightness(0.18 * half_stop) - lightness(0.18 / half_stop);
    let label = source.label;
    let (diagnosis, what, advice) = if apart.abs() < APART_LEAST {
        (
            Diagnosis::LogTakenAsPicture,
            format!(
                "The table takes {label} for a finished picture: it stays as flat as it came in."
            ),
            "Put a conversion from the encoding before it, or make the table for what goes in.",
        )
    } else if stop > STOP_MOST {
        (
            Diagnosis::ContrastTwice,
            format!(
                "The contrast is about twice a picture's: {label} seems to be converted twice."
            ),
            "Take one of the two conversions out, or say with --from what goes in.",
        )
    } else {
        return None;
    };
    Some(Found::serious(
        diagnosis,
        what,
        format!(
            "lightness (CIELAB): paper is {apart:.0} above black cloth, the stop about mid-grey has {stop:.0}"
        ),
        advice.to_owned(),
    ))
}
