//! Grain against granularity as it is measured, and the fast field against the exact one.

mod pattern;

use super::*;
use crate::look::Gauge;
use crate::spatial::Window;

const PARAMS: GrainParams = GrainParams {
    rms_x1000: [10.0, 10.0, 10.0],
    correlation_um: [7.0; 3],
    colour: 1.0,
    density_max: 2.1,
    seed: 11,
    frame: 0,
};

fn film(um_per_pixel: f64) -> FilmScale {
    FilmScale {
        um_per_pixel,
        first_pixel: (40, 90),
    }
}

fn grained(size: usize, density: f32, scale: &FilmScale, params: &GrainParams) -> Planes {
    let mut planes = Planes::filled(size, size, density);
    add_grain(&mut planes, scale, params);
    planes
}

/// Mean and standard deviation of what a circular aperture of `diameter_um` reads in places side
/// by side, over all three layers.
fn measured(planes: &Planes, um_per_pixel: f64, diameter_um: f64) -> (f64, f64, usize) {
    let pitch = diameter_um * 1.15;
    let places = (planes.width as f64 * um_per_pixel / pitch) as usize;
    let radius_px = diameter_um / 2.0 / um_per_pixel;
    let (mut sum, mut squares, mut count) = (0.0, 0.0, 0);
    for place in 0..places * places {
        let at = |i: usize| (i as f64 + 0.5) * pitch / um_per_pixel;
        let (cx, cy) = (at(place % places), at(place / places));
        let mut reading = [0.0_f64; 3];
        let mut pixels = 0.0;
        for y in (cy - radius_px) as usize..=(cy + radius_px) as usize {
            for x in (cx - radius_px) as usize..=(cx + radius_px) as usize {
                let (dx, dy) = (x as f64 + 0.5 - cx, y as f64 + 0.5 - cy);
                if dx * dx + dy * dy <= radius_px * radius_px {
                    pixels += 1.0;
                    for (layer, reading) in reading.iter_mut().enumerate() {
                        *reading += f64::from(planes.row(layer, y)[x]);
                    }
                }
            }
        }
        for reading in reading {
            sum += reading / pixels;
            squares += (reading / pixels) * (reading / pixels);
            count += 1;
        }
    }
    let mean = sum / count as f64;
    (mean, (squares / count as f64 - mean * mean).sqrt(), count)
}

#[test]
fn a_48_um_aperture_measures_the_stocks_rms_at_any_resolution_and_gauge() {
    // ISO 10505: standard deviation of density at net density 1.0, aperture 48 um, times 1000.
    for gauge in [Gauge::Super35, Gauge::Gauge16] {
        for columns in [2048, 3072, 4096] {
            let window = Window::whole(columns, columns / 2);
            let scale = FilmScale::of(gauge, &window);
            let size = (4400.0 / scale.um_per_pixel) as usize;
            let planes = grained(size, 1.0, &scale, &PARAMS);
            let (mean, deviation, count) = measured(&planes, scale.um_per_pixel, 48.0);
            // Three standard errors of a deviation over 18000 readings are 1.6 %.
            assert!(count > 18_000);
            let rms = deviation * 1000.0;
            assert!(
                (rms / 10.0 - 1.0).abs() < 0.025,
                "{gauge:?} {columns}: {rms}"
            );
            assert!((mean - 1.0).abs() < 5e-4, "{mean}");
        }
    }
}

#[test]
fn selwyns_law_holds_from_24_to_192_um() {
    // Selwyn 1935: deviation times the root of the area is constant, for grain that is fine
    // against the aperture.
    let fine = GrainParams {
        correlation_um: [1.5; 3],
        ..PARAMS
    };
    let law = 0.010 * 24.0 * core::f64::consts::PI.sqrt();
    for (diameter, um_per_pixel) in [(24.0, 1.5), (48.0, 3.0), (96.0, 6.0), (192.0, 8.0)] {
        let size = (diameter * 1.15 * 32.5 / um_per_pixel) as usize;
        let planes = grained(size, 1.0, &film(um_per_pixel), &fine);
        let (_, deviation, _) = measured(&planes, um_per_pixel, diameter);
        let constant = deviation * diameter / 2.0 * core::f64::consts::PI.sqrt();
        assert!(
            (constant / law - 1.0).abs() < 0.05,
            "{diameter}: {}",
            constant / law
        );
    }
}

#[test]
fn variance_over_density_follows_the_dot_model() {
    // Newson, Delon, Galerne 2017: discs of area a that cover a share u; far apertures see
    // u(1-u)-like variance of coverage. In density, D = -log10(1 - u), sparse dots give
    // Siedentopf's 0.4343 a D / A: proportional to D, whatever the size.
    let dots = DensityLaw::new(2.1, 0.0, 0.0);
    let slope = dots.variance(0.02_f32) / 0.02;
    assert!((dots.variance(0.01_f32) / 0.01 / slope - 1.0).abs() < 0.01);
    // The design's law k D (1 - D / D_max), worked by hand for D_max 2.1: v(D) / v(1).
    for (d, v) in [
        (0.0, 0.0),
        (0.5, 0.727_273),
        (1.05, 1.002_273),
        (1.6, 0.727_273),
        (2.1, 0.0),
    ] {
        assert!((dots.variance(d as f32) - v as f32).abs() < 1e-5, "{d}");
    }
}

/// Mean, standard deviation and skewness of all values about `density`.
fn moments(planes: &Planes, density: f32) -> (f64, f64, f64) {
    let all = planes.planes.iter().flatten();
    let count = 3.0 * planes.pixels() as f64;
    let off = || all.clone().map(|&v| f64::from(v) - f64::from(density));
    let mean = off().sum::<f64>() / count;
    let power = |n: i32| off().map(|v| (v - mean).powi(n)).sum::<f64>() / count;
    let deviation = power(2).sqrt();
    (mean, deviation, power(3) / deviation.powi(3))
}

/// Sizes of clouds and pixels in um: from Super 35 at 2K to super 8 at 4K, and beyond.
const SIZES: [(f64, f64); 7] = [
    (4.0, 12.2),
    (6.5, 12.2),
    (6.5, 6.08),
    (9.0, 6.08),
    (7.5, 3.06),
    (6.0, 1.5),
    (11.0, 20.0),
];

#[test]
fn a_pixels_deviation_is_that_of_the_clouds_at_every_size_and_density() {
    // Clouds of both sizes, each drawn by itself, seen by square pixels: closed form.
    let law = DensityLaw::of_stock(PARAMS.density_max);
    for (correlation_um, um_per_pixel) in SIZES {
        let params = GrainParams {
            rms_x1000: [6.0; 3],
            correlation_um: [correlation_um; 3],
            ..PARAMS
        };
        for density in [0.0_f32, 0.1, 0.3, 0.76, 1.0, 1.5, 1.9] {
            let planes = grained(400, density, &film(um_per_pixel), &params);
            let (mean, deviation, _) = moments(&planes, density);
            let seen = clouds::theory(
                correlation_um,
                um_per_pixel,
                f64::from(law.large_share(density)),
            );
            let truth = 0.006 * (f64::from(law.variance(density)) * seen).sqrt();
            let ratio = deviation / truth;
            assert!(
                (ratio - 1.0).abs() < 0.02,
                "{correlation_um} um in {um_per_pixel} um at {density}: {ratio}"
            );
            assert!(mean.abs() < 0.03 * deviation, "{mean} of {deviation}");
        }
    }
}

#[test]
fn few_clouds_are_skewed_as_counts_are() {
    // A binomial count of mean d and deviation s, at most d_max: s (1 - 2 p) / (d (1 - p)).
    for (correlation_um, um_per_pixel) in [(6.5, 12.2), (6.5, 6.08), (9.0, 6.08)] {
        let params = GrainParams {
            rms_x1000: [9.0; 3],
            correlation_um: [correlation_um; 3],
            ..PARAMS
        };
        let shape = aperture::Seen::new(um_per_pixel, correlation_um / 2.0).skew();
        for density in [0.0_f32, 0.1, 0.3, 0.76, 1.3] {
            let planes = grained(400, density, &film(um_per_pixel), &params);
            let (_, deviation, skewness) = moments(&planes, density);
            let d = f64::from(density) + law::FOG_DENSITY;
            let p = d / (PARAMS.density_max + law::FOG_DENSITY);
            let truth = shape * deviation * (1.0 - 2.0 * p) / (d * (1.0 - p));
            assert!(
                (skewness - truth).abs() < 0.03 + 0.05 * truth.abs(),
                "{um_per_pixel} um at {density}: {skewness} for {truth}"
            );
        }
    }
}

/// The distance in um at which the autocorrelation of grain on an even density falls to 1/e.
fn correlation_length(density: f32, params: &GrainParams) -> f64 {
    let (size, um) = (500, 1.0);
    let planes = grained(size, density, &film(um), params);
    let at = |lag: usize| -> f64 {
        let mut sum = 0.0;
        for layer in 0..3 {
            for y in 0..size {
                let row = planes.row(layer, y);
                let pairs = row[..size - lag].iter().zip(&row[lag..]);
                sum += pairs
                    .map(|(a, b)| f64::from(a - density) * f64::from(b - density))
                    .sum::<f64>();
            }
        }
        sum / (size - lag) as f64
    };
    let whole = at(0);
    let share = |lag: usize| at(lag) / whole;
    let aim = 1.0 / core::f64::consts::E;
    let lag = (1..60).find(|&lag| share(lag) < aim).unwrap();
    let (before, after) = (share(lag - 1), share(lag));
    (lag as f64 - 1.0 + (before - aim) / (before - after)) * um
}

#[test]
fn clouds_are_larger_where_little_is_developed_and_as_stated_at_density_1() {
    let lengths = [0.1, 1.0, 2.0].map(|density| correlation_length(density, &PARAMS));
    assert!((lengths[1] / 7.0 - 1.0).abs() < 0.05, "{lengths:?}");
    assert!(lengths[0] > lengths[1] * 1.1, "{lengths:?}");
    assert!(lengths[2] < lengths[1] * 0.97, "{lengths:?}");
}

#[test]
fn the_boolean_model_peaks_where_the_paper_says_and_the_law_is_its_sparse_limit() {
    // S0(u) = integral over h of (1-u)^2 (exp(lambda gamma(h)) - 1), discs of radius 1: the
    // paper's covariance. Its largest value is 0.656788 at u = 0.436.
    let s0 = |u: f64| {
        let lambda = -libm::log(1.0 - u) / core::f64::consts::PI;
        let steps = 2000;
        let step = 2.0 / f64::from(steps);
        (0..steps)
            .map(|i| (f64::from(i) + 0.5) * step)
            .map(|h| {
                let gamma = 2.0 * libm::acos(h / 2.0) - h / 2.0 * (4.0 - h * h).sqrt();
                let covariance = (1.0 - u) * (1.0 - u) * (libm::exp(lambda * gamma) - 1.0);
                2.0 * core::f64::consts::PI * h * covariance * step
            })
            .sum::<f64>()
    };
    assert!((s0(0.436) - 0.656_788).abs() < 1e-5);
    assert!(s0(0.42) < s0(0.436) && s0(0.45) < s0(0.436));
    // In density: variance = (log10(e) / (1 - u))^2 S0 / A. Sparse, that is a straight line with
    // the slope of Siedentopf's law, and so is ours.
    let law = DensityLaw::new(100.0, 0.0, 0.0);
    let density = |u: f64| -libm::log10(1.0 - u);
    let model = |u: f64| {
        let k = core::f64::consts::LOG10_E / (1.0 - u);
        k * k * s0(u)
    };
    let (u1, u2) = (0.01, 0.03);
    let truth = model(u2) / model(u1);
    let found = law.variance(density(u2) as f32) / law.variance(density(u1) as f32);
    assert!(
        (f64::from(found) / truth - 1.0).abs() < 0.03,
        "{found} {truth}"
    );
}

#[test]
fn the_spectrum_is_flat_below_the_correlation_frequency_and_falls_above() {
    // Power at (k, 0) of a square of 256 pixels, from its column sums, mean over squares.
    let (n, um) = (256_usize, 4.0);
    let mut power = vec![0.0_f64; 40];
    let seeds = 12;
    for seed in 0..seeds {
        let planes = grained(n, 1.0, &film(um), &GrainParams { seed, ..PARAMS });
        for plane in &planes.planes {
            let sums: Vec<f64> = (0..n)
                .map(|x| (0..n).map(|y| f64::from(plane[y * n + x]) - 1.0).sum())
                .collect();
            for (k, power) in power.iter_mut().enumerate() {
                let turn = 2.0 * core::f64::consts::PI * k as f64 / n as f64;
                let part = |f: fn(f64) -> f64| -> f64 {
                    sums.iter()
                        .enumerate()
                        .map(|(x, s)| s * f(turn * x as f64))
                        .sum()
                };
                *power += part(libm::cos).powi(2) + part(libm::sin).powi(2);
            }
        }
    }
    let band = |from: usize, to: usize| power[from..to].iter().sum::<f64>() / (to - from) as f64;
    // Correlation length 7 um: the clump passes exp(-(2 pi 3.5 f)^2), f = k / 1024 um.
    let low = band(1, 11);
    for (from, to) in [(11, 21), (30, 40)] {
        let passes = |k: usize| {
            let w = 2.0 * core::f64::consts::PI * 3.5 * k as f64 / 1024.0;
            libm::exp(-w * w)
        };
        let truth = (from..to).map(passes).sum::<f64>() / 10.0;
        let found = band(from, to) / low;
        // 360 exponential draws in each band: 5 % each.
        assert!((found / truth - 1.0).abs() < 0.2, "{from}: {found} {truth}");
    }
}

/// Correlation of two planes about their means.
fn correlation(a: &[f32], b: &[f32]) -> f64 {
    let mean = |p: &[f32]| p.iter().map(|&v| f64::from(v)).sum::<f64>() / p.len() as f64;
    let (ma, mb) = (mean(a), mean(b));
    let sum = |p: &[f32], mp: f64, q: &[f32], mq: f64| {
        let pairs = p.iter().zip(q);
        pairs
            .map(|(&x, &y)| (f64::from(x) - mp) * (f64::from(y) - mq))
            .sum::<f64>()
    };
    sum(a, ma, b, mb) / (sum(a, ma, a, ma) * sum(b, mb, b, mb)).sqrt()
}
