//! Values on another scale than 0 to 1.

use super::nodes::Nodes;
use super::{Diagnosis, Found};

/// Whole numbers that codes are written in, and what they are.
const FULL_SCALES: [(f32, &str); 6] = [
    (100.0, "percent"),
    (255.0, "codes of 8 bits"),
    (1023.0, "codes of 10 bits"),
    (4095.0, "codes of 12 bits"),
    (16383.0, "codes of 14 bits"),
    (65535.0, "codes of 16 bits"),
];
/// Most that any code of 0 to 1 comes to, with room for light above white.
const FAR_ABOVE_ONE: f32 = 24.0;
/// Least share of full scale that codes reach, and that the middle of greys has: linear light, which may
/// go as high, has next to nothing there (in cameras' log codes, about 1 % of the most or less).
const REACHED: f32 = 0.6;
const MIDDLE: f32 = 0.06;
/// Below this much of white a picture is black: no table for a screen or for log codes ends there, while
/// 10 bits divided as 16 come to 0.016 and 12 bits to 0.062.
const ALL_BUT_BLACK: f32 = 0.063;
/// How near white has to be to the quotient of two full scales where pictures may end there, too.
const EXACT: f32 = 3e-5;

/// Codes of 8 bits, say, where 0 to 1 is meant.
pub(super) fn scaled(nodes: &Nodes<'_>) -> Option<Found> {
    let most = nodes.most();
    if most <= FAR_ABOVE_ONE {
        return None;
    }
    let [_, middle, _] = nodes.grid.node([nodes.size() / 2; 3]);
    let (full, what) = FULL_SCALES
        .into_iter()
        .find(|(full, _)| most <= full * 1.01 && most >= full * REACHED)
        .filter(|(full, _)| middle >= full * MIDDLE)?;
    Some(Found::serious(
        Diagnosis::CodeValues,
        format!("The values are {what}, not of 0 to 1."),
        format!("largest value {most}"),
        format!("Divide every value by {full}."),
    ))
}

/// Codes divided by another full scale than their own.
pub(super) fn divided(nodes: &Nodes<'_>) -> Option<Found> {
    let most = nodes.most();
    let white = nodes.grid.node([nodes.size() - 1; 3]);
    let wide = most - nodes.least() > 0.3 * most;
    let near = |wanted: f32| white.iter().all(|v| (v / wanted - 1.0).abs() < EXACT);
    let quotients = FULL_SCALES[1..].iter().flat_map(|&(a, own)| {
        FULL_SCALES[1..]
            .iter()
            .filter(move |(b, _)| a != *b)
            .map(move |&(b, _)| (a / b, own, b))
    });
    let told = quotients.into_iter().find(|&(quotient, ..)| near(quotient));
    let (what, advice) = match told {
        Some((_, own, by)) => (
            format!("The values are {own} divided by {by}, not by their own full scale."),
            format!("Multiply every value by {}.", 1.0 / white[1]),
        ),
        None if most > 0.0 && most < ALL_BUT_BLACK && wide => (
            format!("The picture comes out all but black: the values end at {most:.4}."),
            "Probably codes divided by too much, or twice: divide them by their own full scale, once."
                .to_owned(),
        ),
        None => return None,
    };
    Some(Found::serious(
        Diagnosis::WrongDivisor,
        what,
        format!("largest value {most}"),
        advice,
    ))
}
