//! The pattern itself: one per frame and seed, the same in tiles, previews and the fast field.

use super::*;

#[test]
fn frames_differ_and_one_seed_is_one_pattern() {
    let scale = film(6.0);
    let first = grained(200, 1.0, &scale, &PARAMS);
    assert_eq!(first, grained(200, 1.0, &scale, &PARAMS));
    for other in [
        GrainParams { frame: 1, ..PARAMS },
        GrainParams { seed: 12, ..PARAMS },
    ] {
        let second = grained(200, 1.0, &scale, &other);
        for layer in 0..3 {
            let c = correlation(&first.planes[layer], &second.planes[layer]);
            assert!(c.abs() < 0.03, "{c}");
        }
    }
}

#[test]
fn layers_correlate_by_what_they_share() {
    for colour in [0.0, 0.3, 0.7, 1.0] {
        let planes = grained(220, 1.0, &film(6.0), &GrainParams { colour, ..PARAMS });
        for (a, b) in [(0, 1), (1, 2), (0, 2)] {
            let c = correlation(&planes.planes[a], &planes.planes[b]);
            assert!((c - (1.0 - colour)).abs() < 0.04, "{colour}: {c}");
        }
    }
}

#[test]
fn a_tile_is_the_whole_pictures_part_to_the_bit() {
    let window = |x0, y0| Window {
        x0,
        y0,
        full_width: 3000,
        full_height: 2000,
        scale: 0.5,
    };
    let grain = |x0, y0, width, height| {
        let mut planes = Planes::filled(width, height, 0.8);
        add_grain(
            &mut planes,
            &FilmScale::of(Gauge::Super16, &window(x0, y0)),
            &PARAMS,
        );
        planes
    };
    let whole = grain(0, 0, 300, 150);
    for (x0, y0, width, height) in [
        (0, 0, 64, 64),
        (64, 0, 77, 33),
        (201, 99, 99, 51),
        (7, 1, 1, 1),
    ] {
        let tile = grain(x0 as i32, y0 as i32, width, height);
        for layer in 0..3 {
            for y in 0..height {
                assert_eq!(
                    tile.row(layer, y),
                    &whole.row(layer, y0 + y)[x0..x0 + width]
                );
            }
        }
    }
}

#[test]
fn a_preview_shows_the_same_grain_as_the_full_picture() {
    let full = grained(
        400,
        1.0,
        &FilmScale {
            um_per_pixel: 5.0,
            first_pixel: (0, 0),
        },
        &PARAMS,
    );
    for factor in [2, 4] {
        let scale = FilmScale {
            um_per_pixel: 5.0 * factor as f64,
            first_pixel: (0, 0),
        };
        let size = 400 / factor;
        let preview = grained(size, 1.0, &scale, &PARAMS);
        let mut reduced = vec![0.0_f32; size * size];
        for (i, v) in reduced.iter_mut().enumerate() {
            for j in 0..factor * factor {
                let (y, x) = (
                    i / size * factor + j / factor,
                    i % size * factor + j % factor,
                );
                *v += full.planes[0][y * 400 + x] / (factor * factor) as f32;
            }
        }
        let c = correlation(&reduced, &preview.planes[0]);
        assert!(c > 0.93, "by {factor}: {c}");
        let power = |values: &[f32]| values.iter().map(|v| (v - 1.0).powi(2)).sum::<f32>();
        let ratio = (power(&preview.planes[0]) / power(&reduced)).sqrt();
        assert!((ratio - 1.0).abs() < 0.04, "by {factor}: {ratio}");
    }
}

#[test]
fn the_fast_field_follows_the_exact_one() {
    let size = 60;
    for (um_per_pixel, correlation_um) in [(6.08, 7.0), (12.2, 5.0), (2.5, 9.0), (1.2, 4.0)] {
        let params = GrainParams {
            correlation_um: [correlation_um; 3],
            ..PARAMS
        };
        let scale = film(um_per_pixel);
        let exact = exact::field(size, size, &scale, &params);
        let mut fast = Planes::filled(size, size, 0.0);
        each_run(size, size, &scale, &params, |_, y, rows, _| {
            for (layer, row) in rows.iter().enumerate() {
                fast.row_mut(layer, y).copy_from_slice(row);
            }
        });
        let all = |planes: &Planes| planes.planes.concat();
        let (exact, fast) = (all(&exact), all(&fast));
        let c = correlation(&exact, &fast);
        assert!(c > 0.93, "{um_per_pixel} um, {correlation_um} um: {c}");
        let power = |values: &[f32]| values.iter().map(|v| v * v).sum::<f32>();
        let ratio = (power(&fast) / power(&exact)).sqrt();
        assert!(
            (ratio - 1.0).abs() < 0.03,
            "{um_per_pixel} um, {correlation_um} um: {ratio}"
        );
    }
}

#[test]
fn odd_input_stays_finite() {
    for (width, height) in [(1, 1), (5, 3)] {
        for um_per_pixel in [1e-3, 6.0, 3e4] {
            let mut planes = Planes::filled(width, height, 1.0);
            planes.planes[0][0] = f32::NAN;
            planes.planes[1][0] = 1e30;
            planes.planes[2][0] = -4.0;
            let params = GrainParams {
                rms_x1000: [40.0; 3],
                density_max: 0.0,
                ..PARAMS
            };
            add_grain(&mut planes, &film(um_per_pixel), &params);
            assert!(planes.planes.iter().flatten().all(|v| v.is_finite()));
        }
    }
}
