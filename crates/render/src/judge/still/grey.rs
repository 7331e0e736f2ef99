//! A still without colours of its own: black-and-white, plain or toned.

use lookwright_film::look::{Balance, Look, StockChoice};

use super::seen::Seen;
use super::solve::median;

/// Bands of lightness in each of which such a still has one tint.
const BANDS: usize = 20;
/// How far its colours lie from that tint at most, but for one in twenty, as they are seen. *Chosen*: grain
/// and JPEG of a toned picture stay below, a foggy day in colour does not.
const NEAR: f64 = 2.0;

/// The look on black-and-white film, and a sentence that says so, if the still is black-and-white and the look's
/// film is not.
pub(super) fn as_still(look: &Look, still: &[Seen]) -> (Look, Option<String>) {
    let stock = &look.negative.stock;
    let is_grey = matches!(
        stock.balance,
        Balance::Panchromatic | Balance::Orthochromatic
    );
    if is_grey || !stock.on || !has_one_tint_per_tone(still) {
        return (look.clone(), None);
    }
    let mut on_grey = look.clone();
    on_grey.negative.stock.balance = Balance::Panchromatic;
    let label = StockChoice::of(&on_grey.negative.stock).label();
    let sentence =
        format!("The still is black-and-white, so the look\u{2019}s stock is {label} now.");
    (on_grey, Some(sentence))
}

fn has_one_tint_per_tone(still: &[Seen]) -> bool {
    let band = |point: &Seen| ((point[0] / 100.0 * BANDS as f64) as usize).min(BANDS - 1);
    let tint = |of: usize, axis: usize| {
        let inside = still.iter().filter(|point| band(point) == of);
        median(inside.map(|point| point[axis]).collect())
    };
    let tints: Vec<[f64; 2]> = (0..BANDS).map(|of| [tint(of, 1), tint(of, 2)]).collect();
    let mut far: Vec<f64> = still
        .iter()
        .map(|point| {
            let [a, b] = tints[band(point)];
            libm::hypot(point[1] - a, point[2] - b)
        })
        .collect();
    far.sort_unstable_by(f64::total_cmp);
    far.get(far.len() * 19 / 20).is_some_and(|far| *far < NEAR)
}
