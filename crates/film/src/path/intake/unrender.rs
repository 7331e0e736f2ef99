//! Un-render: takes a finished photograph back towards the light that it was made from.
//!
//! A picture made for a screen has no light above white and hardly any below black: its camera bent
//! both ends. The inverse of the neutral rendering (see [`Neutral`]) unbends them, in the working
//! primaries, so that one colour becomes the same light whichever primaries it was written in. The
//! amount mixes the light so found over the screen's own.

use crate::path::neutral::Neutral;
use crate::path::screen::shown_in_a_brighter_room;
use lookwright_colour::encoding::{Curve, Encoding};
use lookwright_colour::lane::Lane;
use lookwright_colour::{Mat3, PixelMatrix, Rgb};

/// Un-render, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unrender {
    to_ap1: PixelMatrix,
    /// Gamma 2.4 is for a dim room; the neutral rendering is for an average one.
    dim_room: bool,
    neutral: Neutral,
    /// Share over the screen's light; none where it is all of it.
    share: Option<f32>,
}

impl Unrender {
    /// For an encoding and its matrix to AP1; none at amount 0, which is an exact identity.
    pub fn new(encoding: &Encoding, to_ap1: &Mat3, amount: f64) -> Option<Self> {
        (amount > 0.0).then(|| Self {
            to_ap1: to_ap1.for_pixels(),
            dim_room: encoding.curve == Curve::Bt1886,
            neutral: Neutral::new(),
            share: (amount < 1.0).then_some(amount as f32),
        })
    }

    /// The encoding's linear display light, white at 1, to AP1 scene light.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, display_lin: Rgb<L>) -> Rgb<L> {
        let seen = if self.dim_room {
            display_lin.map(shown_in_a_brighter_room)
        } else {
            display_lin
        };
        let undone = self.neutral.undo(self.to_ap1.apply(seen));
        match self.share {
            Some(share) => self.to_ap1.apply(display_lin).mix(undone, share),
            None => undone,
        }
    }
}
