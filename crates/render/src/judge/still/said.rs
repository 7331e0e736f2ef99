//! What a match found, and what it could not, for a person to read.

use lookwright_colour::space::{Lab, delta_e_2000};
use lookwright_film::look::{Control, Look};

use super::moves::{self, Move};
use super::seen::{self, Like};
use super::solve::Solution;
use super::{MatchedMove, like};

/// What changed, in the order of the path.
pub(super) fn listed(
    begun: &Look,
    matched: &Look,
    moves: &[Move],
    kept: &[bool],
    found: &Solution,
) -> Vec<MatchedMove> {
    let mut out: Vec<MatchedMove> = Vec::new();
    for (i, one) in moves.iter().enumerate().filter(|(i, _)| kept[*i]) {
        let (stage, step, _) = one.place();
        let Some(named) = one.named(matched) else {
            continue;
        };
        let mut push = |control: &'static Control, error| {
            let values = [
                moves::number(begun, stage, step, control.id),
                moves::number(matched, stage, step, control.id),
            ];
            let known = out
                .iter()
                .any(|it| (it.step, it.control) == (step, control.id));
            if values[0] != values[1] && !known {
                out.push(MatchedMove {
                    stage,
                    step,
                    control: control.id,
                    labels: [named.step_label, control.label],
                    unit: moves::unit(control),
                    values,
                    error,
                });
            }
        };
        let error = one.error(matched, libm::sqrt(found.variance[i]));
        push(named.control, Some(error));
        if let Some(hue) = one.hue().and_then(|id| named.control_of(id)) {
            push(hue, None);
        }
    }
    out
}

fn joined(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// What stays apart.
pub(super) fn left(after: &[Lab], still: &[Lab], same: bool) -> Vec<String> {
    const NAMES: [&str; 6] = ["reds", "yellows", "greens", "cyans", "blues", "magentas"];
    let (ours, theirs) = (like(after), like(still));
    let mut left = Vec::new();
    if same {
        let far = |(a, b): (&Lab, &Lab)| delta_e_2000(*a, *b) > 5.0;
        let share =
            after.iter().zip(still).filter(|pair| far(*pair)).count() as f64 / after.len() as f64;
        if share > 0.01 {
            left.push(format!(
                "{:.0} % of the picture stays more than 5 dE2000 from the still: it was changed in places, or by a move that a look does not have.",
                100.0 * share
            ));
        }
    } else {
        let absent = |of: &Like, in_other: &Like| {
            let pairs = NAMES.iter().zip(of.hues.iter().zip(&in_other.hues));
            pairs
                .filter(|(_, (a, b))| **a < seen::ABSENT && **b > 3.0 * seen::ABSENT)
                .map(|(name, _)| *name)
                .collect::<Vec<_>>()
        };
        let unseen = absent(&ours, &theirs);
        if !unseen.is_empty() {
            left.push(format!(
                "The still has {} that this frame lacks.",
                joined(&unseen)
            ));
        }
        let untold = absent(&theirs, &ours);
        if !untold.is_empty() {
            left.push(format!(
                "It says nothing about {}: the still has none.",
                joined(&untold)
            ));
        }
    }
    for (name, i) in [("darkest", 0), ("lightest", 1)] {
        let more = ours.ends()[i] - theirs.ends()[i];
        if more.abs() > 3.0 {
            let side = if more > 0.0 { "lighter" } else { "darker" };
            left.push(format!(
                "The {name} parts stay {:.0} L* {side} than the still\u{2019}s.",
                more.abs()
            ));
        }
    }
    left.push(
        "Grain, sharpness, halation and what changes from place to place are not looked at."
            .to_owned(),
    );
    left
}
