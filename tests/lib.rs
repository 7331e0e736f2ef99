//! Shared helpers of the tests.

pub mod rendered_chart;

use lookwright_colour::space::{Primaries, white::D65};

/// CAM16's cone responses, compressed, for white 100, adapting luminance 20, background 20 and a
/// dim surround.
fn compressed(xyz: [f64; 3]) -> [f64; 3] {
    const CONES: [[f64; 3]; 3] = [
        [0.401288, 0.650173, -0.051461],
        [-0.250268, 1.204414, 0.045854],
        [-0.002079, 0.048952, 0.953127],
    ];
    const ADAPTING: f64 = 20.0;
    let cones = |v: [f64; 3]| CONES.map(|row| (0..3).map(|i| row[i] * v[i] * 100.0).sum::<f64>());
    let (own, white) = (cones(xyz), cones(D65.to_xyz()));
    // Surround: F = 0.9 for dim.
    let adapted = 0.9 * (1.0 - libm::exp((-ADAPTING - 42.0) / 92.0) / 3.6);
    let k = 1.0 / (5.0 * ADAPTING + 1.0);
    let fl = 0.2 * libm::pow(k, 4.0) * 5.0 * ADAPTING
        + 0.1 * (1.0 - libm::pow(k, 4.0)) * (1.0 - libm::pow(k, 4.0)) * libm::cbrt(5.0 * ADAPTING);
    [0, 1, 2].map(|i| {
        let x = own[i] * (adapted * 100.0 / white[i] + 1.0 - adapted);
        let power = libm::pow(fl * x.abs() / 100.0, 0.42);
        400.0 * x.signum() * power / (power + 27.13) + 0.1
    })
}

/// From one hue to another in degrees, the short way round.
pub fn turn(from: f64, to: f64) -> f64 {
    let way = to - from;
    way - 360.0 * libm::round(way / 360.0)
}

/// CAM16's hue angle in degrees of a screen's linear light, 1 being its white (Li et al., Color Res.
/// Appl. 42(6), 2017; held against colour-science in `roll.rs`), in a dim surround.
pub fn cam16_hue(light: [f64; 3], screen: &Primaries) -> f64 {
    let [r, g, b] = compressed(screen.rgb_to_xyz().apply(light));
    let (a, b) = (r - 12.0 * g / 11.0 + b / 11.0, (r + g - 2.0 * b) / 9.0);
    libm::atan2(b, a).to_degrees().rem_euclid(360.0)
}
