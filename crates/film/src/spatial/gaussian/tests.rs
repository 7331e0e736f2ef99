//! Mixtures against the closed forms of the kernels that they stand for.

use super::*;

/// Share of a mixture's light within the radius `r`.
fn within(gaussians: &[Gaussian], r: f64) -> f64 {
    gaussians
        .iter()
        .map(|l| l.share * (1.0 - libm::exp(-r * r / (2.0 * l.sigma * l.sigma))))
        .sum()
}

fn largest_error(gaussians: &[Gaussian], encircled: impl Fn(f64) -> f64) -> f64 {
    (1..400)
        .map(|i| f64::from(i) * 0.05)
        .map(|r| (within(gaussians, r) - encircled(r)).abs())
        .fold(0.0, f64::max)
}

#[test]
fn mixtures_hold_the_light_of_their_kernels_within_every_radius() {
    let exponential_within = |r: f64| 1.0 - (1.0 + r) * libm::exp(-r);
    let fourth_within = |r: f64| 1.0 - 1.0 / (1.0 + r * r);
    let third_within = |r: f64| 1.0 - 1.0 / (1.0 + r * r).sqrt();
    for (fineness, bound) in [(Fineness::Fine, 0.005), (Fineness::Octaves, 0.025)] {
        let errors = [
            largest_error(&exponential(1.0, fineness), exponential_within),
            largest_error(&inverse_fourth(1.0, fineness), fourth_within),
            largest_error(&inverse_third(1.0, fineness), third_within),
            largest_error(&cosine_fourth_absorbed(1.0, 0.0, fineness), fourth_within),
        ];
        assert!(
            errors.iter().all(|&e| e < bound),
            "{fineness:?}: {errors:?}"
        );
    }
}

#[test]
fn an_absorbing_sheet_dims_the_light_as_its_formula_says() {
    // Midpoint rule over the radius for x^-2 10^(-2 D sqrt x), out to where 1e-5 is left.
    let density = 0.3;
    let value = |r: f64| {
        let x = 1.0 + r * r;
        libm::exp10(-2.0 * density * x.sqrt()) / (x * x)
    };
    let ring = |from: f64, to: f64| {
        (0..4000)
            .map(|i| from + (to - from) * (f64::from(i) + 0.5) / 4000.0)
            .map(|r| r * value(r))
            .sum::<f64>()
            * (to - from)
            / 4000.0
    };
    let whole = ring(0.0, 30.0);
    let gaussians = cosine_fourth_absorbed(1.0, density, Fineness::Fine);
    for r in [0.3, 0.7, 1.0, 1.5, 3.0] {
        let error = within(&gaussians, r) - ring(0.0, r) / whole;
        assert!(error.abs() < 0.005, "radius {r}: {error}");
    }
}

#[test]
fn shares_sum_to_one() {
    for gaussians in [
        exponential(3.0, Fineness::Octaves),
        inverse_fourth(3.0, Fineness::Fine),
        inverse_third(3.0, Fineness::Fine),
        cosine_fourth_absorbed(3.0, 1.0, Fineness::Fine),
    ] {
        let total: f64 = gaussians.iter().map(|gaussian| gaussian.share).sum();
        assert!((total - 1.0).abs() < 1e-12);
    }
}

#[test]
fn taps_have_the_variance_that_was_asked_for() {
    for variance in [0.0, 1e-4, 0.05, 0.3, 1.0, 4.0, 8.5] {
        let taps = gaussian_taps(variance, 16);
        let sum: f64 = taps[0] + 2.0 * taps[1..].iter().sum::<f64>();
        let second: f64 = taps
            .iter()
            .enumerate()
            .map(|(k, t)| 2.0 * (k * k) as f64 * t)
            .sum();
        assert!((sum - 1.0).abs() < 1e-12);
        assert!(
            (second - variance).abs() <= 2e-3 * variance + 1.2e-4,
            "{variance}: {second}"
        );
        assert!(taps.iter().all(|&tap| tap >= 0.0));
    }
}
