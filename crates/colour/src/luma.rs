//! Luma: how light a code is, by the weights of Rec. ITU-R BT.709, which the ASC CDL also uses.

use crate::Rgb;
use crate::lane::Lane;

/// Weights of red, green and blue; they sum to 1.
pub const LUMA: [f32; 3] = [0.2126, 0.7152, 0.0722];

/// The weighted sum of the three.
#[inline(always)]
pub fn luma<L: Lane>(rgb: Rgb<L>) -> L {
    rgb.r * LUMA[0] + rgb.g * LUMA[1] + rgb.b * LUMA[2]
}
