//! Halation against optics, and the fast kernels against the exact ones.

use super::ring::reflectance;
use super::*;
use crate::look::Backing;
use crate::spatial::Plane;
use crate::spatial::direct::{Kernel, convolve};

const CLEAR: Base = Base {
    back_density: 0.0,
    ..Base::ACETATE
};

const SCALE: FilmScale = FilmScale {
    um_per_pixel: 24.0,
    first_pixel: (0, 0),
};

fn params(method: HalationMethod) -> HalationParams {
    HalationParams {
        method,
        strength: 1.0,
        onset_stops: 2.0,
        reach_um: 90.0,
        layers: Layers::three([1.0, 0.3, 0.05]),
        base: CLEAR,
    }
}

const METHODS: [HalationMethod; 3] = [
    HalationMethod::BaseRing,
    HalationMethod::RedScatter,
    HalationMethod::Veil,
];

#[test]
fn reflectance_is_fresnels_at_three_angles_and_total_beyond_the_critical_one() {
    // At right angles ((n - 1) / (n + 1))^2 = 0.03746098; the others are the mean of Fresnel's
    // two polarisations worked by hand for n = 1.48: sin i = 0.5 (30 degrees) gives
    // sin t = 0.74, cos t = 0.67261; sin i = 0.64 gives sin t = 0.9472, cos t = 0.32062.
    let cos = |sin: f64| (1.0 - sin * sin).sqrt();
    assert!((reflectance(1.48, 1.0) - 0.037_460_98).abs() < 1e-8);
    for sin in [0.5, 0.64] {
        let (i, t) = (libm::asin(sin), libm::asin(1.48 * sin));
        let (minus, plus) = (i - t, i + t);
        // Fresnel's sine and tangent laws, another form of the same.
        let s = libm::sin(minus) / libm::sin(plus);
        let p = libm::tan(minus) / libm::tan(plus);
        assert!((reflectance(1.48, cos(sin)) - (s * s + p * p) / 2.0).abs() < 1e-12);
    }
    let critical = libm::asin(1.0 / 1.48).to_degrees();
    assert!((critical - 42.506_642).abs() < 1e-6);
    assert_eq!(reflectance(1.48, cos(1.0 / 1.48 + 1e-9)), 1.0);
}

#[test]
fn the_ring_lies_at_the_radius_that_index_and_thickness_give() {
    assert!((Base::ACETATE.ring_um() - 232.8023).abs() < 1e-4);
    let polyester = Base {
        thickness_um: 119.0,
        index: 1.6357,
        back_density: 0.0,
        backing: Backing::None,
    };
    assert!((polyester.ring_um() - 183.8666).abs() < 1e-4);
    // R cos^4 for n 1.48 and 127 um.
    for (r, value) in [
        (0.0, 0.037_460_98),
        (100.0, 0.029_744_07),
        (200.0, 0.048_643_50),
        (233.0, 0.294_893_7),
        (400.0, 0.082_573_42),
        (1000.0, 0.003_673_081),
    ] {
        assert!((CLEAR.profile(r) - value).abs() < 1e-6, "{r}");
    }
}

/// Share of the light of a point that comes back within `r_um`, from the rendered picture.
fn within(method: HalationMethod, base: Base, um_per_pixel: f64, radii_um: &[f64]) -> Vec<f64> {
    let size = 400;
    let mut exposure = Planes::filled(size, size, 0.0);
    exposure.row_mut(0, size / 2)[size / 2] = 1e4;
    let scale = FilmScale {
        um_per_pixel,
        ..SCALE
    };
    let settings = HalationParams {
        base,
        onset_stops: -10.0,
        layers: Layers::three([1.0, 0.0, 0.0]),
        ..params(method)
    };
    added_light(&mut exposure, &scale, &settings);
    let sum = |limit: f64| {
        let mut sum = 0.0;
        for y in 0..size {
            for x in 0..size {
                let (dx, dy) = (x as f64 - 200.0, y as f64 - 200.0);
                if (dx * dx + dy * dy).sqrt() * um_per_pixel <= limit {
                    sum += f64::from(exposure.row(0, y)[x]);
                }
            }
        }
        sum
    };
    radii_um.iter().map(|&r| sum(r) / 1e4).collect()
}

#[test]
fn the_fast_ring_holds_the_light_that_the_integral_puts_within_each_radius() {
    // Encircled share of R cos^4, n 1.48, 127 um, by numerical integration.
    let radii = [100.0, 200.0, 300.0, 400.0, 500.0, 800.0];
    let shares = [
        0.008_758, 0.034_897, 0.285_061, 0.507_966, 0.648_763, 0.843_198,
    ];
    for um_per_pixel in [10.0, 16.0] {
        let found = within(HalationMethod::BaseRing, CLEAR, um_per_pixel, &radii);
        for ((r, share), found) in radii.iter().zip(shares).zip(&found) {
            assert!(
                (found - share).abs() < 0.02,
                "{um_per_pixel} um, {r}: {found} {share}"
            );
        }
        // The hole is dark: a third of what an even disc out to 300 um would hold there.
        assert!(found[1] < 0.06);
    }
}

#[test]
fn the_ring_follows_optics_at_every_radius_but_5_um_around_its_edge() {
    // A point, at several places of the pyramid's cells; R cos^4 10^(-2 D / cos), mean over pixels.
    for (um_per_pixel, base) in [
        (6.08, CLEAR),
        (6.08, Base::ACETATE),
        (12.2, CLEAR),
        (8.1, CLEAR),
        (4.0, CLEAR),
        (3.06, CLEAR),
        (5.0, CLEAR),
        (7.0, CLEAR),
        (14.0, CLEAR),
    ] {
        let scale = FilmScale {
            um_per_pixel,
            ..SCALE
        };
        let settings = HalationParams {
            base,
            onset_stops: -10.0,
            layers: Layers::three([1.0, 0.0, 0.0]),
            ..params(HalationMethod::BaseRing)
        };
        let size = 2 * (1500.0 / um_per_pixel) as usize;
        let ring = base.ring_um();
        // Rings as wide as a pixel, and 5 um at least.
        let width = um_per_pixel.max(5.0);
        let mut sums: Vec<[f64; 2]> = vec![[0.0; 2]; (600.0 / width) as usize];
        for phase in 0..3 {
            let middle = size / 2 + phase;
            let mut exposure = Planes::filled(size, size, 0.0);
            exposure.row_mut(0, middle)[middle] = 1e4;
            added_light(&mut exposure, &scale, &settings);
            for (i, found) in exposure.planes[0].iter().enumerate() {
                let off = |at: usize| (at as f64 - middle as f64) * um_per_pixel;
                let (x, y) = (off(i % size), off(i / size));
                let r = (x * x + y * y).sqrt();
                let Some(sum) = sums.get_mut((r / width) as usize) else {
                    continue;
                };
                let truth: f64 = (0..64)
                    .map(|place| {
                        let part = |i: usize| ((i as f64 + 0.5) / 8.0 - 0.5) * um_per_pixel;
                        let (x, y) = (x + part(place % 8), y + part(place / 8));
                        base.profile((x * x + y * y).sqrt()) / 64.0
                    })
                    .sum();
                sum[0] += f64::from(*found);
                sum[1] += truth;
            }
        }
        // The profile's own scale: all of the light that comes back.
        let t2 = 2.0 * base.thickness_um;
        let whole = core::f64::consts::PI * t2 * t2 * base.returned_share();
        let share = base.returned_share() / CLEAR.returned_share();
        let unit = 1e4 * share * um_per_pixel * um_per_pixel / whole;
        for (i, [found, truth]) in sums.iter().enumerate() {
            let (from, to) = (i as f64 * width, (i + 1) as f64 * width);
            let ratio = found / (truth * unit);
            let off = (ratio - 1.0).abs();
            let found = format!("{um_per_pixel} um, {from:.0} to {to:.0}: {ratio}");
            if from > ring + 5.0 || to < ring - 5.0 {
                assert!(off < 0.05, "{found}");
            }
        }
    }
}

#[test]
fn a_dyed_back_dims_the_light_as_two_passes_do() {
    // At least 10^(-2 D) of it is left at right angles, less where it goes through at an angle.
    let dyed = within(HalationMethod::BaseRing, Base::ACETATE, 24.0, &[1e9])[0];
    let clear = within(HalationMethod::BaseRing, CLEAR, 24.0, &[1e9])[0];
    let left = dyed / clear;
    assert!(left < 0.251_188_643 && left > 0.06, "{left}");
}

#[test]
fn kernels_return_all_light_and_no_more() {
    for method in METHODS {
        let whole = within(method, CLEAR, 24.0, &[1e9])[0];
        assert!((whole - 1.0).abs() < 2e-3, "{method:?}: {whole}");
    }
}

#[test]
fn fast_kernels_follow_the_exact_ones() {
    let size = 120;
    let mut lamp = Plane::filled(size, size, 0.0);
    for i in 0..81 {
        lamp.row_mut(56 + i / 9)[56 + i % 9] = 1000.0;
    }
    for method in METHODS {
        let settings = HalationParams {
            onset_stops: -10.0,
            ..params(method)
        };
        let profile = |r_px: f64| {
            let r = r_px * SCALE.um_per_pixel;
            match method {
                HalationMethod::BaseRing => CLEAR.profile(r),
                HalationMethod::RedScatter => libm::exp(-r / 90.0),
                HalationMethod::Veil => libm::pow(1.0 + r * r / 2700.0, -1.5),
            }
        };
        let exact = convolve(&lamp, &Kernel::radial(55, 8, profile));
        let mut fast = Planes::filled(size, size, 0.0);
        fast.planes[0].clone_from(&lamp.data);
        added_light(&mut fast, &SCALE, &settings);
        // The exact kernel ends at 55 pixels, so both are compared, and scaled, within 50.
        let near: Vec<usize> = (0..size * size)
            .filter(|i| (i % size).abs_diff(60) <= 50 && (i / size).abs_diff(60) <= 50)
            .collect();
        let total = |data: &[f32]| near.iter().map(|&i| f64::from(data[i])).sum::<f64>();
        let (all_exact, all_fast) = (total(&exact.data), total(&fast.planes[0]));
        let apart: f64 = near
            .iter()
            .map(|&i| {
                f64::from(exact.data[i]) / all_exact - f64::from(fast.planes[0][i]) / all_fast
            })
            .map(f64::abs)
            .sum();
        let bound = if method == HalationMethod::RedScatter {
            0.01
        } else {
            0.05
        };
        assert!(apart < bound, "{method:?}: {apart}");
    }
}

#[test]
fn the_onset_is_smooth_and_monotone_and_spares_what_lies_below() {
    let source = Onset::new(&params(HalationMethod::RedScatter));
    // Onset two stops above mid-grey: 0.72, the knee from 0.36 to 1.44.
    assert_eq!(source.of(0.36_f32), 0.0);
    assert!((source.of(5.0_f32) - (5.0 - 0.9)).abs() < 1e-6);
    let step = 1e-3_f32;
    let mut slope_before = 0.0;
    for i in 0..4000 {
        let e = i as f32 * step;
        let slope = (source.of(e + step) - source.of(e)) / step;
        assert!(slope >= -1e-3 && slope - slope_before < 5e-3, "{e}");
        slope_before = slope;
    }
}

#[test]
fn red_gets_more_than_green_and_green_more_than_blue() {
    for method in METHODS {
        let mut exposure = Planes::filled(60, 60, 0.001);
        for c in 0..3 {
            exposure.row_mut(c, 30)[30] = 500.0;
        }
        added_light(&mut exposure, &SCALE, &params(method));
        let at = |c: usize| exposure.row(c, 30)[30 + 12];
        assert!(at(0) > at(1) && at(1) > at(2), "{method:?}");
    }
}

#[test]
fn the_veil_leaves_even_fields_alone_and_strength_zero_everything() {
    let grey = Planes::filled(40, 30, 0.7);
    let mut veiled = grey.clone();
    halate(&mut veiled, &SCALE, &params(HalationMethod::Veil));
    for (a, b) in veiled
        .planes
        .iter()
        .flatten()
        .zip(grey.planes.iter().flatten())
    {
        assert!((a - b).abs() < 1e-5);
    }
    for method in METHODS {
        let mut off = grey.clone();
        halate(
            &mut off,
            &SCALE,
            &HalationParams {
                strength: 0.0,
                ..params(method)
            },
        );
        assert_eq!(off, grey);
    }
}

#[test]
fn a_smaller_gauge_has_the_larger_ring() {
    // Radius of the brightest circle around a point, in pixels, times um per pixel.
    let ring_um = |um_per_pixel: f64| {
        let mut exposure = Planes::filled(300, 300, 0.0);
        exposure.row_mut(0, 150)[150] = 1e4;
        let scale = FilmScale {
            um_per_pixel,
            ..SCALE
        };
        halate(&mut exposure, &scale, &params(HalationMethod::BaseRing));
        let row = &exposure.row(0, 150)[152..];
        let brightest = (0..row.len())
            .max_by(|&a, &b| row[a].total_cmp(&row[b]))
            .unwrap();
        (brightest + 2) as f64 * um_per_pixel
    };
    for um_per_pixel in [4.0, 6.5, 12.0] {
        let found = ring_um(um_per_pixel);
        assert!((found - 250.0).abs() < 30.0, "{um_per_pixel}: {found}");
    }
}

#[test]
fn a_strip_with_its_margin_agrees_with_the_whole_picture() {
    let (width, height) = (160, 500);
    let mut lamps = Planes::filled(width, height, 0.05);
    for c in 0..3 {
        for (x, y) in [(40, 240), (90, 262), (120, 300), (60, 140)] {
            lamps.row_mut(c, y)[x] = 400.0;
        }
    }
    let settings = HalationParams {
        reach_um: 60.0,
        ..params(HalationMethod::RedScatter)
    };
    let margin = SCALE.px(reach_um(&settings)) as usize + 16;
    let (from, to) = (231, 290);
    let (first, rows) = (from - margin, to - from + 2 * margin);
    let mut strip = Planes::filled(width, rows, 0.0);
    for c in 0..3 {
        strip.planes[c].copy_from_slice(&lamps.planes[c][first * width..][..rows * width]);
    }
    added_light(&mut lamps, &SCALE, &settings);
    added_light(&mut strip, &SCALE, &settings);
    let brightest = lamps.planes[0].iter().fold(0.0_f32, |a, &b| a.max(b));
    for y in from..to {
        for (a, b) in lamps.row(0, y).iter().zip(strip.row(0, y - first)) {
            // The pyramid's cells begin elsewhere.
            assert!((a - b).abs() < 0.01 * brightest, "{y}: {a} {b}");
        }
    }
}

#[test]
fn odd_input_gives_finite_exposure() {
    for method in METHODS {
        for (width, height) in [(1, 1), (3, 2), (50, 1)] {
            for reach_um in [0.0, 50.0, 1e9] {
                let mut exposure = Planes::filled(width, height, 1.0);
                exposure.planes[0][0] = f32::NAN;
                exposure.planes[1][0] = f32::INFINITY;
                exposure.planes[2][0] = -5.0;
                halate(
                    &mut exposure,
                    &SCALE,
                    &HalationParams {
                        reach_um,
                        ..params(method)
                    },
                );
                let good = |v: &f32| v.is_finite() && *v >= 0.0;
                assert!(exposure.planes.iter().flatten().all(good));
            }
        }
    }
}
