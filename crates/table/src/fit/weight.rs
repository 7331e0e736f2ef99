//! How much each tetrahedron counts.

use super::cells::{CORNERS, Cells};

/// Distance from the grey axis, in codes of 1, at which a colour is met about a third as often as
/// grey. Camera logs and the shaper have 0.06 to 0.09 of code a stop, so it is about a stop.
const SPREAD: f32 = 0.07;
/// A tetrahedron whose values are off by this (ten codes of 10 bits) counts about two thirds.
/// Chosen: what is left in ordinary colours at grid 33 lies well below.
const CREASE: f32 = 10.0 / 1023.0;

/// How often the colours of each tetrahedron are met in pictures, of 1 for grey.
///
/// ```text
/// (1 + (distance from the grey axis / SPREAD)^2)^(-3/2)
/// ```
///
/// A bell curve with heavy tails (Cauchy's, in two dimensions) in log-chromaticity: in natural
/// scenes that lies within about a quarter of a stop of grey (Ruderman, Cronin and Chiao,
/// "Statistics of cone responses to natural images", J. Opt. Soc. Am. A 15, 1998; cited from
/// memory), but paints, cloths and lamps lie far outside. How light a colour is makes no
/// difference: only neighbours compete for a node.
pub(super) fn usual(cells: &Cells) -> Vec<f32> {
    let step = 1.0 / cells.along() as f32;
    let mut weights = Vec::with_capacity(cells.along().pow(3) * CORNERS.len());
    for (at, _) in cells.each() {
        for corners in CORNERS {
            let middle = cells.centre(at, corners).map(|v| v * step);
            let grey = (middle[0] + middle[1] + middle[2]) * (1.0 / 3.0);
            let away = middle.map(|v| (v - grey) / SPREAD);
            let over = 1.0 + (away[0] * away[0] + away[1] * away[1] + away[2] * away[2]);
            weights.push(1.0 / (over * over.sqrt()));
        }
    }
    weights
}

/// The share that a tetrahedron keeps whose values are off by `left` (mean square): between least
/// squares and least distances, so that what cannot be followed does not pull its neighbours off
/// (Charbonnier and others, IEEE Transactions on Image Processing 6, 1997; cited from memory).
pub(super) fn spared(left: f32) -> f32 {
    1.0 / (1.0 + left / (CREASE * CREASE)).sqrt()
}
