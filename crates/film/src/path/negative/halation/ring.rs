//! The base ring: light that passed the emulsion is reflected at the back of the base and exposes
//! the emulsion from behind.
//!
//! With a base of thickness `t`, index `n` and density `d`, light that leaves a point of the
//! emulsion at the angle `theta` returns at `r = 2 t tan theta` with
//!
//! ```text
//! E(r) ~ R(theta) cos^4 theta 10^(-2 d / cos theta)
//! ```
//!
//! (Snell, Fresnel and the inverse square; 1931's trade press, International Projectionist and
//! Projection Engineering, describes the mechanism). Beyond the critical angle all of it returns,
//! so a dim disc ends in a bright ring at `r_c = 2 t tan theta_c = 2 t / sqrt(n^2 - 1)`.

use crate::look::Backing;
use crate::spatial::Gaussian;
use crate::spatial::gaussian::{Fineness, cosine_fourth_absorbed};

/// A film base.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Base {
    /// Thickness in micrometres: camera acetate about 127 to 142, polyester about 119.
    pub thickness_um: f64,
    /// Refractive index: triacetate about 1.48, polyester 1.58 to 1.64.
    pub index: f64,
    /// Density of the base, which the light crosses twice.
    pub back_density: f64,
    /// What lies behind it; see [`super::backing`].
    pub backing: Backing,
}

impl Base {
    /// Camera acetate, 5 mil, with a grey base and nothing behind it.
    pub const ACETATE: Self = Self {
        thickness_um: 127.0,
        index: 1.48,
        back_density: 0.3,
        backing: Backing::None,
    };

    /// Radius of the ring in micrometres.
    #[must_use]
    pub fn ring_um(&self) -> f64 {
        2.0 * self.thickness_um / (self.index * self.index - 1.0).sqrt()
    }

    /// Light that returns at the radius `r_um`, relative to total reflection at radius 0 through
    /// a clear base.
    #[must_use]
    pub fn profile(&self, r_um: f64) -> f64 {
        let cos = self.cosine(r_um);
        self.reflected(cos) * self.mirrored(cos)
    }

    /// Cosine of the angle at which light returns at the radius `r_um`.
    fn cosine(&self, r_um: f64) -> f64 {
        let tan = r_um / (2.0 * self.thickness_um);
        1.0 / (1.0 + tan * tan).sqrt()
    }

    /// What would return in the direction of that cosine from a mirror.
    fn mirrored(&self, cos: f64) -> f64 {
        let square = cos * cos;
        square * square * libm::exp10(-2.0 * self.density() / cos)
    }

    /// The kernel and the share of the light that it returns.
    pub(super) fn kernel(&self) -> RingKernel {
        let gaussians =
            cosine_fourth_absorbed(2.0 * self.thickness_um, self.density(), Fineness::Fine);
        let clear = Self {
            back_density: 0.0,
            ..self.unbacked()
        };
        let returned = self.returned_share();
        let returned_share = returned / clear.returned_share();
        if !self.makes_a_ring() {
            return RingKernel {
                lobes_um: gaussians,
                hole_share: None,
                returned_share,
            };
        }
        let hole_um = HOLE_RADII * self.ring_um();
        let outside = self.returned_beyond(hole_um) / returned;
        let beyond = |g: &Gaussian| libm::exp(-hole_um * hole_um / (2.0 * g.sigma * g.sigma));
        let all: f64 = gaussians.iter().map(|g| g.share * beyond(g)).sum();
        let gaussians: Vec<Gaussian> = gaussians
            .into_iter()
            .map(|gaussian| Gaussian {
                share: gaussian.share * outside / all,
                ..gaussian
            })
            .collect();
        let hole_share = 1.0 - gaussians.iter().map(|g| g.share).sum::<f64>();
        RingKernel {
            lobes_um: gaussians,
            hole_share: Some(hole_share),
            returned_share,
        }
    }

    /// The integral of [`Self::profile`] over the film, in square um.
    pub(super) fn whole_um2(&self) -> f64 {
        let t2 = 2.0 * self.thickness_um;
        core::f64::consts::PI * t2 * t2 * self.returned_share()
    }

    /// What is missing in the hole, per square um, from what some Gaussians give there: within the ring
    /// not all light is reflected, and beside it they are not exact. `whole_um2` is
    /// [`Self::whole_um2`].
    pub(super) fn missing(&self, r_um: f64, gaussians_um: &[Gaussian], whole_um2: f64) -> f64 {
        let there: f64 = gaussians_um
            .iter()
            .map(|gaussian| {
                let variance = gaussian.sigma * gaussian.sigma;
                let peak = gaussian.share / (2.0 * core::f64::consts::PI * variance);
                peak * libm::exp(-r_um * r_um / (2.0 * variance))
            })
            .sum();
        there - self.profile(r_um) / whole_um2
    }
}

/// Radius of the hole, in radii of the ring.
pub(super) const HOLE_RADII: f64 = 1.35;

/// The ring as Gaussians, which hold what lies beyond the hole, and a hole that is taken out of them.
pub(super) struct RingKernel {
    pub(super) lobes_um: Vec<Gaussian>,
    /// Negative: gaussians and hole sum to 1. None without a ring.
    pub(super) hole_share: Option<f64>,
    /// Light that comes back, relative to a clear base with nothing behind it.
    pub(super) returned_share: f64,
}

/// Fresnel's reflectance for unpolarised light inside a medium of `index` against air, at the
/// angle whose cosine is `cos`; 1 beyond the critical angle.
#[must_use]
pub fn reflectance(index: f64, cos: f64) -> f64 {
    let sin_out = index * (1.0 - cos * cos).max(0.0).sqrt();
    if sin_out >= 1.0 {
        return 1.0;
    }
    let cos_out = (1.0 - sin_out * sin_out).sqrt();
    let s = (index * cos - cos_out) / (index * cos + cos_out);
    let p = (cos - index * cos_out) / (cos + index * cos_out);
    (s * s + p * p) / 2.0
}
