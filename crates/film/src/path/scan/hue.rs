//! Hues of a code around its grey axis: red lies along the first axis, green and blue 120 degrees to
//! either side.

use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// `sin 60`.
pub(super) const SIN_60: f32 = 0.866_025_4;

/// Where a code lies around grey: along red, and across.
#[inline(always)]
pub(super) fn axes<L: Lane>(code: Rgb<L>) -> [L; 2] {
    [code.r - (code.g + code.b) * 0.5, (code.g - code.b) * SIN_60]
}

/// Cosine and sine of a hue; both shrink where the square of what is there nears `no_hue`.
#[inline(always)]
pub(super) fn direction<L: Lane>([along, across]: [L; 2], no_hue: f32) -> [L; 2] {
    let length = (along * along + across * across + no_hue).sqrt();
    [along / length, across / length]
}

/// `cos^2` of one and a half times a distance whose cosine is `d`: `(1 + 4 d^3 - 3 d) / 2`, since
/// `cos 3x = 4 cos^3 x - 3 cos x`; 0 from 60 degrees on. Windows 60 degrees apart sum to 1.
#[inline(always)]
pub(super) fn window<L: Lane>(d: L) -> L {
    d.below(0.5, d.of(0.0), (d * d * 4.0 - 3.0) * d * 0.5 + 0.5)
}
