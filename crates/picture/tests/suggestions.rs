//! What a file says about its colour becomes an encoding and a sentence.

#![allow(clippy::unwrap_used, reason = "a helper of tests may panic")]

mod support;

use lookwright_colour::encoding::EncodingId;
use lookwright_picture::{
    ColourHint, Confidence, Decoded, OutColour, OutFormat, PictureWriter, Rows, WriteOptions,
    decode, suggest,
};
use support::crc;

fn sixteen_bit(codes: &[u16], width: u32, colour: OutColour, legal_range: bool) -> Decoded {
    let options = WriteOptions {
        colour,
        legal_range,
        description: Some("a test".to_owned()),
        ..WriteOptions::default()
    };
    let height = codes.len() as u32 / 3 / width;
    let mut writer = PictureWriter::new(OutFormat::Png16, width, height, &options).unwrap();
    writer.push_rows(Rows::U16(codes)).unwrap();
    decode(&writer.finish().unwrap()).unwrap()
}

/// A ramp of `low` ... `high` on 0 ... 1.
fn ramp(low: f64, high: f64) -> Vec<u16> {
    let code = |i: u32| ((low + (high - low) * f64::from(i) / 899.0) * 65535.0) as u16;
    (0..900).flat_map(|i| [code(i); 3]).collect()
}

/// The LogC3 codes of a scene from black to 90 % white lie at 0.093 ... 0.56 (ARRI, Log C curve,
/// EI 800): low in contrast, never near 0.
#[test]
fn flat_sixteen_bits_look_like_log_and_the_guess_is_called_one() {
    let picture = sixteen_bit(&ramp(0.0928, 0.5594), 30, OutColour::Unmarked, false);
    let suggestion = suggest(&picture, "quay.png");
    assert_eq!(
        (suggestion.encoding, suggestion.confidence),
        (EncodingId::LogC3, Confidence::Low)
    );
    assert!(suggestion.reason.contains("guess"), "{}", suggestion.reason);
    // A file name is better than a guess, a profile better than a name.
    let named = suggest(&picture, "quay_slog3.png");
    assert_eq!(
        (named.encoding, named.confidence),
        (EncodingId::SLog3SGamut3Cine, Confidence::Medium)
    );
    let tagged = sixteen_bit(
        &ramp(0.0928, 0.5594),
        30,
        OutColour::Of(EncodingId::DisplayP3),
        false,
    );
    let tagged = suggest(&tagged, "quay_slog3.png");
    assert_eq!(
        (tagged.encoding, tagged.confidence),
        (EncodingId::DisplayP3, Confidence::High)
    );
}

#[test]
fn full_contrast_is_not_log() {
    let picture = sixteen_bit(&ramp(0.0, 1.0), 30, OutColour::Unmarked, false);
    let suggestion = suggest(&picture, "quay.png");
    assert_eq!(
        (suggestion.encoding, suggestion.confidence),
        (EncodingId::Srgb, Confidence::Low)
    );
}

#[test]
fn legal_range_is_declared_and_read() {
    let picture = sixteen_bit(&ramp(0.0, 1.0), 30, OutColour::Of(EncodingId::Rec709), true);
    assert!(picture.legal_range);
    let suggestion = suggest(&picture, "");
    assert_eq!(
        (suggestion.encoding, suggestion.legal_range),
        (EncodingId::Rec709, true)
    );
    assert!(
        suggestion.reason.contains("legal range"),
        "{}",
        suggestion.reason
    );
}

/// ITU-T H.273 code points in a PNG: with Rec.2020 primaries codes are kept and read as PQ; with P3's they
/// become light, white at code 0.58 and an 18 % card at 0.38 (to a hundredth, ITU-R BT.2408-7, table 1).
#[test]
fn hdr_code_points_become_light() {
    let options = WriteOptions {
        colour: OutColour::Of(EncodingId::Rec2020),
        ..WriteOptions::default()
    };
    let mut writer = PictureWriter::new(OutFormat::Png16, 1, 2, &options).unwrap();
    let white = (0.58 * 65535.0) as u16;
    let grey = (0.38 * 65535.0) as u16;
    writer
        .push_rows(Rows::U16(&[white, white, white, grey, grey, grey]))
        .unwrap();
    let mut file = writer.finish().unwrap();
    let at = file.windows(4).position(|w| w == b"cICP").unwrap();
    let mut pointed = |primaries: u8| {
        file[at + 4] = primaries;
        file[at + 5] = 16;
        let sum = crc(&file[at..at + 8]).to_be_bytes();
        file[at + 8..at + 12].copy_from_slice(&sum);
        decode(&file).unwrap()
    };
    let encoding = |picture: &Decoded| match &picture.colour {
        ColourHint::Known { encoding, .. } => *encoding,
        other => panic!("{other:?}"),
    };
    let kept = pointed(9);
    assert_eq!(encoding(&kept), EncodingId::Pq);
    assert!((kept.pixel(0, 0)[1] - 0.58).abs() < 1e-4);
    let light = pointed(12);
    assert_eq!(encoding(&light), EncodingId::Ap0Linear);
    for (y, expected) in [(0, 1.0), (1, 0.18)] {
        for value in light.pixel(0, y) {
            assert!(
                (value / expected - 1.0).abs() < 0.02,
                "{value} for {expected}"
            );
        }
    }
}

#[test]
fn kinds_have_their_customs() {
    let write = |format, rows: Rows<'_>| {
        let options = WriteOptions {
            colour: OutColour::Unmarked,
            ..WriteOptions::default()
        };
        let mut writer = PictureWriter::new(format, 2, 1, &options).unwrap();
        writer.push_rows(rows).unwrap();
        suggest(&decode(&writer.finish().unwrap()).unwrap(), "a")
    };
    let jpeg = write(
        OutFormat::Jpeg { quality: 90 },
        Rows::U8(&[0, 1, 2, 3, 4, 5]),
    );
    assert_eq!(
        (jpeg.encoding, jpeg.confidence),
        (EncodingId::Srgb, Confidence::Medium)
    );
    let exr = write(
        OutFormat::ExrHalf,
        Rows::F32(&[0.0, 1.0, 2.0, 3.0, 4.0, 5.0]),
    );
    assert_eq!(
        (exr.encoding, exr.confidence),
        (EncodingId::SrgbLinear, Confidence::Medium)
    );
    let tiff = write(
        OutFormat::TiffF32,
        Rows::F32(&[0.0, 1.0, 2.0, 3.0, 4.0, 5.0]),
    );
    assert_eq!(
        (tiff.encoding, tiff.confidence),
        (EncodingId::SrgbLinear, Confidence::Low)
    );
    for suggestion in [jpeg, exr, tiff] {
        assert!(suggestion.reason.ends_with('.'), "{}", suggestion.reason);
    }
}

/// A film scan's codes as DPX, with this transfer characteristic (ST 268-1, table 5).
fn dpx(format: OutFormat, transfer: u8) -> Decoded {
    let options = WriteOptions {
        colour: OutColour::Scan,
        ..WriteOptions::default()
    };
    let mut writer = PictureWriter::new(format, 2, 2, &options).unwrap();
    let codes = [28_000_u16; 12];
    writer.push_rows(Rows::U16(&codes)).unwrap();
    let mut file = writer.finish().unwrap();
    file[801] = transfer;
    decode(&file).unwrap()
}

#[test]
fn a_dpx_of_printing_density_is_a_film_scan_unless_its_name_says_otherwise() {
    for (format, transfer, encoding) in [
        (OutFormat::Dpx10, 1, EncodingId::FilmScan),
        (OutFormat::Dpx16, 1, EncodingId::FilmScan),
        (OutFormat::Dpx10, 13, EncodingId::Adx10),
        (OutFormat::Dpx16, 13, EncodingId::Adx16),
    ] {
        let picture = dpx(format, transfer);
        let found = suggest(&picture, "reel.0001.dpx");
        assert_eq!(
            (found.encoding, found.confidence),
            (encoding, Confidence::High)
        );
        assert!(
            found.reason.contains("enters at the scan"),
            "{}",
            found.reason
        );
        let named = suggest(&picture, "reel_logc3.0001.dpx");
        assert_eq!(named.encoding, EncodingId::LogC3);
    }
    let user = suggest(&dpx(OutFormat::Dpx10, 0), "reel.0001.dpx");
    assert!(user.confidence < Confidence::High);
}
