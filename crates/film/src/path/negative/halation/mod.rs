//! Halation: light that has exposed the film comes back and exposes it again, before development.
//!
//! Three ways, of different physics:
//!
//! - *base ring*: reflected at the back of the base, see [`ring`];
//! - *red scatter*: scattered back from just below the emulsion. Returning light meets the red
//!   layer first and spreads farthest there: `exp(-r / reach)`, with less reach in green and blue;
//! - *veil*: scattered in the emulsion at all levels, with a heavy tail, `(1 + r^2 / a^2)^(-3/2)`.
//!
//! All three begin at an onset. Ring and scatter are light that would otherwise have left through
//! the base: `strength * layer share` of what lies above the onset is added, spread. The veil only
//! moves light: `E + s (spread(S) - S)` with `S` what lies above the onset; so it leaves even fields
//! alone. Every kernel holds all of its light before that share is taken.
//!
//! How much comes back is the [`backing`]'s: `strength` is the share that a film with nothing behind
//! it sends back, and a backing leaves a part of that, the same part in all three ways.
//!
//! On film with one emulsion there are no layers to tell apart: halation has no colour.
//!
//! Onset, with a knee of one stop to either side of `T = 0.18 2^onset`: nothing below `T/2`, a
//! parabola up to `2 T`, then `E - 5/4 T`. C1, monotone.

mod backing;
mod node;
pub mod ring;

pub use node::node;

use crate::look::HalationMethod;
use crate::path::negative::gauge::FilmScale;
use crate::spatial::gaussian::{Fineness, exponential, inverse_third};
use crate::spatial::step::{SpreadStep, spread_whole};
use crate::spatial::{Core, Gaussian, Planes, Spread};
use lookwright_colour::lane::{Lane, widest};
use ring::{Base, HOLE_RADII};

/// Halation, ready for use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HalationParams {
    /// Which way the light takes.
    pub method: HalationMethod,
    /// Share of the light that comes back (ring, scatter) or is moved (veil), 0 to 1 and beyond, if
    /// nothing lies behind the film.
    pub strength: f64,
    /// Where it begins, in stops above mid-grey.
    pub onset_stops: f64,
    /// Scatter: radius in the red layer at which it has fallen to 1/e. Veil: radius that holds
    /// half of its light. The ring's radius is the base's.
    pub reach_um: f64,
    /// What each of the film's layers takes of it.
    pub layers: Layers,
    /// The base and its backing.
    pub base: Base,
}

/// What the layers, red, green, blue, take of the light that comes back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layers {
    /// Share of each.
    pub shares: [f64; 3],
    /// How far scattered light reaches in each, relative to the red one.
    pub reach: [f64; 3],
}

impl Layers {
    /// Three layers, the red one next to the base. Reach: *chosen*; the order red, green, blue
    /// follows from the order of the layers.
    #[must_use]
    pub const fn three(shares: [f64; 3]) -> Self {
        Self {
            shares,
            reach: [1.0, 0.72, 0.5],
        }
    }

    /// One emulsion, on whose three equal records all light falls alike. It lies next to the base,
    /// so its share is the red layer's.
    #[must_use]
    pub const fn one(shares: [f64; 3]) -> Self {
        Self {
            shares: [shares[0]; 3],
            reach: [1.0; 3],
        }
    }
}
/// Exposure beyond this, 22 stops above mid-grey, counts as this; less than 0 and not-a-number
/// count as 0.
pub const LARGEST_EXPOSURE: f32 = 1e6;

/// The nearest allowed exposure; not-a-number becomes 0.
#[inline(always)]
pub(super) fn finite_exposure<L: Lane>(exposure: L) -> L {
    exposure.clamp_to(0.0, LARGEST_EXPOSURE)
}

/// Adds halation to layer exposure in place (mid-grey 0.18). `exposure` is the whole picture.
/// Always finite and not negative.
pub fn halate(exposure: &mut Planes, scale: &FilmScale, params: &HalationParams) {
    let step = Returning::new(exposure.width, exposure.height, scale, params);
    spread_whole(&step, exposure);
}

/// Turns layer exposure into the light that halation adds to it.
#[cfg(test)]
fn added_light(exposure: &mut Planes, scale: &FilmScale, params: &HalationParams) {
    let step = Returning {
        kept: 0.0,
        ..Returning::new(exposure.width, exposure.height, scale, params)
    };
    spread_whole(&step, exposure);
}

/// The radius in um that holds all but about 1 % of the light that comes back.
const fn reach_um(params: &HalationParams) -> f64 {
    match params.method {
        HalationMethod::BaseRing => 12.0 * params.base.thickness_um,
        HalationMethod::RedScatter => 7.0 * params.reach_um,
        HalationMethod::Veil => 50.0 * params.reach_um,
    }
}

/// Halation of pictures of one size.
#[derive(Clone, Debug)]
pub struct Returning {
    source: Onset,
    kernels: [Option<Spread>; 3],
    shares: [f32; 3],
    /// Whether the light that comes back is missing where it came from.
    moves: bool,
    /// How much of what was there stays: all, or nothing where a test looks at the added light alone.
    kept: f32,
}

impl Returning {
    /// For a picture of `width` by `height` pixels.
    #[must_use]
    pub fn new(width: usize, height: usize, scale: &FilmScale, params: &HalationParams) -> Self {
        let moves = params.method == HalationMethod::Veil;
        let layers = [0, 1, 2].map(|layer| {
            let kernel = LayerKernel::new(params, layer);
            let asked = params.strength.max(0.0) * params.layers.shares[layer].max(0.0);
            let share = asked * kernel.returned_share;
            let share = if moves { share.min(1.0) } else { share };
            let spread = (share > 0.0).then(|| kernel.spread(width, height, scale));
            (spread, share as f32)
        });
        let shares = layers.each_ref().map(|(_, share)| *share);
        Self {
            source: Onset::new(params),
            kernels: layers.map(|(spread, _)| spread),
            shares,
            moves,
            kept: 1.0,
        }
    }
}

impl SpreadStep for Returning {
    fn kernel(&self, layer: usize) -> Option<&Spread> {
        self.kernels[layer].as_ref()
    }

    fn source(&self, layer: &[f32], light: &mut [f32]) {
        widest(
            #[inline(always)]
            || {
                for (s, e) in light.iter_mut().zip(layer) {
                    *s = self.source.of(*e);
                }
            },
        );
    }

    fn join(&self, row: [&mut [f32]; 3], spread: [&[f32]; 3]) {
        for (layer, (row, spread)) in row.into_iter().zip(spread).enumerate() {
            let (kept, share) = (self.kept, self.shares[layer]);
            let moved = if self.moves { kept * share } else { 0.0 };
            widest(
                #[inline(always)]
                || {
                    for (e, s) in row.iter_mut().zip(spread) {
                        let there = finite_exposure(*e) * kept - self.source.of(*e) * moved;
                        *e = Lane::max(there + s * share, 0.0);
                    }
                },
            );
        }
    }
}

/// The light that comes back, before it is spread.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Onset {
    low: f32,
    width: f32,
}

impl Onset {
    fn new(params: &HalationParams) -> Self {
        let onset = 0.18 * libm::exp2(params.onset_stops.clamp(-20.0, 20.0));
        Self {
            low: (onset / 2.0) as f32,
            width: (onset * 1.5) as f32,
        }
    }

    #[inline(always)]
    fn of<L: Lane>(&self, exposure: L) -> L {
        let above = finite_exposure(exposure) - self.low;
        let knee = above.clamp_to(0.0, self.width);
        let straight = above.max(above.of(self.width)) - self.width;
        knee * knee * (0.5 / self.width) + straight
    }
}

/// One layer's kernel on film.
struct LayerKernel {
    lobes_um: Vec<Gaussian>,
    hole: Option<(Base, f64)>,
    returned_share: f64,
}

impl LayerKernel {
    fn new(params: &HalationParams, layer: usize) -> Self {
        let smooth = |lobes_um| Self {
            lobes_um,
            hole: None,
            returned_share: params.base.returned_share() / params.base.unbacked().returned_share(),
        };
        let reach_um = params.reach_um * params.layers.reach[layer];
        match params.method {
            HalationMethod::BaseRing => {
                let kernel = params.base.kernel();
                Self {
                    lobes_um: kernel.lobes_um,
                    hole: kernel.hole_share.map(|share| (params.base, share)),
                    returned_share: kernel.returned_share,
                }
            }
            HalationMethod::RedScatter => smooth(exponential(reach_um, Fineness::Fine)),
            // Half of the light lies within a sqrt 3.
            HalationMethod::Veil => smooth(inverse_third(
                params.reach_um / 3.0_f64.sqrt(),
                Fineness::Octaves,
            )),
        }
    }

    fn spread(&self, width: usize, height: usize, scale: &FilmScale) -> Spread {
        let gaussians: Vec<Gaussian> = self
            .lobes_um
            .iter()
            .map(|gaussian| Gaussian {
                sigma: scale.px(gaussian.sigma),
                share: gaussian.share,
            })
            .collect();
        let Some((base, share)) = self.hole else {
            return Spread::new(width, height, &gaussians, None);
        };
        let whole_um2 = base.whole_um2();
        let missing =
            |r_px: f64| base.missing(r_px * scale.um_per_pixel, &self.lobes_um, whole_um2);
        let hole = Core {
            radius_px: scale.px(HOLE_RADII * base.ring_um()),
            edge_px: scale.px(base.ring_um()),
            share,
            profile: &missing,
        };
        Spread::new(width, height, &gaussians, Some(&hole))
    }
}

#[cfg(test)]
mod tests;
