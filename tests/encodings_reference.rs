//! Encodings, spaces, whites and colour difference against colour-science and OpenColorIO.
//!
//! The values in `reference/encodings.json` are written by `reference/encodings.py`; the versions
//! of both libraries stand in the file.

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

use lookwright_colour::encoding::{Curve, EncodingId};
use lookwright_colour::space::{
    Cat, Lab, Primaries, Xy, adaptation, daylight, delta_e_2000, planck, planckian_white,
    primaries, rgb_to_rgb, temperature_of, white,
};
use lookwright_colour::{Mat3, Rgb};
use serde_json::Value;

/// Code error of a curve in single precision, relative to max(1, |code|): a few units in the last
/// place of the logarithm and of the code itself.
const CODE_TOLERANCE: f64 = 2e-7;
/// Light error of a curve, relative to the light: an exponential magnifies the rounding of its
/// argument, and 1 in the last place of a code near 1 is already 1e-6 of the light.
const LIGHT_TOLERANCE: f64 = 2e-6;
/// What the roundings of PQ are more, as it takes a power of 79.
const PQ: f64 = 60.0;
/// Light error near black, where bias (about 0.01 of light) and exponential nearly cancel; for D-Log
/// it also covers its printed way back, which rounds the constants of the way there.
const BLACK_TOLERANCE: f64 = 5e-8;
/// Matrices in double precision against double precision.
const MATRIX_TOLERANCE: f64 = 1e-9;

fn reference() -> Value {
    serde_json::from_str(include_str!("reference/encodings.json")).unwrap()
}

fn numbers(value: &Value) -> Vec<f64> {
    let items = value.as_array().unwrap();
    items.iter().map(|v| v.as_f64().unwrap()).collect()
}

fn triple(value: &Value) -> [f64; 3] {
    numbers(value).try_into().unwrap()
}

fn xy(value: &Value) -> Xy {
    let [x, y] = numbers(value).try_into().unwrap();
    Xy::new(x, y)
}

fn entries(value: &Value) -> impl Iterator<Item = (&String, &Value)> {
    value.as_object().unwrap().iter()
}

fn items(value: &Value) -> &Vec<Value> {
    let items = value.as_array().unwrap();
    assert!(!items.is_empty());
    items
}

fn cat(value: &Value) -> Cat {
    match value.as_str().unwrap() {
        "Bradford" => Cat::Bradford,
        "CAT02" => Cat::Cat02,
        "CAT16" => Cat::Cat16,
        other => panic!("no such adaptation: {other}"),
    }
}

fn curve(name: &str) -> Curve {
    match name {
        "slog3" => Curve::SLog3,
        "film-scan" => Curve::FilmScan,
        "bt1886" => Curve::Bt1886,
        "bt709-oetf" => Curve::Bt709Oetf,
        "bt2020-oetf" => Curve::Bt2020Oetf,
        id => EncodingId::parse(id).unwrap().info().curve,
    }
}

fn share(name: &str) -> f64 {
    if name == "pq" { PQ } else { 1.0 }
}

fn assert_matrix(what: &str, ours: &Mat3, theirs: &Value, tolerance: f64) {
    let theirs = numbers(theirs);
    assert_eq!(theirs.len(), 9);
    for (i, cell) in ours.0.iter().flatten().enumerate() {
        let error = (cell - theirs[i]).abs();
        assert!(
            error < tolerance,
            "{what}, cell {i}: {cell} for {}",
            theirs[i]
        );
    }
}

#[test]
fn codes_decode_to_the_reference_light() {
    for (name, rows) in entries(&reference()["curves"]) {
        let (codes, lights) = (numbers(&rows["code"]), numbers(&rows["decoded"]));
        assert_eq!(codes.len(), 200, "{name}");
        for (code, light) in codes.into_iter().zip(lights) {
            let ours = f64::from(curve(name).decode(code as f32));
            let error = (ours - light).abs();
            assert!(
                error < share(name) * LIGHT_TOLERANCE * light.abs() + BLACK_TOLERANCE,
                "{name}: code {code} gives {ours}, reference {light}, off by {error:e}"
            );
        }
    }
}

#[test]
fn light_encodes_to_the_reference_code() {
    for (name, rows) in entries(&reference()["curves"]) {
        let (lights, codes) = (numbers(&rows["light"]), numbers(&rows["encoded"]));
        assert_eq!(lights.len(), 200, "{name}");
        for (light, code) in lights.into_iter().zip(codes) {
            let ours = f64::from(curve(name).encode(light as f32));
            let error = (ours - code).abs();
            assert!(
                error < share(name) * CODE_TOLERANCE * code.abs().max(1.0),
                "{name}: light {light} gives {ours}, reference {code}, off by {error:e}"
            );
        }
    }
}

#[test]
fn every_encoding_has_the_reference_primaries_and_matrices() {
    let reference = reference();
    for id in EncodingId::ALL {
        let e = id.info();
        let row = &reference["spaces"][e.id];
        let [red, green, blue] = e.primaries.rgb();
        let ours = [red.x, red.y, green.x, green.y, blue.x, blue.y];
        for (ours, theirs) in ours.iter().zip(numbers(&row["primaries"])) {
            // The file holds twelve digits.
            assert!(
                (ours - theirs).abs() < 1e-12,
                "{}: {ours} for {theirs}",
                e.id
            );
        }
        assert_eq!(e.primaries.white(), xy(&row["white"]), "{}", e.id);
        assert_eq!(e.cat, cat(&row["cat"]), "{}", e.id);
        let to_xyz = e.primaries.rgb_to_xyz();
        assert_matrix(e.id, &to_xyz, &row["rgb_to_xyz"], MATRIX_TOLERANCE);
        assert_matrix(e.id, &id.to_scene().1, &row["to_ap1"], MATRIX_TOLERANCE);
        let to_bt709 = rgb_to_rgb(&e.primaries, &primaries::BT709, Cat::Bradford);
        assert_matrix(e.id, &to_bt709, &row["to_bt709_bradford"], MATRIX_TOLERANCE);
    }
}

#[test]
fn the_whole_way_agrees_with_the_second_library() {
    // OpenColorIO works in single precision with tabulated or rounded steps.
    const TOLERANCE: f64 = 1e-5;
    let ap1_to_ap0 = rgb_to_rgb(&primaries::AP1, &primaries::AP0, Cat::Bradford);
    for (name, row) in entries(&reference()["builtins"]) {
        let id = EncodingId::parse(name).unwrap();
        let (curve, to_ap1) = id.to_scene();
        let unmixing = id.unmixing().unwrap_or(Mat3::IDENTITY).for_pixels();
        // The last row of ADX's printed matrix makes 0.99999, of which greys would not stay grey.
        let printed = if id.unmixing().is_some() { 1e-5 } else { 0.0 };
        for (code, ap0) in items(&row["code"]).iter().zip(items(&row["ap0"])) {
            let code = triple(code).map(|v| v as f32);
            let lin = unmixing
                .apply(Rgb::from_array(code))
                .map(|v| curve.decode(v));
            let ours = ap1_to_ap0.after(&to_ap1).for_pixels().apply(lin).to_array();
            let theirs = triple(ap0);
            let scale = theirs.iter().fold(0.1_f64, |m, v| m.max(v.abs()));
            for (a, b) in ours.iter().zip(theirs) {
                let error = (f64::from(*a) - b).abs() / scale;
                assert!(
                    error < TOLERANCE + printed,
                    "{name} {code:?}: {ours:?} for {theirs:?}"
                );
            }
        }
    }
}

#[test]
fn adaptations_between_whites_agree() {
    for row in items(&reference()["adaptations"]) {
        let ours = cat(&row["cat"]).xyz(xy(&row["from"]), xy(&row["to"]));
        let what = format!("{} to {}", row["cat"], row["name"]);
        assert_matrix(&what, &ours, &row["xyz"], MATRIX_TOLERANCE);
    }
}

#[test]
fn black_bodies_agree_to_the_sum_over_every_nanometre() {
    for row in items(&reference()["black_bodies"]) {
        let (ours, theirs) = (planck(row["kelvin"].as_f64().unwrap()), xy(&row["xy"]));
        let error = (ours.x - theirs.x).abs().max((ours.y - theirs.y).abs());
        assert!(error < 5e-6, "{}: {ours:?} for {theirs:?}", row["kelvin"]);
    }
}

#[test]
fn daylights_agree() {
    for row in items(&reference()["daylights"]) {
        let (ours, theirs) = (daylight(row["kelvin"].as_f64().unwrap()), xy(&row["xy"]));
        let error = (ours.x - theirs.x).abs().max((ours.y - theirs.y).abs());
        assert!(error < 1e-9, "{}: {ours:?} for {theirs:?}", row["kelvin"]);
    }
}

#[test]
fn temperature_and_tint_give_the_reference_white() {
    // Ohno's method steps along a table of the locus and interpolates.
    const TOLERANCE: f64 = 1e-5;
    for row in items(&reference()["temperatures"]) {
        let (kelvin, duv) = (
            row["kelvin"].as_f64().unwrap(),
            row["duv"].as_f64().unwrap(),
        );
        let (ours, theirs) = (planckian_white(kelvin, duv), xy(&row["xy"]));
        let error = (ours.x - theirs.x).abs().max((ours.y - theirs.y).abs());
        assert!(
            error < TOLERANCE,
            "{kelvin} K, {duv}: {ours:?} for {theirs:?}"
        );
    }
}

#[test]
fn whites_have_the_reference_temperature_and_tint() {
    for row in items(&reference()["measured_temperatures"]) {
        let ours = temperature_of(xy(&row["xy"]));
        let kelvin = row["kelvin"].as_f64().unwrap();
        let duv = row["duv"].as_f64().unwrap();
        let name = &row["name"];
        assert!(
            (ours.kelvin - kelvin).abs() < 0.5,
            "{name}: {ours:?} for {kelvin}"
        );
        assert!((ours.duv - duv).abs() < 2e-6, "{name}: {ours:?} for {duv}");
    }
}

#[test]
fn the_chart_keeps_its_colours() {
    let reference = reference();
    let paper = xy(&reference["chart_white"]);
    let to_rgb = |space: &Primaries, xyz| {
        let adapt = Cat::Bradford.xyz(paper, space.white());
        space.xyz_to_rgb().after(&adapt).apply(xyz)
    };
    let chart = items(&reference["chart"]);
    assert_eq!(chart.len(), 24);
    for patch in chart {
        let [x, y, luminance] = triple(&patch["xyY"]);
        let xyz = Xy::new(x, y).to_xyz().map(|v| v * luminance);
        let lab = Lab::from_xyz(xyz, paper);
        let ours = [
            [lab.l, lab.a, lab.b],
            to_rgb(&primaries::BT709, xyz),
            to_rgb(&primaries::AP1, xyz),
        ];
        for (ours, key) in ours.iter().zip(["lab", "bt709", "ap1"]) {
            for (a, b) in ours.iter().zip(triple(&patch[key])) {
                assert!((a - b).abs() < 1e-8, "{} {key}: {a} for {b}", patch["name"]);
            }
        }
        let back = lab.to_xyz(paper);
        for (a, b) in back.iter().zip(xyz) {
            assert!((a - b).abs() < 1e-14, "{}: {a} for {b}", patch["name"]);
        }
    }
}

#[test]
fn colour_differences_agree() {
    let lab = |v: &Value| {
        let [l, a, b] = triple(v);
        Lab { l, a, b }
    };
    for row in items(&reference()["differences"]) {
        let ours = delta_e_2000(lab(&row["first"]), lab(&row["second"]));
        let theirs = row["de2000"].as_f64().unwrap();
        assert!((ours - theirs).abs() < 1e-9, "{ours} for {theirs}");
    }
}

#[test]
fn white_balance_in_working_rgb_is_the_reference_adaptation() {
    for row in items(&reference()["adaptations"]) {
        let (from, to) = (xy(&row["from"]), xy(&row["to"]));
        let ours = adaptation(&primaries::AP1, from, to, cat(&row["cat"]));
        let in_xyz = primaries::AP1
            .rgb_to_xyz()
            .after(&ours)
            .after(&primaries::AP1.xyz_to_rgb());
        assert_matrix("balance", &in_xyz, &row["xyz"], MATRIX_TOLERANCE);
    }
    assert_eq!(
        adaptation(&primaries::AP1, white::D65, white::D65, Cat::Bradford),
        Mat3::IDENTITY
    );
}
