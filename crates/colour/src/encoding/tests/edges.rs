//! Breaks between the parts of a curve, and numbers that no picture should hold.

use super::{assert_close, encode};
use crate::encoding::{Curve, ExposureIndex};

/// Where each curve breaks (light), the step of its code there (log part minus line) and the
/// slopes on both sides, evaluated in double precision from the published constants.
const SEAMS: [(Curve, f64, f64, [f64; 2]); 19] = [
    (
        Curve::LogC3(ExposureIndex::Ei160),
        0.005561,
        -8.54e-7,
        [5.842037, 5.842078],
    ),
    (
        Curve::LogC3(ExposureIndex::Ei800),
        0.010591,
        -2.50e-7,
        [5.367655, 5.367674],
    ),
    (
        Curve::LogC3(ExposureIndex::Ei1600),
        0.013047,
        -5.42e-7,
        [5.163350, 5.163478],
    ),
    (Curve::LogC4, -0.018056996, 0.0, [8.803033, 8.803033]),
    (Curve::SLog3, 0.01125, 0.0, [6.621944, 5.224220]),
    (Curve::VLog, 0.01, -3.11e-7, [5.600000, 5.600011]),
    (Curve::FLog, 0.00089, -1.009e-4, [8.735631, 8.347516]),
    (Curve::FLog2, 0.000889, -3.5e-8, [8.799461, 8.482428]),
    (Curve::NLog, 0.328, 1.266e-4, [0.438653, 0.447035]),
    (
        Curve::CanonLog3,
        0.0126,
        2.6e-9,
        [1.975480 / 0.9, 1.975481 / 0.9],
    ),
    (Curve::AppleLog, 0.01, 2.7e-9, [6.280757, 6.280757]),
    (Curve::MiLog, 0.01974185, -7.2e-9, [3.982415, 3.982415]),
    (Curve::LLog, 0.006, -8.995e-4, [8.0, 7.898308]),
    (Curve::Film5, 0.005, 0.0, [8.283606, 8.283606]),
    (Curve::Hlg, 0.314509844, 5e-10, [0.794888, 0.794888]),
    (Curve::DLog, 0.0078, 2.0e-6, [6.025000, 5.955115]),
    (Curve::AcesCct, 0.0078125, 0.0, [10.540238, 10.540238]),
    (Curve::Srgb, 0.0031308, -2.9e-8, [12.92, 12.703077]),
    (Curve::Bt709Oetf, 0.018, 2.48e-4, [4.5, 4.506199]),
];

#[test]
fn value_and_slope_step_at_a_break_by_what_the_constants_leave() {
    for (curve, cut, step, slopes) in SEAMS {
        // Close enough for the bend of the curve, wide enough for single precision.
        let reach = 2e-3 * cut.abs();
        let below = encode(curve, cut - reach);
        let above = encode(curve, cut + reach);
        let expected = step + reach * (slopes[0] + slopes[1]);
        // The second-order term of the logarithm and two roundings of the code.
        let bend = 3e-3 * reach * slopes[1];
        let what = format!("{curve:?} across its break");
        assert_close(&what, above - below, expected, bend + 1.5e-7);
    }
}

#[test]
fn slopes_beside_a_break_are_those_of_the_two_parts() {
    for (curve, cut, _, slopes) in SEAMS {
        let reach = 0.02 * cut.abs();
        for (side, slope) in [(-1.0, slopes[0]), (1.0, slopes[1])] {
            let (near, far) = (cut + side * 0.01 * reach, cut + side * reach);
            let light = f64::from(far as f32) - f64::from(near as f32);
            let found = (encode(curve, far) - encode(curve, near)) / light;
            // Over 2 % of the light at the break the slope of LogC4, whose break is nearest to the
            // pole of its logarithm, falls by 3.4 %; half of that on average.
            assert_close(
                &format!("{curve:?} side {side}"),
                found,
                slope,
                0.02 * slope,
            );
        }
    }
}

#[test]
fn every_curve_rises() {
    for curve in Curve::ALL {
        let mut previous = f64::from(curve.encode(-0.006_f32));
        let mut light = -0.005;
        while light < 40.0 {
            let code = encode(curve, light);
            assert!(code >= previous - 1e-7, "{curve:?} falls at {light}");
            previous = code;
            light += 0.001 + 0.01 * f64::max(light, 0.0);
        }
    }
}

#[test]
fn nothing_comes_out_that_is_not_a_number() {
    let odd = [
        0.0,
        -0.0,
        f32::MIN_POSITIVE,
        1e-45,
        -1e-45,
        1234.0,
        -1234.0,
        65_504.0,
        1e30,
        -1e30,
        f32::MAX,
        f32::MIN,
        f32::INFINITY,
        f32::NEG_INFINITY,
        f32::NAN,
        -f32::NAN,
    ];
    for curve in Curve::ALL {
        for value in odd {
            let (light, code) = (curve.decode(value), curve.encode(value));
            assert!(light.is_finite(), "{curve:?} decodes {value:e} to {light}");
            assert!(code.is_finite(), "{curve:?} encodes {value:e} to {code}");
        }
        assert_eq!(curve.decode(f32::NAN), curve.decode(0.0), "{curve:?}");
        assert_eq!(curve.encode(f32::NAN), curve.encode(0.0), "{curve:?}");
    }
}

#[test]
fn below_the_end_of_a_curve_it_stays_there() {
    // Apple Log ends at -0.05641088 (code 0), N-Log's root at -0.0075, ACEScc at 0, a screen at
    // black.
    assert_eq!(Curve::AppleLog.encode(-1.0_f32), 0.0);
    assert_eq!(Curve::AppleLog.decode(-1.0_f32), -0.056_410_88);
    assert_eq!(Curve::NLog.encode(-1.0_f32), 0.0);
    assert_eq!(Curve::NLog.decode(-1.0_f32), -0.0075);
    assert_eq!(Curve::AcesCc.encode(-1.0_f32), Curve::AcesCc.encode(0.0));
    assert_eq!(Curve::AcesCc.decode(-1.0_f32), 0.0);
    assert_eq!(Curve::Bt1886.encode(-1.0_f32), 0.0);
    assert_eq!(Curve::FilmScanPlain.encode(0.0_f32), 0.0);
}
