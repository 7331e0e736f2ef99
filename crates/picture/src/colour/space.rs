//! RGB spaces with an id of their own, recognised by their primaries.

use lookwright_colour::space::{Primaries, primaries};

/// The spaces with an id.
pub(crate) const SPACES: [&Primaries; 5] = [
    &primaries::BT709,
    &primaries::DISPLAY_P3,
    &primaries::BT2020,
    &primaries::AP0,
    &primaries::AP1,
];

/// How far a chromaticity may lie from the standard's to count as the same: files round to three
/// or four decimals, and no two spaces with an id lie nearer than 0.01.
const TOLERANCE_XY: f64 = 0.0015;

/// The space with an id whose primaries and white these are.
pub(crate) fn known_space(found: &Primaries) -> Option<&'static Primaries> {
    let near = |a: &Primaries, b: &Primaries| {
        let points = |p: &Primaries| [p.rgb()[0], p.rgb()[1], p.rgb()[2], p.white()];
        points(a)
            .iter()
            .zip(points(b))
            .all(|(a, b)| (a.x - b.x).abs() < TOLERANCE_XY && (a.y - b.y).abs() < TOLERANCE_XY)
    };
    SPACES.into_iter().find(|space| near(space, found))
}
