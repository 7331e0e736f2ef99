//! Gain maps against their formula in closed form (ISO 21496-1, 6), with files that are put together here:
//! a picture, its multi-picture index (CIPA DC-007), its map, and what is said of that as XMP or as the
//! standard's block.

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

#[path = "support/gain_map.rs"]
mod files;

use files::{ISO, iso, jpeg, picture, with_map, xmp};
use lookwright_colour::encoding::{Curve, EncodingId};
use lookwright_colour::space::{Cat, primaries::AP1, primaries::BT709, rgb_to_rgb};
use lookwright_picture::{ColourHint, Decoded, Samples, decode, suggest};

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
    left(&with_map(announced.clone(), ISO.to_vec(), [9; 3]));
    // Each reason has words of its own: version 1 at the least, and the other picture's primaries.
    let said = |block: Vec<u8>| {
        left(&with_map(announced.clone(), block, [9; 3]))
            .notes
            .join(" ")
    };
    let mut later = iso(&[[0.0, 2.0, 1.0, 0.0, 0.0]], [0, 3]);
    later[ISO.len() + 1] = 1;
    assert!(said(later).contains("later sort"));
    let mut foreign = iso(&[[0.0, 2.0, 1.0, 0.0, 0.0]; 3], [0, 3]);
    foreign[ISO.len() + 4] = 0x80;
    assert!(said(foreign).contains("primaries of another picture"));
}

#[test]
fn offsets_may_be_below_nothing() {
    let said = [[0.0, 2.0, 1.0, -0.001, -0.02]; 3];
    let mut announced = ISO.to_vec();
    announced.extend([0; 4]);
    check(
        &with_map(announced, iso(&said, [0, 3]), [210; 3]),
        [210; 3],
        said,
    );
}
