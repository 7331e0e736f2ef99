//! Grids against closed forms and published behaviour.

use super::*;
use crate::tetra::tetrahedral;

const HOW: [Interpolation; 2] = [Interpolation::Tetrahedral, Interpolation::Trilinear];

fn close(a: [f32; 3], b: [f32; 3], within: f32) -> bool {
    a.iter().zip(b).all(|(a, b)| (a - b).abs() <= within)
}

/// Uniform numbers 0 ... 1 from a fixed seed: Numerical Recipes' 64-bit linear congruential
/// generator, top 24 bits.
fn random_colours(count: usize) -> impl Iterator<Item = [f32; 3]> {
    let mut state = 20_240_501_u64;
    let mut next = move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 40) as f32 / (1 << 24) as f32
    };
    (0..count).map(move |_| [next(), next(), next()])
}

#[test]
fn an_identity_table_gives_its_input_back() {
    for size in [2, 17, 33] {
        let grid = Grid3::sample_codes(size, |rgb| rgb).unwrap();
        for rgb in random_colours(2000) {
            for how in HOW {
                assert!(close(grid.apply(rgb, how), rgb, 2e-7));
            }
        }
    }
}

/// OpenColorIO 2.6.0, run on a 2^3 identity with DOMAIN -1 ... 3.
#[test]
fn a_wide_domain_clamps_input_to_its_edges() {
    let unit = Grid3::sample_codes(2, |rgb| rgb).unwrap();
    let grid = Grid3::from_nodes(2, [-1.0; 3], [3.0; 3], unit.nodes().to_vec()).unwrap();
    for how in HOW {
        assert!(close(
            grid.apply([0.2, 0.5, 0.9], how),
            [0.3, 0.375, 0.475],
            1e-7
        ));
        assert!(close(
            grid.apply([5.0, 0.5, -9.0], how),
            [1.0, 0.375, 0.0],
            1e-7
        ));
    }
}

#[test]
fn not_a_number_goes_to_the_lower_edge() {
    let grid = Grid3::sample_codes(5, |rgb| rgb.map(|v| v + 0.25)).unwrap();
    for how in HOW {
        assert_eq!(grid.apply([f32::NAN; 3], how), [0.25; 3]);
        assert_eq!(grid.apply([f32::INFINITY; 3], how), [1.25; 3]);
    }
}

/// The reference of [`Grid3::apply`]: all eight corners of the cell, then the cell's formula.
fn tetrahedral_from_corners(grid: &Grid3, input: [f32; 3]) -> [f32; 3] {
    let (first, d) = grid.locate(Rgb::from_array(input));
    tetrahedral(&grid.corners_at(first as usize), d).to_array()
}

#[test]
fn four_nodes_and_eight_corners_give_the_same_bits() {
    let grid = Grid3::sample_codes(9, |[r, g, b]| [r * g + b, g * g - r, b * r * g]).unwrap();
    for rgb in random_colours(5000) {
        assert_eq!(
            grid.apply(rgb, Interpolation::Tetrahedral),
            tetrahedral_from_corners(&grid, rgb)
        );
    }
}

#[test]
fn greys_stay_grey_by_tetrahedra() {
    let sat = |[r, g, b]: [f32; 3]| {
        let l = 0.2126 * r + 0.7152 * g + 0.0722 * b;
        [r, g, b].map(|v| l + 1.4 * (v - l)).map(|v| v * v)
    };
    // The function itself rounds its greys apart, so they are made equal at the nodes.
    let grid = Grid3::sample_codes(17, |rgb| {
        if rgb[0] == rgb[1] && rgb[1] == rgb[2] {
            [rgb[0] * rgb[0]; 3]
        } else {
            sat(rgb)
        }
    })
    .unwrap();
    for i in 0..=1000 {
        let [r, g, b] = grid.apply([i as f32 / 1000.0; 3], Interpolation::Tetrahedral);
        assert!(r == g && g == b);
    }
}

/// The smooth function whose errors follow from the theory of linear interpolation: at most
/// `h^2/8 max|f''|`, a quarter at each doubling. Figures: double precision, 200,000 points.
#[test]
fn error_falls_by_four_at_each_doubling() {
    let f = |rgb: [f32; 3]| {
        let y = rgb.map(|v| (1.0 / (1.0 + libm::exp(-6.0 * (f64::from(v) - 0.45)))) as f32);
        let l = 0.2126 * y[0] + 0.7152 * y[1] + 0.0722 * y[2];
        y.map(|v| l + 1.2 * (v - l))
    };
    for (size, max, mean) in [
        (17, 0.002_294, 9.02e-4),
        (33, 0.000_575, 2.26e-4),
        (65, 0.000_144, 5.65e-5),
    ] {
        let grid = Grid3::sample_codes(size, f).unwrap();
        let (mut worst, mut sum, mut count) = (0.0_f64, 0.0_f64, 0.0_f64);
        for rgb in random_colours(20_000) {
            let exact = f(rgb);
            let got = grid.apply(rgb, Interpolation::Tetrahedral);
            for channel in 0..3 {
                let error = f64::from((got[channel] - exact[channel]).abs());
                worst = worst.max(error);
                sum += error;
                count += 1.0;
            }
        }
        assert!((0.9 * max..=1.02 * max).contains(&worst), "{size}: {worst}");
        assert!((sum / count / mean - 1.0).abs() < 0.02, "{size}");
    }
}

#[test]
fn what_cannot_be_a_grid_is_refused_with_a_reason() {
    let refused = |result: Result<Grid3>| result.unwrap_err().message().to_owned();
    assert_eq!(
        refused(Grid3::sample_codes(1, |rgb| rgb)),
        "a 3D table of size 1 is not supported: sizes run from 2 to 129"
    );
    assert_eq!(
        refused(Grid3::from_nodes(2, [0.0; 3], [1.0; 3], vec![[0.0; 3]; 7])),
        "expected 8 nodes for size 2, found 7"
    );
    assert_eq!(
        refused(Grid3::sample_codes(2, |_| [f32::NAN; 3])),
        "node 0 is not a finite number: [NaN, NaN, NaN]"
    );
    assert_eq!(
        refused(Grid3::sample(2, [0.0, 1.0, 0.0], [1.0; 3], |rgb| rgb)),
        "the domain of green runs from 1 to 1; it has to run upwards between finite numbers"
    );
}
