//! The clouds of dye: two sizes of them, each a Gaussian, and what a pixel sees of both.
//!
//! The clouds of the fast sublayers are twice as large as those of the slow ones (*chosen*), and the
//! fast ones develop first: so the mean size falls with density. At density 1, where granularity is
//! stated, both together correlate as far as the stock says.
//!
//! Small clouds are the field that [`super::field`] draws. Large ones are the same noise clumped by
//! a wider Gaussian: the field itself, spread along each axis by
//!
//! ```text
//! n'(x) = w n(x - d) + (1 - 2 w) n(x) + w n(x + d)
//! ```
//!
//! at a distance of `d` pixels, with `w` such that a pixel sees the very variance that large clouds
//! have. That is cheaper than to draw them by themselves, and as exact where it counts.

use super::aperture::{Seen, seen_variance};
use super::law::LARGE_AT_RMS;
use super::{GrainParams, RMS_APERTURE_RADIUS_UM};
use lookwright_colour::lane::widest;

/// Standard deviations of small and large clouds, in halves of the stated correlation length: at
/// density 1 they correlate by 1/e at that length.
const SMALL: f64 = 0.8625;
const LARGE: f64 = 2.0 * SMALL;
/// Most pixels that large clouds are spread over, to each side.
pub(super) const FARTHEST: usize = 16;
/// Largest weight that still leaves a bell.
const LARGEST_WEIGHT: f64 = 0.3;

/// One layer's clouds at one pixel size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Clouds {
    /// `d` and `w` of the spread from small clouds to large ones.
    pub(super) distance: usize,
    weight: f64,
    /// What large clouds have to be multiplied by, beside small ones, for unit granularity.
    pub(super) large_gain: f64,
    /// The variance that a pixel sees of `1 - c` small and `c` large clouds: `v0 + v1 c + v2 c^2`.
    pub(super) seen: [f64; 3],
    /// What a count's skewness is multiplied by, as a pixel sees it.
    pub(super) skew: f64,
}

/// Standard deviation of a layer's small clouds in um.
pub(super) fn small_sigma(params: &GrainParams, layer: usize) -> f64 {
    half_length(params, layer) * SMALL
}

/// Half the correlation length: the standard deviation of a Gaussian that correlates so far.
pub(super) fn half_length(params: &GrainParams, layer: usize) -> f64 {
    params.correlation_um[layer].clamp(0.0, 1000.0) / 2.0
}

/// What small and large clouds are multiplied by so that an aperture of 48 um sees as much of each,
/// and at density 1 a deviation of 1 of both together.
pub(super) fn gains(half_um: f64) -> [f64; 2] {
    let sigmas = [SMALL, LARGE].map(|times| times * half_um);
    // Two Gaussians together are one of the mean variance, twice.
    let seen = |a: f64, b: f64| {
        let sigma = ((a * a + b * b) / 2.0).sqrt();
        seen_variance(RMS_APERTURE_RADIUS_UM, sigma)
    };
    let alone = sigmas.map(|sigma| 1.0 / seen(sigma, sigma).sqrt());
    let (small, large) = (1.0 - LARGE_AT_RMS, LARGE_AT_RMS);
    let alike = alone[0] * alone[1] * seen(sigmas[0], sigmas[1]);
    let together = small * small + large * large + 2.0 * small * large * alike;
    alone.map(|gain| gain / together.sqrt())
}

impl Clouds {
    pub(super) fn new(params: &GrainParams, layer: usize, pixel_um: f64) -> Self {
        let half = half_length(params, layer);
        let (small, large) = (half * SMALL, half * LARGE);
        let seen = Seen::new(pixel_um, small);
        let (distance, weight) = spread(&seen, &Seen::new(pixel_um, large), pixel_um);
        let lags = [0, 1, 2].map(|k| seen.covariance((k * distance) as f64 * pixel_um));
        let (spread, shared) = (spread_variance(weight, lags), shared_variance(weight, lags));
        let [small_gain, both_gain] = gains(half);
        let large_gain = both_gain / small_gain;
        let unit = small_gain * small_gain;
        let own = unit * lags[0] * lags[0];
        let both = unit * large_gain * shared * shared;
        let wide = unit * large_gain * large_gain * spread * spread;
        Self {
            distance,
            weight,
            large_gain,
            seen: [own, 2.0 * (both - own), wide - 2.0 * both + own],
            skew: seen.skew(),
        }
    }

    /// A row of large clouds from rows of small ones: the row itself and those `distance` above and
    /// below, each with `distance` more pixels at both ends.
    pub(super) fn enlarge(&self, rows: [&[f32]; 3], down: &mut Vec<f32>, large: &mut [f32]) {
        let (side, middle) = (self.weight as f32, (1.0 - 2.0 * self.weight) as f32);
        let columns = large.len() + 2 * self.distance;
        down.resize(columns, 0.0);
        let [above, here, below] = rows.map(|row| &row[..columns]);
        let down = &mut down[..columns];
        widest(
            #[inline(always)]
            || {
                for (((sum, a), h), b) in down.iter_mut().zip(above).zip(here).zip(below) {
                    *sum = h * middle + (a + b) * side;
                }
                let left = down.iter();
                let middles = down[self.distance..].iter();
                let right = down[2 * self.distance..].iter();
                for (((out, l), m), r) in large.iter_mut().zip(left).zip(middles).zip(right) {
                    *out = m * middle + (l + r) * side;
                }
            },
        );
    }
}

/// The nearest distance, and the weight, at which pixels see the variance of large clouds.
fn spread(small: &Seen, large: &Seen, pixel_um: f64) -> (usize, f64) {
    let aim = large.covariance(0.0);
    let mut last = (1, 0.0);
    for distance in 1..=FARTHEST {
        let lags = [0, 1, 2].map(|k| small.covariance((k * distance) as f64 * pixel_um));
        let (mut low, mut high) = (0.0, LARGEST_WEIGHT);
        for _ in 0..30 {
            let middle = f64::midpoint(low, high);
            if spread_variance(middle, lags) > aim {
                low = middle;
            } else {
                high = middle;
            }
        }
        last = (distance, high);
        if high < LARGEST_WEIGHT * 0.999 {
            break;
        }
    }
    last
}

/// Variance of the spread field along one axis, from the field's covariances at 0, 1 and 2 times
/// the distance.
fn spread_variance(weight: f64, [at0, at1, at2]: [f64; 3]) -> f64 {
    let middle = 1.0 - 2.0 * weight;
    (middle * middle + 2.0 * weight * weight) * at0
        + 4.0 * middle * weight * at1
        + 2.0 * weight * weight * at2
}

/// Covariance of the spread field and the field itself along one axis.
fn shared_variance(weight: f64, [at0, at1, _]: [f64; 3]) -> f64 {
    (1.0 - 2.0 * weight) * at0 + 2.0 * weight * at1
}

/// The variance that pixels of `pixel_um` see of clouds of both sizes, drawn each by itself, with a
/// share `large` of large ones: the theory that the fields are held against.
#[cfg(test)]
pub(super) fn theory(correlation_um: f64, pixel_um: f64, large: f64) -> f64 {
    let half = correlation_um / 2.0;
    let sigmas = [half * SMALL, half * LARGE];
    let gains = gains(half);
    let weights = [(1.0 - large) * gains[0], large * gains[1]];
    let mut variance = 0.0;
    for (a, wa) in sigmas.into_iter().zip(weights) {
        for (b, wb) in sigmas.into_iter().zip(weights) {
            // Two Gaussians together are one of the mean variance, twice.
            let seen = Seen::new(pixel_um, ((a * a + b * b) / 2.0).sqrt());
            variance += wa * wb * seen.covariance(0.0).powi(2);
        }
    }
    variance
}
