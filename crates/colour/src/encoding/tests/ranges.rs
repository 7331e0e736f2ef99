//! Full, legal and expanded range.

use super::assert_close;
use crate::encoding::{Affine, Curve, EncodingClass, Range, legal_limits};

const CLASSES: [EncodingClass; 3] = [
    EncodingClass::Log,
    EncodingClass::SceneLinear,
    EncodingClass::Display,
];

#[test]
fn legal_limits_are_those_of_the_standards() {
    // ITU-R BT.709-6 and BT.2020-2: 16 and 235 at 8 bits, 64 and 940 at 10, 256 and 3760 at 12.
    for (bits, black, white, full) in [
        (8, 16.0, 235.0, 255.0),
        (10, 64.0, 940.0, 1023.0),
        (12, 256.0, 3760.0, 4095.0),
        (16, 4096.0, 60_160.0, 65_535.0),
    ] {
        assert_eq!(legal_limits(bits), Ok([black / full, white / full]));
    }
    for bits in [0, 7, 17, 64] {
        let error = legal_limits(bits).unwrap_err();
        assert!(error.message().contains(&format!("{bits} bits")), "{error}");
    }
}

#[test]
fn full_range_changes_nothing() {
    for class in CLASSES {
        assert_eq!(Range::Full.to_code(class, 10), Ok(Affine::IDENTITY));
    }
    for value in [0.0_f32, 0.1, 0.7, -3.0] {
        assert_eq!(Affine::IDENTITY.apply(value), value);
    }
}

#[test]
fn legal_range_is_stretched_and_squeezed_back() {
    for bits in [8, 10, 12, 16] {
        let [black, white] = legal_limits(bits).unwrap();
        for class in CLASSES {
            let stretch = Range::Legal.to_code(class, bits).unwrap();
            assert_close("black", stretch.apply(black as f32).into(), 0.0, 1e-7);
            assert_close("white", stretch.apply(white as f32).into(), 1.0, 2e-7);
        }
        let squeeze = Range::Legal.from_signal(bits).unwrap();
        assert_close("black", squeeze.apply(0.0_f32).into(), black, 1e-8);
        assert_close("white", squeeze.apply(1.0_f32).into(), white, 1e-7);
    }
    // Half signal at 8, 10 and 12 bits, as fractions of full scale.
    for (bits, half) in [(8, 0.492156863), (10, 0.490713587), (12, 0.490354090)] {
        let squeeze = Range::Legal.from_signal(bits).unwrap();
        assert_close("half", squeeze.apply(0.5_f32).into(), half, 6e-8);
    }
}

#[test]
fn a_camera_log_that_a_decoder_stretched_is_put_right() {
    // S-Log3's mid-grey, code 420 (Sony): a decoder for television makes (420 - 64) / 876 of it,
    // and that number means nothing to the maker's formula.
    let from_decoder = ((420.0 - 64.0) / 876.0) as f32;
    assert_close("signal", from_decoder.into(), 0.406392694, 1e-8);
    let code = Range::Expanded
        .to_code(EncodingClass::Log, 8)
        .unwrap()
        .apply(from_decoder);
    assert_close("code", code.into(), 0.410557185, 6e-8);
    assert_close("light", Curve::SLog3.decode(code).into(), 0.18, 3e-7);
    assert!((Curve::SLog3.decode(from_decoder) - 0.18).abs() > 0.006);
}

#[test]
fn a_screen_picture_that_a_decoder_stretched_is_right_as_it_is() {
    for class in [EncodingClass::Display, EncodingClass::SceneLinear] {
        assert_eq!(Range::Expanded.to_code(class, 8), Ok(Affine::IDENTITY));
    }
}

#[test]
fn ranges_have_names() {
    for range in Range::ALL {
        assert_eq!(Range::parse(range.id()), Ok(range));
    }
    let error = Range::parse("narrow").unwrap_err();
    assert_eq!(
        error.message(),
        "range \"narrow\" is not one of full, legal, expanded"
    );
}
