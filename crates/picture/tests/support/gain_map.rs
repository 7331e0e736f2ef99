//! Files with a gain map.

use jpeg_encoder::{ColorType, Encoder, SamplingFactor};

const SIZE: (u16, u16) = (32, 16);
const XMP: &[u8] = b"http://ns.adobe.com/xap/1.0/\0";
pub(crate) const ISO: &[u8] = b"urn:iso:std:iso:ts:21496:-1\0";

/// A picture of many colours.
pub(crate) fn picture(segments: &[(u8, Vec<u8>)]) -> Vec<u8> {
    let (width, height) = SIZE;
    let mut pixels = Vec::new();
    for y in 0..height {
        for x in 0..width {
            pixels.extend([(x * 8) as u8, (y * 16) as u8, ((x + y) * 5) as u8]);
        }
    }
    jpeg(&pixels, SIZE, segments)
}

pub(crate) fn jpeg(
    pixels: &[u8],
    (width, height): (u16, u16),
    segments: &[(u8, Vec<u8>)],
) -> Vec<u8> {
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
pub(crate) fn with_map(announced: Vec<u8>, said: Vec<u8>, codes: [u8; 3]) -> Vec<u8> {
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

pub(crate) fn xmp(attributes: &str) -> Vec<u8> {
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
pub(crate) fn iso(channels: &[[f64; 5]], headroom: [u32; 2]) -> Vec<u8> {
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
