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
//!
//! On screens of high dynamic range (ITU-R BT.2100-2) light 1 is the white card, at 203 cd/m2
//! (BT.2408-7). PQ codes cd/m2. HLG codes the scene's light, which is the screen's with the system's gamma
//! undone: `E = (Y / L)^(1/g - 1) F / L` for light `F` of luminance `Y` and the peak `L`,
//! `g = 1.2 + 0.42 log10(L / 1000)`.

use super::curves::hlg;
use super::{Curve, Screen, ScreenId};
use crate::lane::Lane;
use crate::{Mat3, PixelMatrix, Rgb};

/// Luminance of the picture's white card on screens of high dynamic range in cd/m2 (ITU-R BT.2408-7,
/// table 1).
pub const DIFFUSE_WHITE: f64 = 203.0;
/// Light of full PQ code in cd/m2 (ITU-R BT.2100-2, table 4).
const PQ_FULL: f64 = 10_000.0;
/// Luminance of a theatre's white in cd/m2 (SMPTE RP 431-2).
const THEATRE_WHITE: f64 = 48.0;
/// Light of full X'Y'Z' code in cd/m2 (SMPTE ST 428-1).
const DCDM_FULL: f64 = 52.37;

/// From a screen's light to its signal and back, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Signal {
    curve: Curve,
    before: Before,
}

/// What is done to light before the curve.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Before {
    Nothing,
    Container(Container),
    /// Times this, and times that on the way back.
    Scale([f32; 2]),
    Hlg(Ootf),
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

/// HLG's way from the scene's light to a screen's (ITU-R BT.2100-2, table 5).
#[derive(Clone, Copy, Debug, PartialEq)]
struct Ootf {
    /// The white card by the screen's peak.
    white: f32,
    gamma: f32,
}

/// Luminance weights of ITU-R BT.2100-2.
const WEIGHTS: [f32; 3] = [0.2627, 0.6780, 0.0593];
/// Luminance below which the gamma's gain stays, so that black is black.
const DARKEST: f32 = 1e-9;

/// The system's gamma at a peak in cd/m2 from 400 to 2000 (ITU-R BT.2100-2, note 5f).
fn system_gamma(peak: f64) -> f64 {
    1.2 + 0.42 * libm::log10(peak / 1000.0)
}

impl Ootf {
    fn of(peak: f64) -> Self {
        Self {
            white: (DIFFUSE_WHITE / peak) as f32,
            gamma: system_gamma(peak) as f32,
        }
    }

    /// The screen's light to the scene's, a white card at 1.
    #[inline(always)]
    fn undo<L: Lane>(self, light: Rgb<L>) -> Rgb<L> {
        let light = light.map(
            #[inline(always)]
            |x| x * self.white,
        );
        let gain = power(luminance(light), 1.0 / self.gamma - 1.0) * (1.0 / hlg::WHITE) as f32;
        light.map(
            #[inline(always)]
            |x| x * gain,
        )
    }

    /// The scene's light to the screen's.
    #[inline(always)]
    fn apply<L: Lane>(self, light: Rgb<L>) -> Rgb<L> {
        let light = light.map(
            #[inline(always)]
            |x| x * hlg::WHITE as f32,
        );
        let gain = power(luminance(light), self.gamma - 1.0) * (1.0 / self.white);
        light.map(
            #[inline(always)]
            |x| x * gain,
        )
    }
}

#[inline(always)]
fn luminance<L: Lane>(light: Rgb<L>) -> L {
    let [r, g, b] = WEIGHTS;
    light.r * r + light.g * g + light.b * b
}

#[inline(always)]
fn power<L: Lane>(luminance: L, exponent: f32) -> L {
    (luminance.max(luminance.of(DARKEST)).log2() * exponent).exp2()
}

impl Signal {
    pub(super) fn of(screen: ScreenId) -> Self {
        let screen = screen.info();
        let before = match (screen.curve, screen.peak) {
            (Curve::Hlg, Some(peak)) => Before::Hlg(Ootf::of(peak)),
            (_, Some(_)) => {
                let white = DIFFUSE_WHITE / PQ_FULL;
                Before::Scale([white as f32, (1.0 / white) as f32])
            }
            (_, None) => Container::of(screen).map_or(Before::Nothing, Before::Container),
        };
        Self {
            curve: screen.curve,
            before,
        }
    }

    /// A curve and nothing else.
    pub const fn plain(curve: Curve) -> Self {
        Self {
            curve,
            before: Before::Nothing,
        }
    }

    /// Linear RGB of the gamut, 1 being the picture's white, to signal; not limited.
    #[inline(always)]
    pub fn encode<L: Lane>(&self, light: Rgb<L>) -> Rgb<L> {
        self.coded(match &self.before {
            Before::Nothing => light,
            Before::Container(container) => container.to.apply(light),
            Before::Scale([to, _]) => light.map(
                #[inline(always)]
                |x| x * *to,
            ),
            Before::Hlg(ootf) => ootf.undo(light),
        })
    }

    /// Signal to linear RGB of the gamut.
    #[inline(always)]
    pub fn decode<L: Lane>(&self, signal: Rgb<L>) -> Rgb<L> {
        let light = signal.map(
            #[inline(always)]
            |v| self.curve.decode(v),
        );
        match &self.before {
            Before::Nothing => light,
            Before::Container(container) => container.from.apply(light),
            Before::Scale([_, from]) => light.map(
                #[inline(always)]
                |x| x * *from,
            ),
            Before::Hlg(ootf) => ootf.apply(light),
        }
    }

    /// The signal of the same light on a screen whose codes are the gamut's own: there greys are equal
    /// codes. The signal itself where no container is.
    #[inline(always)]
    pub fn uncontained<L: Lane>(&self, signal: Rgb<L>) -> Rgb<L> {
        match &self.before {
            Before::Container(_) => self.coded(self.decode(signal)),
            _ => signal,
        }
    }

    /// Whether the gamut's own light is sent, on nothing but a curve.
    pub fn is_plain(&self) -> bool {
        self.before == Before::Nothing
    }

    #[inline(always)]
    fn coded<L: Lane>(&self, light: Rgb<L>) -> Rgb<L> {
        light.map(
            #[inline(always)]
            |x| self.curve.encode(x),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// BT.2100-2: 1.2 at 1000 cd/m2; BT.2408-7 prints 1.33 at 2000 and 1.03 at 400 (rounded).
    #[test]
    fn the_system_gamma_is_the_printed_one() {
        for (peak, printed) in [(400.0, 1.03), (1000.0, 1.2), (2000.0, 1.33)] {
            assert!((system_gamma(peak) - printed).abs() < 0.005, "{peak}");
        }
    }
}
