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

use crate::spatial::Lobe;
use crate::spatial::lobe::{Fineness, cosine_fourth_absorbed};

/// A film base.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Base {
    /// Thickness in micrometres: camera acetate about 127 to 142, polyester about 119.
    pub thickness_um: f64,
    /// Refractive index: triacetate about 1.48, polyester 1.58 to 1.64.
    pub index: f64,
    /// Density of base and backing, which the light crosses twice.
    pub back_density: f64,
}

impl Base {
    /// Camera acetate, 5 mil, with a grey base.
    pub const ACETATE: Self = Self {
        thickness_um: 127.0,
        index: 1.48,
        back_density: 0.3,
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
        let tan = r_um / (2.0 * self.thickness_um);
        let cos = 1.0 / (1.0 + tan * tan).sqrt();
        reflectance(self.index, cos) * self.returned(cos)
    }

    /// What returns in the direction of that cosine, all reflected.
    fn returned(&self, cos: f64) -> f64 {
        let square = cos * cos;
        square * square * libm::exp10(-2.0 * self.back_density / cos)
    }

    /// The kernel and the share of the light that it returns.
    pub(super) fn kernel(&self) -> RingKernel {
        let whole = |reflected: &dyn Fn(f64) -> f64, density: f64| {
            // r dr cos^4 = (2 t)^2 sin cos d(theta); midpoints over theta.
            const STEPS: usize = 4000;
            let step = core::f64::consts::FRAC_PI_2 / STEPS as f64;
            (0..STEPS)
                .map(|i| (i as f64 + 0.5) * step)
                .map(|theta| (libm::sin(theta), libm::cos(theta)))
                .map(|(sin, cos)| {
                    sin * cos * reflected(cos) * libm::exp10(-2.0 * density / cos) * step
                })
                .sum::<f64>()
        };
        let fresnel = |cos: f64| reflectance(self.index, cos);
        let ring = whole(&fresnel, self.back_density);
        let mirror = whole(&|_| 1.0, self.back_density);
        let lobes =
            cosine_fourth_absorbed(2.0 * self.thickness_um, self.back_density, Fineness::Fine)
                .into_iter()
                .map(|lobe| Lobe {
                    share: lobe.share * mirror / ring,
                    ..lobe
                })
                .collect();
        RingKernel {
            lobes_um: lobes,
            hole_share: 1.0 - mirror / ring,
            returned_share: ring / whole(&fresnel, 0.0),
        }
    }

    /// What is missing inside the ring where not all light is reflected.
    pub(super) fn missing(&self, r_um: f64) -> f64 {
        let tan = r_um / (2.0 * self.thickness_um);
        let cos = 1.0 / (1.0 + tan * tan).sqrt();
        (1.0 - reflectance(self.index, cos)) * self.returned(cos)
    }
}

/// The ring as a whole mirror's smooth kernel and the hole that is taken out of it.
pub(super) struct RingKernel {
    pub(super) lobes_um: Vec<Lobe>,
    /// Negative: lobes and hole sum to 1.
    pub(super) hole_share: f64,
    /// Light that comes back through the base, relative to a clear base.
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
