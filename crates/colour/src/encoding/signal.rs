//! A screen's signal: the light that a picture is to show, as the numbers that are sent.
//!
//! Light is linear RGB of the screen's gamut, relative to the picture's white. Most screens take it on
//! their curve, channel by channel. Where the codes are a container, light goes there first, at the
//! chromaticity that it has:
//!
//! - *P3 in a theatre's own white* (SMPTE RP 431-2): the picture's white stays D65, as pictures are
//!   mastered; it is shown as bright as its brightest channel allows, at 41.7 of the theatre's 48
//!   cd/m2.
//! - *X'Y'Z'* (SMPTE ST 428-1): `(L XYZ / 52.37)^(1/2.6)`, white at 48 cd/m2. The room up to 52.37 is there
//!   for whites like D65, whose Z is 1.089.

use super::{Curve, Screen, ScreenId};
use crate::lane::Lane;
use crate::{Mat3, PixelMatrix, Rgb};

/// Luminance of a theatre's white in cd/m2 (SMPTE RP 431-2).
const THEATRE_WHITE: f64 = 48.0;
/// Light of full X'Y'Z' code in cd/m2 (SMPTE ST 428-1).
const DCDM_FULL: f64 = 52.37;

/// From a screen's light to its signal and back, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Signal {
    curve: Curve,
    container: Option<Container>,
}

/// Codes of other primaries or another white than the picture's.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Container {
    to: PixelMatrix,
    from: PixelMatrix,
}

impl Container {
    fn of(screen: &Screen) -> Option<Self> {
        if screen.primaries == screen.gamut {
            return None;
        }
        let shown = screen
            .primaries
            .xyz_to_rgb()
            .after(&screen.gamut.rgb_to_xyz());
        let share = match screen.screen {
            ScreenId::DcdmXyz => THEATRE_WHITE / DCDM_FULL,
            _ => 1.0 / shown.apply([1.0; 3]).into_iter().fold(1.0, f64::max),
        };
        let to = Mat3::diagonal([share; 3]).after(&shown);
        let from = to.inverse()?;
        Some(Self {
            to: to.for_pixels(),
            from: from.for_pixels(),
        })
    }
}

impl Signal {
    pub(super) fn of(screen: ScreenId) -> Self {
        let screen = screen.info();
        Self {
            curve: screen.curve,
            container: Container::of(screen),
        }
    }

    /// A curve and nothing else.
    pub const fn plain(curve: Curve) -> Self {
        Self {
            curve,
            container: None,
        }
    }

    /// Linear RGB of the gamut, 1 being the picture's white, to signal; not limited.
    #[inline(always)]
    pub fn encode<L: Lane>(&self, light: Rgb<L>) -> Rgb<L> {
        let light = match &self.container {
            Some(container) => container.to.apply(light),
            None => light,
        };
        self.coded(light)
    }

    /// Signal to linear RGB of the gamut.
    #[inline(always)]
    pub fn decode<L: Lane>(&self, signal: Rgb<L>) -> Rgb<L> {
        let light = signal.map(
            #[inline(always)]
            |v| self.curve.decode(v),
        );
        match &self.container {
            Some(container) => container.from.apply(light),
            None => light,
        }
    }

    /// The signal of the same light on a screen whose codes are the gamut's own: there greys are equal
    /// codes. The signal itself where no container is.
    #[inline(always)]
    pub fn uncontained<L: Lane>(&self, signal: Rgb<L>) -> Rgb<L> {
        match self.container {
            Some(_) => self.coded(self.decode(signal)),
            None => signal,
        }
    }

    /// Whether the gamut's own codes are sent.
    pub const fn is_plain(&self) -> bool {
        self.container.is_none()
    }

    #[inline(always)]
    fn coded<L: Lane>(&self, light: Rgb<L>) -> Rgb<L> {
        light.map(
            #[inline(always)]
            |x| self.curve.encode(x),
        )
    }
}
