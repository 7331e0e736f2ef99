//! How much a density's grain swings, how skewed, and how large its clouds are.

use super::clouds::Clouds;
use lookwright_colour::lane::Lane;

/// Density of the unexposed base's own grain.
pub(super) const FOG_DENSITY: f64 = 0.06;
/// How much coarser the fast sublayers are, per unit of density. *Chosen.*
pub(super) const COARSER_FIRST: f64 = 1.0;
/// Density at which RMS granularity is stated.
const RMS_DENSITY: f64 = 1.0;
/// The share of large clouds where nothing is developed but fog. *Chosen*: a third at density 1.
const LARGE_AT_FOG: f64 = 2.0 / 3.0;
/// The share of large clouds at density 1.
pub(super) const LARGE_AT_RMS: f64 = LARGE_AT_FOG / (1.0 + COARSER_FIRST * RMS_DENSITY);
/// Counts so small that they were more skewed than this are left at it.
const LARGEST_SKEW: f64 = 0.8;

/// How the variance of grain depends on density.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DensityLaw {
    fog: f32,
    saturation: f32,
    coarser_first: f32,
    scale: f32,
    largest: f32,
}

impl DensityLaw {
    /// `v(D) ~ d (1 - d / (d_max + fog)) / (1 + c D)`, `d = D + fog`, `v(1) = 1`. With no fog and
    /// `c = 0` it is the dot model's law alone.
    #[must_use]
    pub fn new(density_max: f64, fog: f64, coarser_first: f64) -> Self {
        // At 1.0, where v is 1, there must be something left.
        let saturation = 1.0 / (density_max.clamp(RMS_DENSITY + 0.1, 100.0) + fog);
        let d = RMS_DENSITY + fog;
        let at_one = d * (1.0 - d * saturation) / (1.0 + coarser_first * RMS_DENSITY);
        Self {
            fog: fog as f32,
            saturation: saturation as f32,
            coarser_first: coarser_first as f32,
            scale: (1.0 / at_one) as f32,
            largest: (1.0 / saturation - fog) as f32,
        }
    }

    /// Of a stock that reaches `density_max` above base.
    pub(super) fn of_stock(density_max: f64) -> Self {
        Self::new(density_max, FOG_DENSITY, COARSER_FIRST)
    }

    /// `v(D)`, at least 0.
    #[inline(always)]
    pub fn variance<L: Lane>(&self, density: L) -> L {
        self.dots(density).variance(self)
    }

    /// The share of large clouds, which falls with density.
    #[inline(always)]
    pub fn large_share<L: Lane>(&self, density: L) -> L {
        self.dots(density).fast * LARGE_AT_FOG as f32
    }

    #[inline(always)]
    fn dots<L: Lane>(&self, density: L) -> Dots<L> {
        let density = density.clamp_to(0.0, self.largest);
        let d = density + self.fog;
        let covered = d * self.saturation;
        Dots {
            covered,
            free: d * (-covered + 1.0),
            fast: density.of(1.0) / (density * self.coarser_first + 1.0),
        }
    }
}

/// Dots at a density.
struct Dots<L> {
    /// The share of the largest density that is there, `p`.
    covered: L,
    /// `d (1 - p)`: what a binomial count's variance is proportional to.
    free: L,
    /// How much of it the fast sublayers made.
    fast: L,
}

impl<L: Lane> Dots<L> {
    #[inline(always)]
    fn variance(&self, law: &DensityLaw) -> L {
        let variance = self.free * law.scale * self.fast;
        variance.max(variance.of(0.0))
    }
}

/// One layer's grain as pixels of one size see it.
///
/// A density is a count of clouds, at most as many as make the largest density: a binomial count of
/// mean `d` and standard deviation `s` has the skewness `s (1 - 2 p) / (d (1 - p))`, with
/// `p = d / d_max`; at low density that is Poisson's `s / d = 1 / sqrt(count)`. Clouds as large as
/// pixels count a little more: for Gaussian ones seen at a point it is 4/3 of that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct LayerLaw {
    law: DensityLaw,
    rms: f32,
    /// The field's variance `v0 + v1 c + v2 c^2`, where `c` is the share of large clouds.
    seen: [f32; 3],
    large_gain: f32,
    skew: f32,
    /// One over the `d (1 - p)` below which skewness is held.
    skew_from: f32,
}

impl LayerLaw {
    pub(super) fn new(law: DensityLaw, rms_x1000: f64, clouds: &Clouds) -> Self {
        let rms = rms_x1000 / 1000.0;
        let scale = f64::from(law.scale);
        let [v0, v1, v2] = clouds.seen;
        let c = LARGE_AT_FOG;
        let per_dot = clouds.skew * clouds.skew * rms * rms * scale * (v0 + v1 * c + v2 * c * c);
        let fewest = per_dot / (LARGEST_SKEW * LARGEST_SKEW);
        Self {
            law,
            rms: rms as f32,
            seen: clouds.seen.map(|v| v as f32),
            large_gain: clouds.large_gain as f32,
            skew: (rms * rms * scale * clouds.skew / 6.0) as f32,
            skew_from: (1.0 / fewest.max(1e-6)) as f32,
        }
    }

    /// Grains a run of densities, from the fields of small and of large clouds.
    #[inline(always)]
    pub(super) fn grain_run(self, densities: &mut [f32], small: &[f32], large: &[f32]) {
        for ((density, small), large) in densities.iter_mut().zip(small).zip(large) {
            *density = self.grained(*density, *small, *large);
        }
    }

    /// Density with grain. With `x` of mean 0 and standard deviation `s` and the skewness `g`,
    /// `D + x + g / (6 s) (x^2 - s^2)` has them too (Cornish and Fisher 1938, first order).
    #[inline(always)]
    fn grained<L: Lane>(&self, density: L, small: L, large: L) -> L {
        // A comparison with not-a-number is false: it becomes 0.
        let density = L::select(density.le(density), density, density.of(0.0));
        let dots = self.law.dots(density);
        let share = dots.fast * LARGE_AT_FOG as f32;
        let noise = small + (large * self.large_gain - small) * share;
        let seen = (share * self.seen[2] + self.seen[1]) * share + self.seen[0];
        let held = (dots.free * self.skew_from).clamp_to(0.0, 1.0);
        let skew = dots.fast * (-(dots.covered * 2.0) + 1.0) * held * self.skew;
        density + dots.variance(&self.law).sqrt() * self.rms * noise + (noise * noise - seen) * skew
    }
}
