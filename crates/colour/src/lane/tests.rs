//! `exp2` and `log2` against the `libm` crate in double precision.

use super::Lane;

#[test]
fn exp2_is_within_its_stated_error() {
    for i in -126_000..=127_000_i32 {
        let x = i as f32 / 1000.0;
        let truth = libm::exp2(f64::from(x));
        let relative = (f64::from(Lane::exp2(x)) / truth - 1.0).abs();
        assert!(relative < 2e-7, "2^{x}: relative error {relative:e}");
    }
}

#[test]
fn log2_is_within_its_stated_error() {
    let mut x = f32::MIN_POSITIVE;
    while x < 1e38 {
        let truth = libm::log2(f64::from(x));
        let error = (f64::from(Lane::log2(x)) - truth).abs();
        assert!(
            error < 1e-7 + 6e-8 * truth.abs(),
            "log2({x:e}): error {error:e}"
        );
        x *= 1.000_73;
    }
}

#[test]
fn whole_powers_and_their_logarithms_are_exact() {
    for n in -126..=127 {
        let power = libm::exp2(f64::from(n)) as f32;
        assert_eq!(Lane::exp2(n as f32), power);
        assert_eq!(Lane::log2(power), n as f32);
    }
}

#[test]
fn the_edges_are_defined_and_finite() {
    assert_eq!(Lane::exp2(-1e9_f32), f32::MIN_POSITIVE);
    assert!(Lane::exp2(1e9_f32).is_finite());
    assert_eq!(Lane::log2(0.0_f32), -126.0);
    assert_eq!(Lane::log2(-1.0_f32), -126.0);
    assert_eq!(Lane::log2(f32::NAN), -126.0);
    assert!(Lane::log2(f32::INFINITY).is_finite());
    assert_eq!(Lane::pow(0.0_f32, 2.4), 0.0);
    assert_eq!(Lane::pow(-3.0_f32, 2.4), 0.0);
    assert_eq!(Lane::pow(1.0_f32, 2.4), 1.0);
    assert_eq!(Lane::min(f32::NAN, 2.0), 2.0);
    assert_eq!(Lane::max(f32::NAN, 2.0), 2.0);
}

#[test]
fn floor_agrees_with_the_standard_one() {
    for i in -5000..5000 {
        let x = i as f32 * 0.37;
        assert_eq!(Lane::floor(x), f32::floor(x));
    }
    assert!(Lane::floor(-0.0_f32).is_sign_negative() && Lane::floor(0.5_f32).is_sign_positive());
}
