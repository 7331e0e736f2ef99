//! Code points for colour (ITU-T H.273), as PNG's `cICP` chunk carries them.

use lookwright_colour::encoding::Curve;
use lookwright_colour::space::{Primaries, primaries};

use super::curve::{hlg_to_linear, pq_to_linear};

/// What a set of code points stands for.
pub(crate) struct Meaning {
    pub(crate) primaries: &'static Primaries,
    pub(crate) transfer: Transfer,
}

/// Transfer characteristics as far as they are read.
pub(crate) enum Transfer {
    Known(Curve),
    /// A curve to linear light with its name for the reader.
    Hdr(fn(f64) -> f64, &'static str),
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
    let transfer = match transfer {
        13 => Transfer::Known(Curve::Srgb),
        1 | 6 | 14 | 15 => Transfer::Known(Curve::Bt1886),
        8 => Transfer::Known(Curve::Linear),
        16 => Transfer::Hdr(
            pq_to_linear,
            "perceptual quantizer (203 cd/m2 taken as white)",
        ),
        18 => Transfer::Hdr(hlg_to_linear, "hybrid log-gamma (code 0.75 taken as white)"),
        _ => return None,
    };
    Some(Meaning {
        primaries,
        transfer,
    })
}
