//! A still to match: the 24-patch chart through a known look is found again.
//!
//! Patches: colour-science 0.4.7, `ColorChecker24 - After November 2014` (in
//! `reference/encodings.json`). The still is the chart through a look of the library, without texture; the
//! match begins with a starting look that knows nothing of it. The bar of 3 CIEDE2000 on average is what
//! careful viewers accept between two pictures (common practice, no source).

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

use lookwright_colour::encoding::EncodingId;
use lookwright_colour::space::{Lab, delta_e_2000, primaries::BT709, white::D65};
use lookwright_colour::{Rgb, encoding::Curve};
use lookwright_film::look::{Delivery, Frame, Look};
use lookwright_film::path::LightPath;
use lookwright_film::spatial::Planes;
use lookwright_render::judge::match_still;
use serde_json::Value;

const ACCEPTED: f64 = 3.0;

/// Two rows of exposures of the chart: as it is and two stops darker.
fn chart() -> Planes {
    let reference: Value = serde_json::from_str(include_str!("reference/encodings.json")).unwrap();
    let patches = reference["chart"].as_array().unwrap();
    assert_eq!(patches.len(), 24);
    let of = |channel: usize| {
        let light = |gain: f32| {
            patches
                .iter()
                .map(move |patch| patch["ap1"][channel].as_f64().unwrap() as f32 * gain)
        };
        light(1.0).chain(light(0.25)).collect()
    };
    planes(24, 2, [of(0), of(1), of(2)])
}

fn planes(width: usize, height: usize, planes: [Vec<f32>; 3]) -> Planes {
    Planes {
        width,
        height,
        planes,
    }
}

fn scene() -> Frame {
    Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap()
}

fn finished() -> Frame {
    let mut frame = Frame::default();
    frame.source.encoding = EncodingId::Srgb;
    frame
}

/// In the code of an sRGB screen.
fn through(look: &Look, chart: &Planes) -> Planes {
    let delivery = Delivery::read(r#"{"display":{"screen":"srgb"}}"#).unwrap();
    let path = LightPath::new(look, &scene(), &delivery);
    let mut out = chart.clone();
    for i in 0..chart.pixels() {
        let pixel = Rgb::from_array([0, 1, 2].map(|c| chart.planes[c][i]));
        let code = path.up_to(lookwright_film::look::StageId::Screen, pixel);
        for (plane, value) in out.planes.iter_mut().zip(code.to_array()) {
            plane[i] = value;
        }
    }
    out
}

fn lab(picture: &Planes, i: usize) -> Lab {
    let light = [0, 1, 2].map(|c| f64::from(Curve::Srgb.decode(picture.planes[c][i])));
    Lab::from_xyz(BT709.rgb_to_xyz().apply(light), D65)
}

fn apart(a: &Planes, b: &Planes) -> f64 {
    let sum: f64 = (0..a.pixels())
        .map(|i| delta_e_2000(lab(a, i), lab(b, i)))
        .sum();
    sum / a.pixels() as f64
}

/// The same patches elsewhere, so that nothing lies at its place.
fn shuffled(picture: &Planes) -> Planes {
    let count = picture.pixels();
    let from = |i: usize| (i * 29 + 17) % count;
    let plane = |c: usize| (0..count).map(|i| picture.planes[c][from(i)]).collect();
    planes(
        picture.height,
        picture.width,
        [plane(0), plane(1), plane(2)],
    )
}

fn library() -> Vec<Look> {
    [
        include_str!("../web/looks/kitchen-window.json"),
        include_str!("../web/looks/white-sails.json"),
        include_str!("../web/looks/grey-quay.json"),
        include_str!("../web/looks/galley-lamp.json"),
    ]
    .iter()
    .map(|json| Look::read(json).unwrap().without_texture())
    .collect()
}

/// How far the look that is found leaves the chart from the still, for each look of the library.
fn check(library: &[Look], same_picture: bool, seen: impl Fn(&Planes) -> Planes) {
    let chart = chart();
    for known in library {
        let still = through(known, &chart);
        let begun = Look::default().without_texture();
        let found = match_still(&chart, &scene(), &begun, &seen(&still), &finished(), 0.0).unwrap();
        let away = apart(&through(&found.look, &chart), &still);
        assert_eq!(found.same_picture, same_picture);
        assert!(away < ACCEPTED, "{}: {away}", known.name);
    }
}

#[test]
fn a_known_look_is_found_again_place_by_place() {
    check(&library(), true, Clone::clone);
}

#[test]
fn a_known_look_is_found_again_by_what_the_pictures_are_like() {
    // The fourth look is not: what is left of it could as well be another thing in the picture.
    check(&library()[..3], false, shuffled);
}
