//! Light to code and back over many decades, on both sides of every break.

use super::{code_tolerance, decode, encode, is_pq};
use crate::encoding::Curve;

/// The darkest light that a curve keeps apart from its neighbours.
fn darkest(curve: Curve) -> f64 {
    match curve {
        Curve::NLog => -0.0075,
        Curve::AppleLog => -0.056,
        Curve::MiLog => -0.09,
        Curve::AcesCc
        | Curve::Pq
        | Curve::PqLight
        | Curve::Srgb
        | Curve::Bt1886
        | Curve::Gamma26
        | Curve::FilmScan
        | Curve::FilmScanPlain => 0.0,
        Curve::Adx10 | Curve::Adx16 => 1e-6,
        _ => -0.1,
    }
}

#[test]
fn light_comes_back_from_its_code() {
    for curve in Curve::ALL {
        for exponent in -40..=36 {
            for sign in [-1.0, 1.0] {
                let light = sign * libm::pow(10.0, f64::from(exponent) / 8.0);
                let dark_for_plain = curve == Curve::FilmScanPlain && light < 0.0053;
                // 10,000 cd/m2 are the end of the scale.
                let bright_for_pq =
                    curve == Curve::Pq && light > 32.5 || curve == Curve::PqLight && light > 1.0;
                if light < darkest(curve) || dark_for_plain || bright_for_pq {
                    continue;
                }
                let code = encode(curve, light);
                let back = decode(curve, code);
                // What one unit in the last place of the code is worth, measured on the curve.
                let ulp = f64::from(f32::EPSILON) * code.abs().max(0.25);
                let worth =
                    (decode(curve, code + 4.0 * ulp) - decode(curve, code - 4.0 * ulp)) / 8.0;
                let rounding = if is_pq(curve) { 1e-4 } else { 1e-6 };
                let tolerance = 4.0 * worth.abs() + rounding * light.abs() + seam(curve, light);
                let error = (back - light).abs();
                assert!(
                    error <= tolerance,
                    "{curve:?}: {light} comes back as {back}, off by {error:e} of {tolerance:e}"
                );
            }
        }
    }
}

/// Light that the published constants lose between the two breaks of a curve.
fn seam(curve: Curve, light: f64) -> f64 {
    match curve {
        Curve::NLog if (light - 0.328).abs() < 0.01 => 3e-4,
        Curve::Bt709Oetf if (light - 0.018).abs() < 0.001 => 6e-5,
        Curve::LogC3(_) if (0.005..0.015).contains(&light) => 2e-7,
        Curve::VLog if (light - 0.01).abs() < 0.001 => 6e-8,
        Curve::LLog if (light - 0.006).abs() < 0.001 => 1.2e-4,
        Curve::DLog if (light - 0.0078).abs() < 0.0003 => 1e-6,
        _ => 0.0,
    }
}

#[test]
fn codes_come_back_from_their_light() {
    for curve in Curve::ALL {
        for step in 0..=1023 {
            let code = f64::from(step) / 1023.0;
            let back = encode(curve, decode(curve, code));
            let tolerance = match curve {
                // The published breaks in light and in code do not meet.
                Curve::NLog | Curve::Bt709Oetf => 2.5e-4,
                Curve::FLog => 1.1e-4,
                Curve::LLog => 9.1e-4,
                Curve::DLog => 2.1e-6,
                Curve::Pq | Curve::PqLight => code_tolerance(curve),
                _ => 1.5e-6,
            };
            let error = (back - code).abs();
            assert!(
                error < tolerance,
                "{curve:?}: code {step} comes back as {}",
                back * 1023.0
            );
        }
    }
}
