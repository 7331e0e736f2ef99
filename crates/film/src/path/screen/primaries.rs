//! The roll-in's numbers for each screen; what they are is said in [`mod@super::roll`].

use super::Roll;
use lookwright_colour::encoding::ScreenId;

/// The roll-in of a screen.
pub const fn roll(screen: ScreenId) -> Roll {
    match screen {
        ScreenId::Rec709 | ScreenId::Srgb => BT709,
        ScreenId::DisplayP3
        | ScreenId::P3D65Theatre
        | ScreenId::P3DciTheatre
        | ScreenId::DcdmXyz => DISPLAY_P3,
        ScreenId::Rec2020
        | ScreenId::Pq600
        | ScreenId::Pq1000
        | ScreenId::Pq2000
        | ScreenId::Pq4000
        | ScreenId::Hlg1000 => BT2020,
    }
}

/// Luminance weights of ITU-R BT.709-6.
const BT709: Roll = Roll::new(
    [0.2126, 0.7152, 0.0722],
    [
        [-0.24, 0.27, 0.72],
        [0.08, -0.05, 0.45],
        [-0.15, -0.38, -0.90],
    ],
);
/// Luminance weights from SMPTE EG 432-1's primaries and D65.
const DISPLAY_P3: Roll = Roll::new(
    [0.228_975, 0.691_739, 0.079_287],
    [
        [-0.22, 0.23, 0.90],
        [0.09, -0.01, 0.61],
        [-0.19, -0.54, -0.90],
    ],
);
/// Luminance weights of ITU-R BT.2020-2.
const BT2020: Roll = Roll::new(
    [0.2627, 0.6780, 0.0593],
    [
        [-0.30, 0.17, -0.04],
        [0.13, -0.01, 0.41],
        [-0.20, -0.65, -0.64],
    ],
);
