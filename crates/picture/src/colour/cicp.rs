//! Code points for colour (ITU-T H.273), as PNG's `cICP` chunk carries them.

use lookwright_colour::encoding::Curve;
use lookwright_colour::space::{Primaries, primaries};

/// What a set of code points stands for.
pub(crate) struct Meaning {
    pub(crate) primaries: &'static Primaries,
    pub(crate) curve: Curve,
}

/// The meaning of primaries and transfer, or `None` for points that are not read here.
///
/// Television's camera curves (1, 6, 14, 15) are shown on a BT.1886 display, and so they are read.
pub(crate) fn meaning(code_primaries: u8, transfer: u8) -> Option<Meaning> {
    let primaries = match code_primaries {
        1 => &primaries::BT709,
        9 => &primaries::BT2020,
        12 => &primaries::DISPLAY_P3,
        _ => return None,
    };
    let curve = match transfer {
        13 => Curve::Srgb,
        1 | 6 | 14 | 15 => Curve::Bt1886,
        8 => Curve::Linear,
        16 => Curve::Pq,
        18 => Curve::Hlg,
        _ => return None,
    };
    Some(Meaning { primaries, curve })
}
