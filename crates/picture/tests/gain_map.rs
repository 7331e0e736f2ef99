//! Gain maps against their formula in closed form (ISO 21496-1, 6), with files that are put together here:
//! a picture, its multi-picture index (CIPA DC-007), its map, and what is said of that as XMP or as the
//! standard's block.

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

use jpeg_encoder::{ColorType, Encoder, SamplingFactor};
use lookwright_colour::encoding::{Curve, EncodingId};
use lookwright_colour::space::{Cat, primaries::AP1, primaries::BT709, rgb_to_rgb};
use lookwright_picture::{ColourHint, Decoded, Samples, decode, suggest};

const SIZE: (u16, u16) = (32, 16);
const XMP: &[u8] = b"http://ns.adobe.com/xap/1.0/\0";
const ISO: &[u8] = b"urn:iso:std:iso:ts:21496:-1\0";

/// A picture of many colours.
fn picture(segments: &[(u8, Vec<u8>)]) -> Vec<u8> {
    let (width, height) = SIZE;
    let mut pixels = Vec::new();
    for y in 0..height {
        for x in 0..width {
            pixels.extend([(x * 8) as u8, (y * 16) as u8, ((x + y) * 5) as u8]);
        }
    }
    jpeg(&pixels, SIZE, segments)
}

fn jpeg(pixels: &[u8], (width, height): (u16, u16), segments: &[(u8, Vec<u8>)]) -> Vec<u8> {
    let mut out = Vec::new();
    let mut encoder = Encoder::new(&mut out, 100);
    encoder.set_sampling_factor(SamplingFactor::F_1_1);
    for (number, body) in segments {
        encoder.add_app_segment(*number, body.clone()).unwrap();
    }
    encoder
        .encode(pixels, width, height, ColorType::Rgb)
        .unwrap();
    out
}

/// The picture and its map in one file.
fn with_map(announced: Vec<u8>, said: Vec<u8>, codes: [u8; 3]) -> Vec<u8> {
    let number = if announced.starts_with(XMP) { 1 } else { 2 };
    let map_size = (8_u16, 4_u16);
    let map = jpeg(&codes.repeat(32), map_size, &[(number, said)]);
    let index = |size: u32, offset: u32| {
        let mut body = b"MPF\0MM\0\x2a\0\0\0\x08".to_vec();
        body.extend([0, 1]);
        body.extend([0xb0, 0x02, 0, 7]);
        body.extend(32_u32.to_be_bytes());
        body.extend(26_u32.to_be_bytes());
        body.extend([0; 4]);
        for (size, offset) in [(0, 0), (size, offset)] {
            body.extend([0; 4]);
            body.extend(u32::to_be_bytes(size));
            body.extend(u32::to_be_bytes(offset));
            body.extend([0; 4]);
        }
        body
    };
    let build = |offset: u32| {
        let index = index(map.len() as u32, offset);
        picture(&[(number, announced.clone()), (2, index)])
    };
    let first = build(0);
    let header = first.windows(4).position(|w| w == b"MPF\0").unwrap() + 4;
    let mut file = build((first.len() - header) as u32);
    assert_eq!(file.len(), first.len());
    file.extend(map);
    file
}

fn xmp(attributes: &str) -> Vec<u8> {
    let mut body = XMP.to_vec();
    body.extend(
        format!(
            r#"<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description xmlns:hdrgm="http://ns.adobe.com/hdr-gain-map/1.0/" hdrgm:Version="1.0" {attributes}/></rdf:RDF></x:xmpmeta>"#
        )
        .bytes(),
    );
    body
}

/// The standard's block for three channels, each a fraction of a million.
fn iso(channels: &[[f64; 5]], headroom: [u32; 2]) -> Vec<u8> {
    let mut body = ISO.to_vec();
    body.extend([0, 0, 0, 0, if channels.len() == 3 { 0xc0 } else { 0x40 }]);
    for n in headroom {
        body.extend(n.to_be_bytes());
        body.extend(1_u32.to_be_bytes());
    }
    for value in channels.iter().flatten() {
        body.extend((libm::round(value * 1e6) as i32).to_be_bytes());
        body.extend(1_000_000_u32.to_be_bytes());
    }
    body
}

/// What the formula gives for the decoded codes of the picture, AP1, and what came.
fn check(file: &[u8], codes: [u8; 3], said: [[f64; 5]; 3]) {
    let plain = decode(&picture(&[])).unwrap();
    let map = decode(&jpeg(&codes.repeat(32), (8, 4), &[])).unwrap();
    let found = decode(file).unwrap();
    assert_eq!(found.notes, Vec::<String>::new());
    let suggestion = suggest(&found, "shot.jpg");
    assert_eq!(suggestion.encoding, EncodingId::AcesCct);
    assert!(matches!(found.samples, Samples::U16(_)));
    let to_ap1 = rgb_to_rgb(&BT709, &AP1, Cat::Bradford);
    let mut brightest = 0.0_f64;
    for (x, y) in [(0, 0), (7, 3), (31, 15), (16, 9), (31, 0)] {
        let (code, gain) = (plain.pixel(x, y), map.pixel(4, 2));
        let light = [0, 1, 2].map(|c| {
            let [min, max, gamma, sdr, hdr] = said[c];
            let s = f64::from(code[c]);
            let linear = if s <= 0.04045 {
                s / 12.92
            } else {
                libm::pow((s + 0.055) / 1.055, 2.4)
            };
            let boost = min + (max - min) * libm::pow(f64::from(gain[c]), 1.0 / gamma);
            (linear + sdr) * libm::exp2(boost) - hdr
        });
        let expected = to_ap1.apply(light);
        let came = found
            .pixel(x, y)
            .map(|c| f64::from(Curve::AcesCct.decode(c)));
        for (a, b) in came.iter().zip(expected) {
            assert!(
                (a - b).abs() < 2e-4 * (1.0 + b.abs()),
                "{came:?} for {expected:?} at {x}, {y}"
            );
            brightest = brightest.max(*a);
        }
    }
    assert!(brightest > 1.5, "nothing lies above white: {brightest}");
}

#[test]
fn xmp_says_the_boost_of_all_channels() {
    let said = [[0.25, 2.5, 1.3, 1.0 / 64.0, 0.01]; 3];
    let attributes = r#"hdrgm:GainMapMin="0.25" hdrgm:GainMapMax="2.5" hdrgm:Gamma="1.3" hdrgm:OffsetHDR="0.01" hdrgm:HDRCapacityMax="2.5""#;
    let file = with_map(xmp(""), xmp(attributes), [200; 3]);
    check(&file, [200; 3], said);
}

#[test]
fn the_standard_s_block_says_it_for_each_channel() {
    let said = [
        [-0.5, 3.0, 1.0, 0.015_625, 0.015_625],
        [0.0, 2.0, 0.5, 0.0, 0.0],
        [0.1, 2.5, 2.0, 0.02, 0.01],
    ];
    let mut announced = ISO.to_vec();
    announced.extend([0; 4]);
    let codes = [220, 180, 240];
    let file = with_map(announced.clone(), iso(&said, [0, 3]), codes);
    check(&file, codes, said);
    let grey = [said[0]; 3];
    check(
        &with_map(announced, iso(&grey[..1], [0, 3]), [128; 3]),
        [128; 3],
        grey,
    );
}

#[test]
fn a_map_that_can_t_be_used_leaves_the_picture_as_it_is() {
    let plain = decode(&picture(&[])).unwrap();
    let left = |file: &[u8]| -> Decoded {
        let found = decode(file).unwrap();
        assert_eq!(found.samples, plain.samples);
        assert!(
            found.notes.iter().any(|note| note.contains("gain map")),
            "{:?}",
            found.notes
        );
        assert!(matches!(found.colour, ColourHint::Untagged));
        found
    };
    let good = with_map(xmp(""), xmp(r#"hdrgm:GainMapMax="2""#), [200; 3]);
    // Cut within the map, cut off whole, the wrong way round, numbers that are none.
    left(&good[..good.len() - 40]);
    left(&good[..good.len() - 700]);
    for said in [
        r#"hdrgm:GainMapMax="2" hdrgm:BaseRenditionIsHDR="True""#,
        r#"hdrgm:GainMapMax="much""#,
        r#"hdrgm:GainMapMax="1e300""#,
        r#"hdrgm:GainMapMax="2" hdrgm:Gamma="0""#,
    ] {
        left(&with_map(xmp(""), xmp(said), [200; 3]));
    }
    let mut announced = ISO.to_vec();
    announced.extend([0; 4]);
    left(&with_map(
        announced.clone(),
        iso(&[[0.0, 2.0, 1.0, 0.0, 0.0]], [3, 0]),
        [9; 3],
    ));
    left(&with_map(announced, ISO.to_vec(), [9; 3]));
}
