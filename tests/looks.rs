//! The library of looks: every file reads, says what it is for, and holds.
//!
//! Ramps have 4096 steps in ACEScct, whose 10.3 stops over mid-grey and 10 under hold any frame.
//! What a look may do to greys and skin: common practice, no source.

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use lookwright_colour::Rgb;
use lookwright_colour::space::{Lab, primaries::BT709, white::D65};
use lookwright_film::look::{Balance, Delivery, Frame, Look};
use lookwright_film::path::LightPath;
use lookwright_film::path::scan::LUMA;
use lookwright_table::Grid3;
use lookwright_table::health::{Setting, slopes};
use serde_json::Value;

const STEPS: i32 = 4096;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../web/looks")
}

fn index() -> Vec<Value> {
    let text = fs::read_to_string(folder().join("index.json")).unwrap();
    serde_json::from_str(&text).unwrap()
}

fn looks() -> Vec<(String, Look)> {
    let read = |entry: &Value| {
        let file = entry["file"].as_str().unwrap();
        let text = fs::read_to_string(folder().join(file)).unwrap();
        let look = Look::read(&text);
        (
            entry["id"].as_str().unwrap().to_owned(),
            look.unwrap_or_else(|error| panic!("{file}: {error}")),
        )
    };
    index().iter().map(read).collect()
}

fn path_of(look: &Look, encoding: &str) -> LightPath {
    let frame = format!(r#"{{"source":{{"encoding":"{encoding}"}}}}"#);
    LightPath::new(look, &Frame::read(&frame).unwrap(), &Delivery::default())
}

fn lab(code: Rgb) -> Lab {
    let light = code.to_array().map(|c| libm::pow(f64::from(c), 2.4));
    Lab::from_xyz(BT709.rgb_to_xyz().apply(light), D65)
}

#[test]
fn the_index_names_every_look_and_says_what_it_says() {
    let entries = index();
    assert!(entries.len() >= 12);
    let mut files = BTreeSet::from(["index.json".to_owned()]);
    for (entry, (id, look)) in entries.iter().zip(looks()) {
        let file = entry["file"].as_str().unwrap().to_owned();
        assert_eq!(file, format!("{id}.json"));
        assert_eq!(entry["title"], look.name.as_str(), "{id}");
        assert_eq!(entry["note"], look.note.as_str(), "{id}");
        assert!(look.note.len() > 40 && look.note.ends_with('.'), "{id}");
        assert!(files.insert(file), "{id} is listed twice");
    }
    let found = fs::read_dir(folder()).unwrap();
    let found: BTreeSet<_> = found
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    assert_eq!(found, files);
}

#[test]
fn every_look_reads_back_from_its_canonical_form() {
    let mut fingerprints = BTreeSet::new();
    for (id, look) in looks() {
        let again = Look::read(&look.canonical()).unwrap();
        assert_eq!(again, look, "{id}");
        assert_eq!(again.canonical(), look.canonical(), "{id}");
        assert!(
            fingerprints.insert(look.fingerprint()),
            "{id} is another's double"
        );
    }
}

#[test]
fn a_slow_ramp_shows_no_reversal_and_no_step() {
    for (id, look) in looks() {
        let path = path_of(&look, "acescct");
        let codes: Vec<Rgb> = (0..=STEPS)
            .map(|i| path.to_screen(Rgb::grey(i as f32 / STEPS as f32)))
            .collect();
        let luma = |code: &Rgb| -> f64 {
            let weighted = code.to_array().into_iter().zip(LUMA);
            weighted.map(|(c, w)| f64::from(c) * f64::from(w)).sum()
        };
        let steps: Vec<f64> = codes
            .windows(2)
            .map(|w| luma(&w[1]) - luma(&w[0]))
            .collect();
        let steepest = steps.iter().fold(0.0_f64, |m, v| m.max(*v));
        // 2.5e-7 is the last bits of a code near 1. A step of one code where light begins: there a
        // positive is steepest.
        for (i, step) in steps.iter().enumerate() {
            assert!(*step > -2.5e-7, "{id} falls at {i} by {step}");
            // What the slope explains: the mean rise of the sixteen steps around.
            let around = &steps[i.saturating_sub(8)..(i + 8).min(steps.len())];
            let explained = around.iter().sum::<f64>() / around.len() as f64;
            assert!(
                *step < 1.25 * explained.max(0.0) + 4e-3,
                "{id} steps by {step} at {i} where its slope explains {explained}"
            );
        }
        // Less than a code and a half of 8 bits to a step, and so well within 10 bits' reach.
        assert!(steepest < 1.5 / 255.0, "{id}: {steepest}");
    }
}

#[test]
fn no_look_folds_ordinary_colours_in_a_table() {
    let mut folds = Vec::new();
    for (id, look) in looks() {
        let path = path_of(&look, "logc3");
        for size in [17, 33, 65] {
            let to_screen = |code| path.to_screen(Rgb::from_array(code)).to_array();
            let grid = Grid3::sample_codes(size, to_screen).unwrap();
            let found = slopes(&grid, Setting::default()).unwrap();
            if found.folded_ordinary > 0.0 {
                folds.push(format!("{id}, {size}: {found:?}"));
            }
        }
    }
    assert!(folds.is_empty(), "{folds:#?}");
}

#[test]
fn every_look_holds_from_black_to_the_brightest_lamp() {
    for (id, look) in looks() {
        let path = path_of(&look, "acescg");
        let at = |stops: f64| lab(path.to_screen(Rgb::grey((0.18 * libm::exp2(stops)) as f32)));
        let (black, grey, white, lamp) = (at(-8.0), at(0.0), at(2.3), at(6.0));
        assert!(black.l < 9.0, "{id} black {black:?}");
        assert!((35.0..=58.0).contains(&grey.l), "{id} grey {grey:?}");
        assert!((72.0..=95.0).contains(&white.l), "{id} white {white:?}");
        assert!(
            lamp.l > white.l + 2.0 && lamp.l < 99.9,
            "{id} lamp {lamp:?}"
        );
        // The film's own whites and greys may be tinted, but stay whites and greys.
        for neutral in [black, grey, white, lamp] {
            assert!(neutral.chroma() < 16.0, "{id} {neutral:?}");
        }
    }
}

#[test]
fn colour_looks_leave_skin_a_skin() {
    // Chart patches 1 and 2 (colour-science 0.4.7, after November 2014), as AP1 light.
    let reference: Value = serde_json::from_str(include_str!("reference/encodings.json")).unwrap();
    for (id, look) in looks() {
        if look.negative.stock.balance == Balance::Panchromatic {
            continue;
        }
        let path = path_of(&look, "acescg");
        for patch in &reference["chart"].as_array().unwrap()[..2] {
            let ap1 = [0, 1, 2].map(|i| patch["ap1"][i].as_f64().unwrap() as f32);
            let skin = lab(path.to_screen(Rgb::from_array(ap1)));
            // Between red and yellow, neither grey nor orange.
            assert!(
                (20.0..=75.0).contains(&skin.hue_degrees()),
                "{id}, {}: hue {}",
                patch["name"],
                skin.hue_degrees()
            );
            assert!((8.0..=48.0).contains(&skin.chroma()), "{id}: {skin:?}");
        }
    }
}
