//! What reference libraries read in the same files: see data/README.md for their versions.

#![allow(clippy::unwrap_used, reason = "a helper of tests may panic")]

use std::collections::BTreeMap;
use std::path::Path;

use lookwright_colour::encoding::EncodingId;
use lookwright_colour::space::{Cat, Lab, primaries, rgb_to_rgb, white};
use lookwright_picture::{ColourHint, Confidence, Decoded, Samples, decode, suggest};
use serde::Deserialize;
use sha2::{Digest, Sha256};

#[derive(Deserialize)]
struct Expected {
    exact: BTreeMap<String, Exact>,
    jpeg: BTreeMap<String, Fields>,
    lab: BTreeMap<String, Vec<[f64; 3]>>,
}

#[derive(Deserialize)]
struct Exact {
    size: [u32; 2],
    #[serde(rename = "type")]
    kind: String,
    sha256: String,
}

#[derive(Deserialize)]
struct Fields {
    size: [u32; 2],
    fields: Vec<Vec<[f64; 3]>>,
}

fn bytes(name: &str) -> Vec<u8> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/data")
        .join(name);
    std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn expected() -> Expected {
    serde_json::from_slice(&bytes("expected.json")).unwrap()
}

fn read(name: &str) -> Decoded {
    decode(&bytes(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn digest(samples: &Samples) -> String {
    let bytes: Vec<u8> = match samples {
        Samples::U8(v) => v.clone(),
        Samples::U16(v) => v.iter().flat_map(|code| code.to_le_bytes()).collect(),
        Samples::F32(v) => v.iter().flat_map(|value| value.to_le_bytes()).collect(),
    };
    Sha256::digest(&bytes)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

/// PNG, TIFF, WebP, OpenEXR and Radiance HDR: every sample, after orientation. DWAA and DWAB are
/// lossy and their transform is computed in another order by each kind of processor, yet halves
/// come out alike; see the next test for what is promised.
#[test]
fn lossless_formats_are_read_to_the_bit() {
    let exact = expected().exact;
    assert!(exact.len() > 50, "only {} files are listed", exact.len());
    for (name, want) in exact {
        if name.starts_with("dwa") {
            continue;
        }
        let picture = read(&name);
        // A linear or odd gamma entry makes floats; the codes themselves are checked elsewhere.
        if matches!(
            picture.colour,
            ColourHint::Known {
                encoding: EncodingId::Ap0Linear | EncodingId::DisplayAp0,
                ..
            }
        ) {
            continue;
        }
        let kind = match picture.samples {
            Samples::U8(_) => "u8",
            Samples::U16(_) => "u16",
            Samples::F32(_) => "f32",
        };
        assert_eq!([picture.width, picture.height], want.size, "{name}");
        assert_eq!(kind, want.kind, "{name}");
        assert_eq!(digest(&picture.samples), want.sha256, "{name}");
    }
}

/// DWAA and DWAB against the same light in lossless PIZ: the error at the default level of
/// OpenEXR stays below 5 % of a value plus 0.02 (common practice, no source).
#[test]
fn lossy_exr_is_near() {
    let Samples::F32(light) = read("piz.exr").samples else {
        panic!("floats expected")
    };
    for name in ["dwaa.exr", "dwab.exr"] {
        let Samples::F32(lossy) = read(name).samples else {
            panic!("floats expected")
        };
        let bright = light.iter().zip(&lossy).filter(|(a, _)| a.abs() < 100.0);
        for (a, b) in bright {
            let largest = 0.02 + 0.05 * a.abs();
            assert!((a - b).abs() < largest, "{name}: {a} became {b}");
        }
    }
}

/// JPEG decoders round and interpolate differently: means over 8 x 8 fields agree within a code.
/// A wrong orientation or a swapped channel moves them by tens.
#[test]
fn jpeg_agrees_with_the_reference() {
    for (name, want) in expected().jpeg {
        let picture = read(&name);
        assert_eq!([picture.width, picture.height], want.size, "{name}");
        let Samples::U8(codes) = &picture.samples else {
            panic!("{name}: codes expected")
        };
        let (w, h) = (picture.width as usize, picture.height as usize);
        let mut top = 0;
        for (j, row) in want.fields.iter().enumerate() {
            let bottom = top + share(h, j);
            let mut left = 0;
            for (i, field) in row.iter().enumerate() {
                let right = left + share(w, i);
                let mut sums = [0.0_f64; 3];
                for y in top..bottom {
                    for x in left..right {
                        for (c, sum) in sums.iter_mut().enumerate() {
                            *sum += f64::from(codes[3 * (y * w + x) + c]);
                        }
                    }
                }
                let count = ((bottom - top) * (right - left)) as f64;
                for (sum, mean) in sums.iter().zip(field) {
                    assert!((sum / count - mean).abs() < 1.0, "{name}, field {i} {j}");
                }
                left = right;
            }
            top = bottom;
        }
    }
}

/// The size of part `index` of eight, as NumPy's `array_split` divides.
fn share(whole: usize, index: usize) -> usize {
    whole / 8 + usize::from(index < whole % 8)
}

/// Profiles without an encoding of their own: what arrives as linear AP0 is, in CIELAB, what
/// LittleCMS makes of the same codes. Its 8-bit CIELAB comes in steps of 0.4 in L* and 1 in a* and
/// b*.
#[test]
fn profiles_are_honoured() {
    let adapt = Cat::Bradford.xyz(white::ACES, white::D50);
    let to_xyz = adapt.after(&primaries::AP0.rgb_to_xyz());
    for (name, want) in expected().lab {
        let picture = read(&name);
        let ColourHint::Known {
            encoding: EncodingId::DisplayAp0,
            reason,
        } = &picture.colour
        else {
            panic!("{name}: {:?} {:?}", picture.colour, picture.notes)
        };
        assert!(reason.contains("profile"), "{reason}");
        assert_eq!(suggest(&picture, &name).confidence, Confidence::High);
        for (index, want) in want.iter().enumerate() {
            let (x, y) = (index as u32 % picture.width, index as u32 / picture.width);
            let linear = picture.pixel(x, y).map(f64::from);
            let lab = Lab::from_xyz(to_xyz.apply(linear), white::D50);
            let got = [lab.l, lab.a, lab.b];
            // 8-bit CIELAB ends at +-128; ProPhoto's primaries lie beyond.
            if want[1..].iter().any(|v| v.abs() > 126.0) {
                continue;
            }
            for ((got, want), largest) in got.iter().zip(want).zip([0.5, 1.0, 1.0]) {
                assert!(
                    (got - want).abs() < largest,
                    "{name} at {x} {y}: {got} for {want}"
                );
            }
        }
    }
}

/// A profile that swaps red and green: pure green code is red light.
#[test]
fn a_swapped_profile_swaps() {
    let picture = read("SwappedRedAndGreen.tif");
    let to_bt709 = rgb_to_rgb(&primaries::AP0, &primaries::BT709, Cat::Bradford);
    // Codes (0, 255, 0) lie at index 5 * 6 of the 6 x 6 x 6 patches, 18 in a row.
    let linear = to_bt709.apply(picture.pixel(30 % 18, 30 / 18).map(f64::from));
    assert!(linear[0] > 0.7 && linear[1] < 0.3, "{linear:?}");
}

#[test]
fn srgb_is_recognised_and_left_alone() {
    let picture = read("sRGB.tif");
    let ColourHint::Known { encoding, .. } = picture.colour else {
        panic!("{:?}", picture.notes)
    };
    assert_eq!(encoding, EncodingId::Srgb);
    let Samples::U8(codes) = picture.samples else {
        panic!("codes expected")
    };
    assert_eq!(codes[..6], [0, 0, 0, 0, 0, 51]);
}

/// PngSuite's basic pictures say gamma 1.0, without chromaticities: linear light.
#[test]
fn gamma_entries_are_honoured() {
    let picture = read("pngsuite/basn2c08.png");
    let ColourHint::Known { encoding, .. } = picture.colour else {
        panic!("{:?}", picture.notes)
    };
    assert_eq!(encoding, EncodingId::SrgbLinear);
}

/// Every sort of DPX that ffmpeg and OpenImageIO write, and TIFF of packed codes (see data/make_dpx.py and
/// data/make_tiff.py): the codes that they were given.
#[test]
fn files_of_other_programs_give_their_codes() {
    #[derive(Deserialize)]
    struct Codes {
        bits: u8,
        sha256: String,
    }
    let expected =
        |name: &str| -> BTreeMap<String, Codes> { serde_json::from_slice(&bytes(name)).unwrap() };
    let (dpx, tiff) = (
        expected("expected_dpx.json"),
        expected("expected_tiff.json"),
    );
    assert!(dpx.len() >= 14 && tiff.len() >= 7);
    for (name, codes) in dpx.into_iter().chain(tiff) {
        let picture = read(&name);
        assert_eq!((picture.width, picture.height), (13, 9), "{name}");
        assert_eq!(picture.file_bits, codes.bits, "{name}");
        assert_eq!(digest(&picture.samples), codes.sha256, "{name}");
    }
}
