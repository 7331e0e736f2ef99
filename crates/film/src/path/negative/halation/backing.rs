//! What lies behind the base, and how much of the light it sends back.
//!
//! | backing | mirror at the back | density between emulsion and mirror | number |
//! | --- | --- | --- | --- |
//! | none | base against air: Fresnel, all beyond the critical angle | the base's own | *standard* |
//! | undercoat | the same | and that of a grey layer under the emulsion | *chosen* |
//! | black | carbon in optical contact: no critical angle, so no ring; a little scattered back | the base's own | *chosen* |
//!
//! That cine stocks carry a removable black backing and others an absorbing undercoat is from the
//! trade's handbooks; how much those let back is nowhere published and *chosen*.

use super::ring::{Base, reflectance};
use crate::look::Backing;

/// Share of light that carbon black in a binder scatters back. *Chosen*: seen from air such coats
/// reflect a few parts in a hundred, of which most is the surface's that optical contact takes away.
const BLACK_SCATTERS: f64 = 0.003;
/// Density of an anti-halation undercoat. *Chosen*, so that about a sixth comes back.
const UNDERCOAT_DENSITY: f64 = 0.3;

impl Base {
    /// Share of the light at the back of the base that is sent back, in the direction of that
    /// cosine.
    #[must_use]
    pub fn reflected(&self, cos: f64) -> f64 {
        match self.backing {
            Backing::Black => BLACK_SCATTERS,
            Backing::Undercoat | Backing::None => reflectance(self.index, cos),
        }
    }

    /// Density that the light crosses twice on its way.
    #[must_use]
    pub fn density(&self) -> f64 {
        match self.backing {
            Backing::Undercoat => self.back_density + UNDERCOAT_DENSITY,
            Backing::Black | Backing::None => self.back_density,
        }
    }

    /// Whether the light is totally reflected beyond an angle, and so makes a ring.
    #[must_use]
    pub fn makes_a_ring(&self) -> bool {
        self.backing != Backing::Black
    }

    /// The share of diffuse light that comes back to the emulsion.
    #[must_use]
    pub fn returned_share(&self) -> f64 {
        self.diffuse(0.0)
    }

    /// What of it returns beyond the radius `r_um`.
    pub(super) fn returned_beyond(&self, r_um: f64) -> f64 {
        self.diffuse(libm::atan(r_um / (2.0 * self.thickness_um)))
    }

    /// Diffuse light by direction, `2 sin cos d(theta)` from an angle on, that is sent back and crosses
    /// the base twice. Midpoints over theta.
    fn diffuse(&self, from: f64) -> f64 {
        const STEPS: usize = 4000;
        let step = (core::f64::consts::FRAC_PI_2 - from) / STEPS as f64;
        let density = self.density();
        (0..STEPS)
            .map(|i| from + (i as f64 + 0.5) * step)
            .map(|theta| (libm::sin(theta), libm::cos(theta)))
            .map(|(sin, cos)| {
                let crossed = libm::exp10(-2.0 * density / cos);
                2.0 * sin * cos * self.reflected(cos) * crossed * step
            })
            .sum()
    }

    /// The same base with nothing behind it.
    #[must_use]
    pub const fn unbacked(self) -> Self {
        Self {
            backing: Backing::None,
            ..self
        }
    }
}
