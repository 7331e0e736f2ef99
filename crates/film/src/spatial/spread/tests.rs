//! The pyramid against the Gaussian itself, at every phase, width and size.

use super::*;

fn spread_point(
    width: usize,
    height: usize,
    at: (usize, usize),
    gaussians: &[Gaussian],
) -> Vec<f32> {
    let mut out = Vec::new();
    let (spread, mut scratch) = (
        Spread::new(width, height, gaussians, None),
        Scratch::default(),
    );
    spread.gather(&mut scratch, |y, row| {
        row.fill(0.0);
        if y == at.1 {
            row[at.0] = 1.0;
        }
    });
    spread.emit(&scratch, |_, row| out.extend_from_slice(row));
    out
}

fn one(sigma: f64) -> [Gaussian; 1] {
    [Gaussian { sigma, share: 1.0 }]
}

#[test]
fn a_point_becomes_a_gaussian_wherever_it_lies() {
    for sigma in [1.0_f64, 2.9, 3.1, 5.9, 7.0, 12.5] {
        let size = (8.0 * sigma) as usize + 20;
        for phase in 0..5 {
            let at = (size / 2 + phase, size / 2 + (phase * 3) % 8);
            let out = spread_point(size, size, at, &one(sigma));
            let peak = 1.0 / (2.0 * core::f64::consts::PI * sigma * sigma);
            let mut worst = 0.0_f64;
            for (i, &value) in out.iter().enumerate() {
                let dx = (i % size) as f64 - at.0 as f64;
                let dy = (i / size) as f64 - at.1 as f64;
                let r2 = dx * dx + dy * dy;
                if r2 < 9.0 * sigma * sigma {
                    let truth = peak * libm::exp(-r2 / (2.0 * sigma * sigma));
                    worst = worst.max((f64::from(value) - truth).abs() / peak);
                }
            }
            assert!(worst < 0.02, "sigma {sigma}, phase {phase}: {worst}");
        }
    }
}

#[test]
fn light_is_conserved() {
    // At a reduced size the right and lower edges of odd pictures fall inside a cell.
    for (width, height, bound) in [
        (1, 1, 1e-4),
        (128, 128, 1e-4),
        (3, 1, 7e-2),
        (101, 67, 3e-2),
    ] {
        for sigma in [0.3, 2.0, 9.0, 40.0, 1e5] {
            for at in [(width / 2, height / 2), (0, 0), (width - 1, height - 1)] {
                let out = spread_point(width, height, at, &one(sigma));
                let sum: f64 = out.iter().map(|&v| f64::from(v)).sum();
                let error = (sum - 1.0).abs();
                assert!(error < bound, "{width}x{height}, {sigma}, {at:?}: {sum}");
            }
        }
    }
}

#[test]
fn an_even_field_stays_even_at_any_size() {
    for (width, height) in [(1, 1), (2, 5), (33, 18), (100, 41)] {
        let gaussians = [0.2, 0.7, 3.0, 20.0, 900.0].map(|sigma| Gaussian { sigma, share: 0.2 });
        let (spread, mut scratch) = (
            Spread::new(width, height, &gaussians, None),
            Scratch::default(),
        );
        spread.gather(&mut scratch, |_, row| row.fill(0.18));
        spread.emit(&scratch, |y, row| {
            assert!(
                row.iter().all(|v| (v - 0.18).abs() < 2e-6),
                "row {y}: {row:?}"
            )
        });
    }
}

#[test]
fn a_core_gives_the_direct_convolution() {
    let profile = |r: f64| 1.0 + 0.1 * r;
    let core = Core {
        radius_px: 5.3,
        edge_px: 5.3,
        share: 1.0,
        profile: &profile,
    };
    let mut out = Vec::new();
    let (spread, mut scratch) = (Spread::new(24, 24, &[], Some(&core)), Scratch::default());
    spread.gather(&mut scratch, |y, row| {
        for (x, v) in row.iter_mut().enumerate() {
            *v = ((x * 7 + y * 13) % 5) as f32;
        }
    });
    spread.emit(&scratch, |_, row| out.extend_from_slice(row));
    let mut source = crate::spatial::Plane::filled(24, 24, 0.0);
    for (i, v) in source.data.iter_mut().enumerate() {
        *v = ((i % 24 * 7 + i / 24 * 13) % 5) as f32;
    }
    let kernel =
        crate::spatial::direct::Kernel::radial(6, 16, |r| if r < 5.3 { profile(r) } else { 0.0 });
    let truth = crate::spatial::direct::convolve(&source, &kernel);
    for (a, b) in out.iter().zip(&truth.data) {
        assert!((a - b).abs() < 1e-5, "{a} {b}");
    }
}

/// The mixture before any gaussians are joined: each Gaussian by its own taps, all on the finest level.
fn directly(size: usize, gaussians: &[Gaussian]) -> Vec<f64> {
    let middle = (size / 2) as isize;
    let mut out = vec![0.0; size * size];
    for gaussian in gaussians {
        let taps = gaussian_taps(gaussian.sigma * gaussian.sigma, 100);
        let tap = |d: isize| taps.get(d.unsigned_abs()).copied().unwrap_or(0.0);
        for (i, value) in out.iter_mut().enumerate() {
            let (x, y) = ((i % size) as isize - middle, (i / size) as isize - middle);
            *value += gaussian.share * tap(x) * tap(y);
        }
    }
    out
}

#[test]
fn narrow_lobes_are_joined_without_a_difference() {
    let gaussians =
        [(0.1, 0.2), (0.5, 0.5), (0.79, 0.3)].map(|(sigma, share)| Gaussian { sigma, share });
    let truth = directly(41, &gaussians);
    let whole = spread_point(41, 41, (20, 20), &gaussians);
    // The taps of each are products along two axes, so their sum is no such product: what is
    // joined has the right sum, variance and shape along each axis.
    for x in 0..41 {
        let column = |of: &dyn Fn(usize) -> f64| (0..41).map(|y| of(y * 41 + x)).sum::<f64>();
        let error = column(&|i| truth[i]) - column(&|i| f64::from(whole[i]));
        assert!(error.abs() < 1e-6, "column {x}: {error}");
    }
}

#[test]
fn faint_lobes_given_away_move_no_more_light_than_they_hold() {
    let gaussians =
        [(1.4, 0.019), (5.6, 0.3), (11.0, 0.681)].map(|(sigma, share)| Gaussian { sigma, share });
    let size = 121;
    let truth = directly(size, &gaussians);
    let made = spread_point(size, size, (size / 2, size / 2), &gaussians);
    let within = |of: &dyn Fn(usize) -> f64, radius: f64| -> f64 {
        let inside = |i: &usize| {
            let [x, y] = [i % size, i / size].map(|c| c as f64 - (size / 2) as f64);
            x * x + y * y <= radius * radius
        };
        (0..size * size).filter(inside).map(of).sum()
    };
    for radius in [0.5, 2.0, 4.0, 8.0, 16.0, 32.0] {
        let error = within(&|i| truth[i], radius) - within(&|i| f64::from(made[i]), radius);
        assert!(error.abs() < 0.02, "radius {radius}: {error}");
    }
}

#[test]
fn a_faint_wide_lobe_needs_no_levels_and_keeps_its_variance() {
    let gaussians =
        [(1.0, 0.4), (2.2, 0.588), (4.4, 0.012)].map(|(sigma, share)| Gaussian { sigma, share });
    let spread = Spread::new(64, 64, &gaussians, None);
    assert!(!spread.has_level(1));
    let made = spread_point(65, 65, (32, 32), &gaussians);
    let moment: f64 = made
        .iter()
        .enumerate()
        .map(|(i, v)| f64::from(*v) * ((i % 65) as f64 - 32.0).powi(2))
        .sum();
    let asked: f64 = gaussians.iter().map(|l| l.share * l.sigma * l.sigma).sum();
    assert!((moment / asked - 1.0).abs() < 0.01, "{moment} {asked}");
}
