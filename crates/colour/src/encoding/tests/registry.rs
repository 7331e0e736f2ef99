//! The lists of encodings and screens.

use super::assert_close;
use crate::Rgb;
use crate::encoding::{Curve, EncodingClass, EncodingId, ScreenId};
use crate::space::{primaries, white};

#[test]
fn every_row_stands_under_its_own_name() {
    for id in EncodingId::ALL {
        assert_eq!(id.info().encoding, id);
        assert_eq!(EncodingId::parse(id.id()), Ok(id));
    }
    for id in ScreenId::ALL {
        assert_eq!(id.info().screen, id);
        assert_eq!(ScreenId::parse(id.id()), Ok(id));
    }
}

#[test]
fn names_and_labels_are_different() {
    let rows = || EncodingId::ALL.map(|id| id.info()).into_iter();
    for (i, a) in rows().enumerate() {
        assert!(!a.source.is_empty());
        for b in rows().skip(i + 1) {
            assert!(a.id != b.id && a.label != b.label, "{} {}", a.id, b.id);
        }
    }
}

#[test]
fn an_unknown_name_is_answered_with_those_there_are() {
    let error = EncodingId::parse("SLog3").unwrap_err();
    assert!(
        error
            .message()
            .starts_with("encoding \"SLog3\" is not one of")
    );
    assert!(error.message().contains("slog3-sgamut3cine"));
    let error = ScreenId::parse("p3").unwrap_err();
    assert_eq!(
        error.message(),
        "screen \"p3\" is not one of rec709, srgb, display-p3, rec2020, p3-d65-theatre, \
         p3-dci-theatre, dcdm-xyz, pq-600, pq-1000, pq-2000, pq-4000, hlg-1000"
    );
}

#[test]
fn the_working_space_is_its_own_identity() {
    let (curve, matrix) = EncodingId::AcesCg.to_scene();
    assert_eq!(curve, Curve::Linear);
    assert_eq!(matrix, crate::Mat3::IDENTITY);
    assert_eq!(curve.decode(0.123_f32), 0.123);
}

#[test]
fn only_pictures_for_screens_have_no_light_above_white() {
    for id in EncodingId::ALL {
        let e = id.info();
        let brightest = e.curve.decode(1.0_f32);
        match e.class {
            // HLG has the least room: twelve times the light of its middle, 3.77 whites.
            EncodingClass::Log | EncodingClass::Scan => assert!(brightest > 3.7, "{}", e.id),
            EncodingClass::SceneLinear => assert_eq!(e.curve, Curve::Linear),
            EncodingClass::Display => assert!((brightest - 1.0).abs() < 1e-6, "{}", e.id),
        }
    }
}

#[test]
fn a_screens_white_shows_the_working_white() {
    for id in ScreenId::ALL {
        let white = id.from_working().apply([1.0; 3]).map(|v| v as f32);
        let signal = id.signal();
        let seen = signal.uncontained(signal.encode(Rgb::from_array(white)));
        // On screens of high dynamic range this is the white card, on others their own white.
        let expected = match id.info().peak {
            None => 1.0,
            Some(_) => seen.g.into(),
        };
        for channel in seen.to_array() {
            assert_close(id.id(), channel.into(), expected, 1e-6);
        }
        assert_eq!(id.info().gamut.white(), white::D65);
        let stand_in = id.info().stand_in;
        assert_eq!(stand_in.info().stand_in, stand_in);
    }
    assert_eq!(ScreenId::default().info().primaries, primaries::BT709);
}
