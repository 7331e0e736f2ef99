//! Dust: how much, where, and that it belongs to the film.

use super::*;
use crate::look::Gauge;

const PARAMS: DustParams = DustParams {
    rate_per_frame: 40.0,
    size_um: 60.0,
    hair_share: 0.2,
    softness_um: 4.0,
    seed: 5,
    frame: 0,
};

fn window(scale: f64) -> Window {
    Window {
        x0: 0,
        y0: 0,
        full_width: 1200,
        full_height: 800,
        scale,
    }
}

/// Density that dust adds to a part of the frame.
fn dust(window: &Window, width: usize, height: usize, params: &DustParams) -> Planes {
    let mut planes = Planes::filled(width, height, 0.0);
    add_dust(
        &mut planes,
        window,
        &FilmScale::of(Gauge::Gauge16, window),
        params,
    );
    planes
}

#[test]
fn rates_follow_poissons_law() {
    for rate in [0.5, 12.0, 200.0] {
        let counts: Vec<f64> = (0..2000)
            .map(|frame| {
                f64::from(count(&DustParams {
                    rate_per_frame: rate,
                    frame,
                    ..PARAMS
                }))
            })
            .collect();
        let mean = counts.iter().sum::<f64>() / 2000.0;
        let variance = counts.iter().map(|c| (c - mean).powi(2)).sum::<f64>() / 2000.0;
        // Mean and variance are both the rate; four standard errors.
        assert!(
            (mean - rate).abs() < 4.0 * (rate / 2000.0).sqrt(),
            "{rate}: {mean}"
        );
        assert!((variance / rate - 1.0).abs() < 0.2, "{rate}: {variance}");
    }
    assert_eq!(
        count(&DustParams {
            rate_per_frame: 0.0,
            ..PARAMS
        }),
        0
    );
}

#[test]
fn dust_only_blocks_and_blocks_all_layers_alike() {
    let planes = dust(&window(1.0), 1200, 800, &PARAMS);
    assert!(planes.planes[0].iter().any(|&d| d > 0.2));
    assert!(planes.planes[0].iter().all(|&d| d >= 0.0 && d.is_finite()));
    assert_eq!(planes.planes[0], planes.planes[1]);
    assert_eq!(planes.planes[0], planes.planes[2]);
}

#[test]
fn another_frame_or_seed_has_its_dust_elsewhere() {
    let first = dust(&window(0.5), 600, 400, &PARAMS).planes[0].clone();
    assert_eq!(first, dust(&window(0.5), 600, 400, &PARAMS).planes[0]);
    for other in [
        DustParams { frame: 1, ..PARAMS },
        DustParams { seed: 6, ..PARAMS },
    ] {
        let second = &dust(&window(0.5), 600, 400, &other).planes[0];
        let covered = |plane: &[f32]| plane.iter().filter(|&&d| d > 0.05).count();
        let both = first
            .iter()
            .zip(second)
            .filter(|(a, b)| **a > 0.05 && **b > 0.05);
        let (both, alone) = (both.count(), covered(&first).min(covered(second)));
        assert!(alone > 200 && both * 10 < alone, "{both} of {alone}");
    }
}

#[test]
fn a_tile_is_the_whole_pictures_part_to_the_bit() {
    let whole = dust(&window(0.5), 600, 400, &PARAMS);
    for (x0, y0, width, height) in [(0, 0, 100, 100), (333, 71, 200, 129), (599, 399, 1, 1)] {
        let part = Window {
            x0: x0 as i32,
            y0: y0 as i32,
            ..window(0.5)
        };
        let tile = dust(&part, width, height, &PARAMS);
        for y in 0..height {
            assert_eq!(tile.row(1, y), &whole.row(1, y0 + y)[x0..x0 + width]);
        }
    }
}

#[test]
fn a_preview_and_a_soft_edge_block_as_much_light() {
    let blocked = |scale: f64, softness_um: f64| {
        let (width, height) = ((1200.0 * scale) as usize, (800.0 * scale) as usize);
        let params = DustParams {
            softness_um,
            ..PARAMS
        };
        let planes = dust(&window(scale), width, height, &params);
        let light = planes.planes[0]
            .iter()
            .map(|&d| 1.0 - libm::exp10(-f64::from(d)));
        light.sum::<f64>() / (width * height) as f64
    };
    let full = blocked(1.0, 4.0);
    for (scale, softness) in [(0.5, 4.0), (0.25, 4.0), (1.0, 0.0), (1.0, 20.0)] {
        let ratio = blocked(scale, softness) / full;
        assert!((ratio - 1.0).abs() < 0.15, "{scale} {softness}: {ratio}");
    }
}

#[test]
fn odd_settings_stay_finite() {
    for size_um in [0.0, 1e5] {
        for scale in [1e-3, 1.0] {
            let params = DustParams {
                size_um,
                rate_per_frame: 1e9,
                softness_um: -1.0,
                ..PARAMS
            };
            let planes = dust(&window(scale), 8, 5, &params);
            assert!(planes.planes.iter().flatten().all(|d| d.is_finite()));
        }
    }
}
