//! What is written and read back is the same picture, in every format and for any size.

#![allow(clippy::unwrap_used, reason = "a helper of tests may panic")]

use lookwright_colour::encoding::{Curve, EncodingId, ScreenId};
use lookwright_picture::{
    ColourHint, Kind, OutColour, OutFormat, PictureWriter, Rows, Samples, WriteOptions, decode,
};
use proptest::prelude::*;

/// A picture's bytes, its rows pushed in strips of `strip` rows.
fn write(
    format: OutFormat,
    (width, height): (u32, u32),
    strip: usize,
    samples: &Samples,
    colour: OutColour,
) -> Vec<u8> {
    let options = WriteOptions {
        colour,
        ..WriteOptions::default()
    };
    let mut writer = PictureWriter::new(format, width, height, &options).unwrap();
    let chunk = strip.max(1) * 3 * width as usize;
    match samples {
        Samples::U8(v) => v
            .chunks(chunk)
            .for_each(|c| writer.push_rows(Rows::U8(c)).unwrap()),
        Samples::U16(v) => v
            .chunks(chunk)
            .for_each(|c| writer.push_rows(Rows::U16(c)).unwrap()),
        Samples::F32(v) => v
            .chunks(chunk)
            .for_each(|c| writer.push_rows(Rows::F32(c)).unwrap()),
    }
    writer.finish().unwrap()
}

/// Codes without a pattern, from a linear congruence (Knuth, The Art of Computer Programming 2,
/// 3.3.4, table 1, line 26).
fn noise(count: usize, seed: u64) -> Vec<u32> {
    let mut state = seed;
    let next = || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as u32
    };
    std::iter::repeat_with(next).take(count).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn codes_and_floats_come_back_exactly(
        w in 1_u32..70, h in 1_u32..50, strip in 1_usize..20, seed in any::<u64>()
    ) {
        let count = 3 * (w * h) as usize;
        let codes = noise(count, seed);
        let eight = Samples::U8(codes.iter().map(|&c| c as u8).collect());
        let sixteen = Samples::U16(codes.iter().map(|&c| c as u16).collect());
        // Codes of fewer bits, spread over 16.
        let of_bits = |bits: u32| {
            let largest = (1 << bits) - 1;
            let spread = |&c: &u32| (((c & largest) * 65535 + largest / 2) / largest) as u16;
            Samples::U16(codes.iter().map(spread).collect())
        };
        let (ten, twelve) = (of_bits(10), of_bits(12));
        // Of all magnitudes, and negative too.
        let floats: Vec<f32> = codes.iter().map(|&c| (c as f32 - 1e9) * 2_f32.powi((c % 40) as i32 - 50)).collect();
        let floats = Samples::F32(floats);
        for (format, samples, kind, bits) in [
            (OutFormat::Png8, &eight, Kind::Png, 8),
            (OutFormat::Png16, &sixteen, Kind::Png, 16),
            (OutFormat::Tiff16, &sixteen, Kind::Tiff, 16),
            (OutFormat::TiffF32, &floats, Kind::Tiff, 32),
            (OutFormat::ExrF32, &floats, Kind::Exr, 32),
            (OutFormat::Dpx10, &ten, Kind::Dpx, 10),
            (OutFormat::Dpx12, &twelve, Kind::Dpx, 12),
            (OutFormat::Dpx16, &sixteen, Kind::Dpx, 16),
        ] {
            let file = write(format, (w, h), strip, samples, OutColour::Unmarked);
            let read = decode(&file).unwrap();
            prop_assert_eq!((read.width, read.height, read.kind, read.file_bits), (w, h, kind, bits));
            prop_assert_eq!(&read.samples, samples, "{:?}", format);
            prop_assert_eq!(read.colour, ColourHint::Untagged);
            prop_assert_eq!(read.notes, Vec::<String>::new());
            let in_one_go = write(format, (w, h), h as usize, samples, OutColour::Unmarked);
            prop_assert_eq!(file, in_one_go, "strips change the bytes of {:?}", format);
        }
    }
}

/// Half floats keep 11 bits: relative error at most 2^-11 (IEEE 754 binary16, normal range).
#[test]
fn half_floats_are_rounded_to_nearest() {
    let values: Vec<f32> = noise(3 * 40 * 33, 7)
        .iter()
        .map(|&c| c as f32 / 1e7 + 1e-3)
        .collect();
    let file = write(
        OutFormat::ExrHalf,
        (40, 33),
        5,
        &Samples::F32(values.clone()),
        OutColour::Of(EncodingId::AcesCg),
    );
    let read = decode(&file).unwrap();
    assert_eq!(read.file_bits, 16);
    let Samples::F32(back) = read.samples else {
        panic!("floats expected")
    };
    for (a, b) in values.iter().zip(&back) {
        assert!((a - b).abs() <= a * 2_f32.powi(-11), "{a} came back as {b}");
    }
}

/// Floats become codes by rounding and clipping; what is not a number becomes black.
#[test]
fn floats_become_codes() {
    let row = Rows::F32(&[-1.0, 0.0, 0.5, 1.0, 2.0, f32::NAN]);
    for (format, expected) in [
        (OutFormat::Png8, Samples::U8(vec![0, 0, 128, 255, 255, 0])),
        (
            OutFormat::Tiff16,
            Samples::U16(vec![0, 0, 32768, 65535, 65535, 0]),
        ),
    ] {
        let mut writer = PictureWriter::new(format, 2, 1, &WriteOptions::default()).unwrap();
        writer.push_rows(row).unwrap();
        assert_eq!(decode(&writer.finish().unwrap()).unwrap().samples, expected);
    }
}

/// Every colour that a file can declare comes back as its id, with the samples untouched.
#[test]
fn declared_colour_comes_back() {
    let ids = [
        EncodingId::Srgb,
        EncodingId::DisplayP3,
        EncodingId::Rec709,
        EncodingId::Rec2020,
        EncodingId::SrgbLinear,
        EncodingId::Rec2020Linear,
        EncodingId::AcesCg,
        EncodingId::Ap0Linear,
    ];
    let codes = Samples::U16(noise(3 * 9 * 7, 3).iter().map(|&c| c as u16).collect());
    let bytes = Samples::U8(noise(3 * 9 * 7, 3).iter().map(|&c| c as u8).collect());
    let floats = Samples::F32(noise(3 * 9 * 7, 3).iter().map(|&c| c as f32).collect());
    for id in ids {
        let linear = id.info().curve == Curve::Linear;
        let formats: &[(OutFormat, &Samples)] = if linear {
            &[
                (OutFormat::ExrF32, &floats),
                (OutFormat::Png16, &codes),
                (OutFormat::Tiff16, &codes),
            ]
        } else {
            &[
                (OutFormat::Png8, &bytes),
                (OutFormat::Png16, &codes),
                (OutFormat::Tiff16, &codes),
                (OutFormat::Jpeg { quality: 95 }, &bytes),
            ]
        };
        for (format, samples) in formats {
            let file = write(*format, (9, 7), 2, samples, OutColour::Of(id));
            let read = decode(&file).unwrap();
            let ColourHint::Known {
                encoding: found, ..
            } = read.colour
            else {
                panic!("{id:?} was lost in {format:?}: {:?}", read.notes)
            };
            assert_eq!(found, id, "{format:?}");
            if !matches!(format, OutFormat::Jpeg { .. }) {
                assert_eq!(&read.samples, *samples, "{id:?} {format:?}");
            }
        }
    }
}

/// ITU-T H.273: primaries 9 are BT.2020's, transfer 16 is PQ and 18 HLG; primaries 10 are XYZ, transfer 17 is SMPTE ST 428-1's. No code point is a power of 2.6, so theatres' P3 has
/// a profile: its white comes back as white.
#[test]
fn theatres_and_hdr_are_told_in_the_words_that_there_are() {
    let whites = Samples::U16(vec![65_535; 12]);
    let of = |id| write(OutFormat::Png16, (2, 2), 1, &whites, OutColour::Screen(id));
    let points = |file: &[u8]| {
        let at = file.windows(4).position(|four| four == b"cICP")?;
        Some(file[at + 4..at + 8].to_vec())
    };
    assert_eq!(points(&of(ScreenId::DcdmXyz)), Some(vec![10, 17, 0, 1]));
    assert_eq!(points(&of(ScreenId::Pq1000)), Some(vec![9, 16, 0, 1]));
    assert_eq!(points(&of(ScreenId::Hlg1000)), Some(vec![9, 18, 0, 1]));
    for id in [ScreenId::P3D65Theatre, ScreenId::P3DciTheatre] {
        let file = of(id);
        assert_eq!(points(&file), None);
        let read = decode(&file).unwrap();
        let ColourHint::Known { encoding, .. } = read.colour else {
            panic!("{id:?} was lost: {:?}", read.notes)
        };
        assert_eq!(encoding, EncodingId::DisplayAp0);
        for at in 0..3 {
            assert!((read.samples.normalised(at) - 1.0).abs() < 1e-3, "{id:?}");
        }
    }
    for id in [
        ScreenId::Rec709,
        ScreenId::Srgb,
        ScreenId::DisplayP3,
        ScreenId::Rec2020,
    ] {
        let encoding = EncodingId::parse(id.id()).unwrap();
        let same = write(
            OutFormat::Png16,
            (2, 2),
            1,
            &whites,
            OutColour::Of(encoding),
        );
        assert!(of(id) == same, "{id:?}");
    }
}

/// A smooth picture with edges through JPEG: the peak signal-to-noise ratio that readers call
/// "visually lossless" is 40 dB (common practice, no source).
#[test]
fn jpeg_keeps_the_picture() {
    let (w, h) = (160_u32, 120_u32);
    let codes: Vec<u8> = (0..h)
        .flat_map(|y| {
            (0..w).flat_map(move |x| {
                let edge = if x + y > 140 { 60 } else { 0 };
                [(x + edge) as u8, (y + 40) as u8, ((x + y) / 2 + edge) as u8]
            })
        })
        .collect();
    for (quality, least_db) in [(95, 40.0), (75, 33.0)] {
        let samples = Samples::U8(codes.clone());
        let file = write(
            OutFormat::Jpeg { quality },
            (w, h),
            16,
            &samples,
            OutColour::Of(EncodingId::Srgb),
        );
        let Samples::U8(back) = decode(&file).unwrap().samples else {
            panic!("codes expected")
        };
        let squares = codes
            .iter()
            .zip(&back)
            .map(|(a, b)| f64::from(a.abs_diff(*b)).powi(2));
        let mean = squares.sum::<f64>() / codes.len() as f64;
        let db = 10.0 * libm::log10(255.0 * 255.0 / mean);
        assert!(db > least_db, "quality {quality}: {db:.1} dB");
    }
}

#[test]
fn wrong_use_of_the_writer_has_its_sentence() {
    let options = WriteOptions::default();
    let new = |format, w, h| PictureWriter::new(format, w, h, &options);
    let sentence = |result: lookwright_picture::Result<PictureWriter>| match result {
        Ok(_) => panic!("should not begin"),
        Err(error) => error.to_string(),
    };
    assert!(sentence(new(OutFormat::Png8, 0, 5)).contains("0 x 5"));
    assert!(sentence(new(OutFormat::Jpeg { quality: 80 }, 70_000, 5)).contains("65,535"));
    assert!(sentence(new(OutFormat::Jpeg { quality: 0 }, 5, 5)).contains("quality 0"));
    assert!(sentence(new(OutFormat::Tiff16, 40_000, 40_000)).contains("4 GiB"));
    let mut writer = new(OutFormat::Png8, 2, 2).unwrap();
    assert!(
        writer
            .push_rows(Rows::U8(&[0; 5]))
            .unwrap_err()
            .message()
            .contains("whole rows")
    );
    assert!(
        writer
            .push_rows(Rows::U16(&[0; 6]))
            .unwrap_err()
            .message()
            .contains("8-bit")
    );
    assert!(
        writer
            .push_rows(Rows::U8(&[0; 18]))
            .unwrap_err()
            .message()
            .contains("of which 2 are missing")
    );
    let mut writer = new(OutFormat::ExrF32, 2, 2).unwrap();
    writer.push_rows(Rows::F32(&[0.0; 6])).unwrap();
    assert!(
        writer
            .finish()
            .unwrap_err()
            .message()
            .contains("last rows, 1 of them")
    );
}

#[test]
fn parts_are_the_whole_file_and_may_be_taken_away_as_they_come() {
    let (w, h) = (33_u32, 75_u32);
    let codes: Vec<u8> = (0..3 * w * h).map(|i| (i * i % 251) as u8).collect();
    let options = WriteOptions::default();
    let format = OutFormat::Jpeg { quality: 92 };
    assert_eq!(format.part_rows(), Some(16));
    let part = |rows: std::ops::Range<u32>| {
        let mut writer = PictureWriter::part(format, w, h, &options, rows.clone()).unwrap();
        let mut file = Vec::new();
        let span = (rows.start * 3 * w) as usize..(rows.end * 3 * w) as usize;
        for row in codes[span].chunks(3 * w as usize * 5) {
            writer.push_rows(Rows::U8(row)).unwrap();
            file.extend(writer.written());
        }
        file.extend(writer.finish().unwrap());
        file
    };
    let whole = part(0..h);
    assert_eq!([part(0..32), part(32..48), part(48..h)].concat(), whole);
    assert!(decode(&whole).unwrap().notes.is_empty());
    for (format, rows) in [(format, 0..17), (format, 32..32), (OutFormat::Png8, 0..32)] {
        let Err(error) = PictureWriter::part(format, w, h, &options, rows) else {
            panic!("no such part")
        };
        assert!(error.message().contains("no part"), "{error}");
    }
}
