//! A 1D table: three independent curves, linear between their samples.

use super::grid::check_domain;
use super::number::size_refused;
use lookwright_colour::error::{Error, Result};

/// Samples of the longest curve that is read or written.
pub const CURVE_SIZE_MAX: usize = 65_536;
/// Samples of the shortest curve.
pub(super) const CURVE_SIZE_MIN: usize = 2;

/// Three curves, each sampled at `samples.len()` equal steps of its channel's domain.
///
/// Input outside the domain is held at its edge; NaN is held at the lower edge. Samples are
/// finite.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve1 {
    domain_min: [f32; 3],
    domain_max: [f32; 3],
    samples: Vec<[f32; 3]>,
}

impl Curve1 {
    /// Curves from samples that are already there.
    ///
    /// # Errors
    /// If there are not 2 ... 65536 samples, a sample is not finite, or a channel of the domain is
    /// empty or not finite.
    pub fn from_samples(
        domain_min: [f32; 3],
        domain_max: [f32; 3],
        samples: Vec<[f32; 3]>,
    ) -> Result<Self> {
        if !(CURVE_SIZE_MIN..=CURVE_SIZE_MAX).contains(&samples.len()) {
            return Err(size_refused(
                "1D",
                samples.len(),
                CURVE_SIZE_MIN,
                CURVE_SIZE_MAX,
            ));
        }
        check_domain(domain_min, domain_max)?;
        if let Some(place) = samples
            .iter()
            .position(|s| s.iter().any(|v| !v.is_finite()))
        {
            return Err(Error::new(format!(
                "sample {place} is not a finite number: {:?}",
                samples[place]
            )));
        }
        Ok(Self {
            domain_min,
            domain_max,
            samples,
        })
    }

    /// One function for all channels, sampled at `size` equal steps of `domain_min ..= domain_max`.
    ///
    /// # Errors
    /// As [`Curve1::from_samples`].
    pub fn sample(
        size: usize,
        domain_min: f32,
        domain_max: f32,
        f: impl Fn(f64) -> f64,
    ) -> Result<Self> {
        let (low, high) = (f64::from(domain_min), f64::from(domain_max));
        let steps = size.saturating_sub(1) as f64;
        let samples = (0..size.min(CURVE_SIZE_MAX + 1))
            .map(|i| [f(low + i as f64 * (high - low) / steps) as f32; 3])
            .collect();
        Self::from_samples([domain_min; 3], [domain_max; 3], samples)
    }

    /// Input of the first sample.
    pub fn domain_min(&self) -> [f32; 3] {
        self.domain_min
    }

    /// Input of the last sample.
    pub fn domain_max(&self) -> [f32; 3] {
        self.domain_max
    }

    /// The samples, one triple a step.
    pub fn samples(&self) -> &[[f32; 3]] {
        &self.samples
    }

    /// Each channel through its own curve.
    #[must_use]
    pub fn apply(&self, input: [f32; 3]) -> [f32; 3] {
        let last = self.samples.len() - 1;
        core::array::from_fn(|channel| {
            let (low, high) = (self.domain_min[channel], self.domain_max[channel]);
            let value = input[channel];
            // Written so that NaN goes to the lower edge.
            let value = if value > low { value } else { low };
            let value = if value < high { value } else { high };
            let x = (value - low) / (high - low) * last as f32;
            let cell = (x as usize).min(last - 1);
            let d = x - cell as f32;
            self.samples[cell][channel] * (1.0 - d) + self.samples[cell + 1][channel] * d
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn samples_come_back_and_lines_run_between_them() {
        let curve = Curve1::sample(5, -1.0, 3.0, |x| x * x).unwrap();
        assert_eq!(curve.apply([-1.0, 0.0, 2.0]), [1.0, 0.0, 4.0]);
        assert_eq!(curve.apply([-0.5, 0.5, 2.5]), [0.5, 0.5, 6.5]);
        assert_eq!(curve.apply([-9.0, 9.0, f32::NAN]), [1.0, 9.0, 1.0]);
    }

    #[test]
    fn what_cannot_be_a_curve_is_refused() {
        assert_eq!(
            Curve1::sample(1, 0.0, 1.0, |x| x).unwrap_err().message(),
            "a 1D table of size 1 is not supported: sizes run from 2 to 65536"
        );
        assert!(Curve1::sample(3, 0.0, 1.0, |x| 1.0 / x).is_err());
    }
}
