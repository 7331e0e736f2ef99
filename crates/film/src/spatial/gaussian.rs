//! Wide kernels as mixtures of Gaussians, and Gaussians as taps.
//!
//! The kernels of film and glass have cusps and heavy tails, and each of them is an exact
//! continuous mixture of Gaussians of all widths. The mixture is summed here by the trapezoid
//! rule over the logarithm of the width, which converges very fast for such integrands.

/// One Gaussian of a mixture. Lengths are in the unit of whoever holds it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gaussian {
    /// Standard deviation along one axis.
    pub sigma: f64,
    /// Share of the light.
    pub share: f64,
}

/// How finely a mixture is sampled: the ratio of neighbouring variances.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fineness {
    /// Ratio 4, one Gaussian per octave: within about 1 % of the kernel.
    Octaves,
    /// Ratio 2 sqrt 2: within about 0.2 % of the kernel.
    Fine,
}

/// Shares below this are left out, and given to the others in proportion.
const SMALLEST_SHARE: f64 = 1e-3;

/// A mixture from its density: `share_at(v)` is proportional to the share of light per unit of
/// `ln v`, where `v = (sigma / unit)^2`.
fn mixture(unit: f64, fineness: Fineness, share_at: impl Fn(f64) -> f64) -> Vec<Gaussian> {
    let (step, count) = match fineness {
        Fineness::Octaves => (2.0, 8),
        Fineness::Fine => (1.5, 11),
    };
    let gaussians: Vec<Gaussian> = (-count..=count)
        .map(|k| libm::exp2(step * f64::from(k)))
        .map(|v| Gaussian {
            sigma: unit * v.sqrt(),
            share: share_at(v),
        })
        .collect();
    let total: f64 = gaussians.iter().map(|gaussian| gaussian.share).sum();
    normalised(
        gaussians
            .into_iter()
            .filter(|gaussian| gaussian.share >= SMALLEST_SHARE * total)
            .collect(),
    )
}

/// The same gaussians with shares that sum to 1.
fn normalised(mut gaussians: Vec<Gaussian>) -> Vec<Gaussian> {
    let total: f64 = gaussians.iter().map(|gaussian| gaussian.share).sum();
    for gaussian in &mut gaussians {
        gaussian.share /= total;
    }
    gaussians
}

/// `exp(-r / scale)`: the variance of its Gaussians, in units of `scale^2`, follows a chi-square
/// law with three degrees of freedom (from the Laplace transform of the Levy law).
#[must_use]
pub fn exponential(scale: f64, fineness: Fineness) -> Vec<Gaussian> {
    mixture(scale, fineness, |v| v.sqrt() * v * libm::exp(-v / 2.0))
}

/// `K0(r / scale)`, what diffuses from a point and is used up on its way, in the steady state: its
/// transfer is `1 / (1 + (2 pi scale f)^2)`, so the variance of its Gaussians, in units of
/// `scale^2`, follows `exp(-v / 2)`.
#[must_use]
pub fn diffused(scale: f64, fineness: Fineness) -> Vec<Gaussian> {
    mixture(scale, fineness, |v| v * libm::exp(-v / 2.0))
}

/// `(1 + r^2 / half^2)^-2`, which holds half of its light within the radius `half` and falls with
/// the fourth power: with `v = 1 / (2 s)` its Gaussians follow `exp(-s)`.
#[must_use]
pub fn inverse_fourth(half: f64, fineness: Fineness) -> Vec<Gaussian> {
    mixture(half, fineness, |v| {
        let s = 1.0 / (2.0 * v);
        s * libm::exp(-s)
    })
}

/// `(1 + r^2 / scale^2)^(-3/2)`, which holds half of its light within `scale * sqrt 3` and falls
/// with the third power: as [`inverse_fourth`], with `exp(-s) / sqrt s`.
#[must_use]
pub fn inverse_third(scale: f64, fineness: Fineness) -> Vec<Gaussian> {
    mixture(scale, fineness, |v| {
        let s = 1.0 / (2.0 * v);
        s.sqrt() * libm::exp(-s)
    })
}

/// `x^-2 10^(-2 density sqrt x)` with `x = 1 + r^2 / height^2`: light that falls off with the
/// fourth power of the cosine and crosses an absorbing sheet twice, `density` at right angles.
/// Its Gaussians follow `exp(-s)` times the inverse Laplace transform of `x^-2 exp(-b sqrt x)`,
/// `b = 2 density ln 10`, which is `(s + b^2/2) erfc(b / (2 sqrt s)) - b sqrt(s / pi)
/// exp(-b^2 / (4 s))` (Abramowitz and Stegun, 29.3).
#[must_use]
pub fn cosine_fourth_absorbed(height: f64, density: f64, fineness: Fineness) -> Vec<Gaussian> {
    let b = 2.0 * density * core::f64::consts::LN_10;
    mixture(height, fineness, |v| {
        let s = 1.0 / (2.0 * v);
        let reached = (s + b * b / 2.0) * libm::erfc(b / (2.0 * s.sqrt()))
            - b * (s / core::f64::consts::PI).sqrt() * libm::exp(-b * b / (4.0 * s));
        reached.max(0.0) * libm::exp(-s)
    })
}

/// Variance, in square pixels, below which a Gaussian is too narrow to be sampled.
pub(super) const NARROWEST_SAMPLED_PX2: f64 = 0.64;

/// Taps of a Gaussian from the middle outwards, for a variance in square pixels.
///
/// Cut where less than 1e-4 of the light is left outside, and at `most` taps; the sum over both
/// sides is 1, and the taps' own variance is the one asked for: below 0.64 square pixels, where
/// samples would miss it, the narrowest sampled Gaussian is mixed with the bare pixel. So nothing
/// jumps as a width goes to zero, where the taps do nothing.
#[must_use]
pub fn gaussian_taps(variance_px2: f64, most: usize) -> Vec<f64> {
    let sampled = variance_px2.max(NARROWEST_SAMPLED_PX2);
    let count = ((4.0 * sampled.sqrt()) as usize + 1).min(most);
    let mut taps: Vec<f64> = (0..count)
        .map(|k| libm::exp(-((k * k) as f64) / (2.0 * sampled)))
        .collect();
    let total = taps[0] + 2.0 * taps[1..].iter().sum::<f64>();
    let spread = (variance_px2 / sampled).max(0.0);
    for tap in &mut taps {
        *tap *= spread / total;
    }
    taps[0] += 1.0 - spread;
    taps
}

#[cfg(test)]
mod tests;
