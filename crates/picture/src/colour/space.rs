//! Encodings recognised by their primaries and curve.

use lookwright_colour::encoding::{Curve, EncodingId};
use lookwright_colour::space::Primaries;

/// How far a chromaticity may lie from the standard's to count as the same: files round to three
/// or four decimals, and no two spaces with an encoding on one curve lie nearer than 0.01.
const TOLERANCE_XY: f64 = 0.0015;

/// The encodings on this curve.
pub(crate) fn encodings_on(curve: Curve) -> impl Iterator<Item = EncodingId> {
    let all = EncodingId::ALL.into_iter();
    all.filter(move |encoding| encoding.info().curve == curve)
}

/// The encoding on this curve whose primaries and white these are.
pub(crate) fn known_encoding(found: &Primaries, curve: Curve) -> Option<EncodingId> {
    let near = |a: &Primaries, b: &Primaries| {
        let points = |p: &Primaries| [p.rgb()[0], p.rgb()[1], p.rgb()[2], p.white()];
        points(a)
            .iter()
            .zip(points(b))
            .all(|(a, b)| (a.x - b.x).abs() < TOLERANCE_XY && (a.y - b.y).abs() < TOLERANCE_XY)
    };
    encodings_on(curve).find(|encoding| near(&encoding.info().primaries, found))
}
