//! Controls take what lies in their range and say what does not.

use super::*;

const SLOPE: Control = Control {
    id: "slope",
    label: "Slope",
    help: "",
    kind: Kind::Number {
        unit: "x",
        min: 0.5,
        max: 3.0,
        step: 0.01,
        default: 1.0,
        neutral: 1.0,
        whole: false,
        scale: Scale::Linear,
    },
};

#[test]
fn a_number_out_of_range_is_named_with_its_range() {
    let error = SLOPE.check(&Value::Number(9.0)).unwrap_err();
    assert_eq!(error.message(), "9 is out of range; it must be 0.5 to 3 x");
    assert!(SLOPE.check(&Value::Number(f64::NAN)).is_err());
    assert!(SLOPE.check(&Value::Number(3.0)).is_ok());
}

#[test]
fn curve_points_must_be_ordered_and_single() {
    let curve = Control {
        kind: Kind::Curve { max_points: 3 },
        ..SLOPE
    };
    let check = |points: &[[f64; 2]]| curve.check(&Value::Curve(points.to_vec()));
    assert!(check(&[]).is_ok());
    assert!(check(&[[0.0, 0.0], [1.0, 1.0]]).is_ok());
    for bad in [
        &[[0.0, 0.0]][..],
        &[[0.0, 0.0], [0.0, 1.0]],
        &[[0.5, 0.0], [0.1, 1.0]],
        &[[0.0, 0.0], [1.0, 1.5]],
        &[[0.0, 0.0], [0.2, f64::NAN]],
        &[[0.0, 0.0], [0.2, 0.2], [0.4, 0.4], [1.0, 1.0]],
    ] {
        assert!(check(bad).is_err(), "{bad:?}");
    }
}
