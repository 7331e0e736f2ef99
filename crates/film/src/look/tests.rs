//! The look as data: round trips, canonical form, and what bad files are told.

use super::*;

#[test]
fn a_starting_look_writes_only_what_differs() {
    assert_eq!(Look::default().canonical(), r#"{"lookwright":3}"#);
    assert_eq!(
        Look::starting(StartingStock::Noon).canonical(),
        r#"{"lookwright":3,"name":"Noon start","negative":{"stock":{"speed":40}}}"#
    );
}

#[test]
fn canonical_form_reads_back_the_same() {
    let mut look = Look::starting(StartingStock::Overcast);
    look.note = "Lamps, \"wet\" quay\n".into();
    look.lens.exposure.stops = 0.1 + 0.2;
    look.scan.points.red = -2.25;
    look.scan.curves.red = vec![[0.0, 0.0], [0.5, 0.5], [1.0, 0.93]];
    look.scan.contrast.amount = 1.5;
    look.negative.grain.on = false;
    look.negative.grain.seed = 77.0;
    for text in [look.canonical(), look.pretty()] {
        let again = Look::read(&text).unwrap();
        assert_eq!(again, look);
        assert_eq!(again.fingerprint(), look.fingerprint());
    }
    assert!(look.canonical().contains(r#""stops":0.30000000000000004"#));
    assert!(look.canonical().contains(r#""red":-2.25"#));
    assert!(look.canonical().contains(r#""seed":77}"#));
}

#[test]
fn key_order_and_white_space_do_not_change_the_fingerprint() {
    let a = Look::read(r#"{"lookwright":3,"scan":{"contrast":{"slope":1.5,"pivot":480}}}"#);
    let b = Look::read(
        "{\n \"scan\": {\"contrast\": {\"pivot\": 480.0, \"slope\": 1.50}}, \"lookwright\": 3}",
    );
    assert_eq!(a.unwrap().fingerprint(), b.unwrap().fingerprint());
}

#[test]
fn the_fingerprint_is_of_the_canonical_bytes_and_the_model() {
    // Value from coreutils: printf '{"look":{"lookwright":3},"model":1}' | sha256sum
    assert_eq!(
        Look::default().fingerprint(),
        "65cfef0988b5d643237c831614aaffe757dc1a1d7214c638a5c44446c5692e6f"
    );
}

#[test]
fn a_name_and_a_note_change_no_pixel_and_no_fingerprint() {
    let mut look = Look::starting(StartingStock::Noon);
    let before = look.fingerprint();
    look.name = "Kitchen window".into();
    look.note = "Ask Ada about the curtain.".into();
    assert_eq!(look.fingerprint(), before);
    look.scan.contrast.slope += 0.01;
    assert_ne!(look.fingerprint(), before);
}

#[test]
fn numbers_are_written_as_rfc_8785_says() {
    // From the RFC's appendix B: IEEE 754 bits and the text that ECMAScript writes.
    for (bits, text) in [
        (0x8000_0000_0000_0000, "0"),
        (0x0000_0000_0000_0001, "5e-324"),
        (0x4340_0000_0000_0001, "9007199254740994"),
        (0x4430_0000_0000_0000, "295147905179352830000"),
        (0x44b5_2d02_c7e1_4af5, "9.999999999999997e+22"),
        (0x3eb0_c6f7_a0b5_ed8d, "0.000001"),
        (0x3eb0_c6f7_a0b5_ed8c, "9.999999999999997e-7"),
        (0x41b3_de43_5555_5553, "333333333.3333332"),
    ] {
        let number = serde_json::Value::from(f64::from_bits(bits));
        assert_eq!(canonical::canonical_json(&number), text);
    }
}

#[test]
fn names_are_as_long_in_any_script() {
    for letter in ["x", "\u{e9}", "\u{6e2f}", "\u{1f39e}"] {
        let json = format!(r#"{{"lookwright":1,"name":"{}"}}"#, letter.repeat(200));
        assert_eq!(Look::read(&json).unwrap().name, letter.repeat(200));
    }
}

#[test]
fn bad_looks_get_one_sentence_with_the_path_of_the_key() {
    let long = format!(r#"{{"lookwright":3,"name":"{}"}}"#, "x".repeat(201));
    let cases: &[(&str, &str)] = &[
        (
            "",
            "this is not valid JSON: EOF while parsing a value at line 1 column 0",
        ),
        (
            "{",
            "this is not valid JSON: EOF while parsing an object at line 1 column 1",
        ),
        (
            "[]",
            "expected a look, an object in braces, but found a list",
        ),
        ("7", "expected a look, an object in braces, but found 7"),
        (
            "{}",
            "lookwright: a look file says \"lookwright\": 3, and this one does not",
        ),
        (
            r#"{"lookwright":4}"#,
            "lookwright: this file's version is 4; this program reads versions 1 to 3",
        ),
        (
            r#"{"lookwright":"1"}"#,
            "lookwright: this file's version is \"1\"; this program reads versions 1 to 3",
        ),
        (
            r#"{"lookwright":3,"lense":{}}"#,
            "lense: unknown key; did you mean \"lens\"?",
        ),
        (
            r#"{"lookwright":3,"grading":{}}"#,
            "grading: unknown key; known keys are lookwright, name, note, lens, negative, scan, print",
        ),
        (
            r#"{"lookwright":3,"name":7}"#,
            "name: expected text, found 7",
        ),
        (&long, "name: 201 characters long; at most 200 are allowed"),
        (
            r#"{"lookwright":3,"scan":[]}"#,
            "scan: expected an object of steps, found a list",
        ),
        (
            r#"{"lookwright":3,"scan":{"contrst":{}}}"#,
            "scan.contrst: unknown key; did you mean \"contrast\"?",
        ),
        (
            r#"{"lookwright":3,"scan":{"contrast":3}}"#,
            "scan.contrast: expected an object of controls, found 3",
        ),
        (
            r#"{"lookwright":3,"scan":{"contrast":{"slop":1}}}"#,
            "scan.contrast.slop: unknown key; did you mean \"slope\"?",
        ),
        (
            r#"{"lookwright":3,"scan":{"contrast":{"slope":9}}}"#,
            "scan.contrast.slope: 9 is out of range; it must be 0.4 to 4 x",
        ),
        (
            r#"{"lookwright":3,"scan":{"contrast":{"slope":"1.7"}}}"#,
            "scan.contrast.slope: expected a number in x, found the text \"1.7\"",
        ),
        (
            r#"{"lookwright":3,"scan":{"contrast":{"slope":null}}}"#,
            "scan.contrast.slope: expected a number in x, found null",
        ),
        (
            r#"{"lookwright":3,"scan":{"contrast":{"on":1}}}"#,
            "scan.contrast.on: expected true or false, found 1",
        ),
        (
            r#"{"lookwright":3,"scan":{"contrast":{"amount":2.5}}}"#,
            "scan.contrast.amount: 2.5 is out of range; it must be 0 to 2",
        ),
        (
            r#"{"lookwright":3,"scan":{"contrast":{"amount":-1}}}"#,
            "scan.contrast.amount: -1 is out of range; it must be 0 to 2",
        ),
        (
            r#"{"lookwright":3,"lens":{"light":{"kelvin":"5500K"}}}"#,
            "lens.light.kelvin: expected a number in K, found the text \"5500K\"",
        ),
        (
            r#"{"lookwright":3,"lens":{"light":{"kelvin":100}}}"#,
            "lens.light.kelvin: 100 is out of range; it must be 2000 to 12000 K",
        ),
        (
            r#"{"lookwright":3,"negative":{"stock":{"balance":"moon"}}}"#,
            "negative.stock.balance: \"moon\" is not one of lamp, day, panchromatic, orthochromatic",
        ),
        (
            r#"{"lookwright":3,"negative":{"stock":{"speed":12}}}"#,
            "negative.stock.speed: 12 is out of range; it must be 25 to 1600 ISO",
        ),
        (
            r#"{"lookwright":1,"negative":{"stock":{"class":"tungsten-800"}}}"#,
            "negative.stock.class: \"tungsten-800\" is not one of tungsten-500, tungsten-200, daylight-250, daylight-50, panchromatic-250; now a stock is a balance and a speed",
        ),
        (
            r#"{"lookwright":1,"negative":{"stock":{"class":"daylight-50","speed":64}}}"#,
            "negative.stock.class: it stands beside a balance or a speed; remove one of them",
        ),
        (
            r#"{"lookwright":3,"negative":{"grain":{"seed":1.5}}}"#,
            "negative.grain.seed: 1.5 must be a whole number",
        ),
        (
            r#"{"lookwright":3,"scan":{"curves":{"red":[[0,0]]}}}"#,
            "scan.curves.red: 1 points; a curve has none, or 2 to 16",
        ),
        (
            r#"{"lookwright":3,"scan":{"curves":{"red":[[0,0],[0,1]]}}}"#,
            "scan.curves.red: point 2 at 0 does not lie after the one before it; order the points by their first number and remove doubles",
        ),
        (
            r#"{"lookwright":3,"scan":{"curves":{"red":[[0,0],[1,2]]}}}"#,
            "scan.curves.red: point 2 is [1, 2]; both numbers must be 0 to 1",
        ),
        (
            r#"{"lookwright":3,"scan":{"curves":{"red":[0,1]}}}"#,
            "scan.curves.red: expected a list of [in, out] points, found a list",
        ),
        (
            r#"{"lookwright":3,"print":{"white":{"white":"d93"}}}"#,
            "print.white.white: \"d93\" is not one of d50, d55, d60, d65",
        ),
    ];
    assert!(cases.len() >= 30);
    for (text, sentence) in cases {
        assert_eq!(Look::read(text).unwrap_err().message(), *sentence, "{text}");
    }
}

#[test]
fn frames_and_deliveries_round_trip() {
    let frame = Frame::read(r#"{"source":{"encoding":"logc3"},"trim":{"exposure":0.3}}"#).unwrap();
    assert_eq!(frame.trim.exposure, 0.3);
    assert_eq!(Frame::read(&frame.canonical()).unwrap(), frame);
    assert_eq!(Frame::default().canonical(), "{}");
    let delivery = Delivery::read(r#"{"display":{"screen":"display-p3"}}"#).unwrap();
    assert_eq!(Delivery::read(&delivery.canonical()).unwrap(), delivery);
    let error = Frame::read(r#"{"source":{"encoding":"log-z"}}"#).unwrap_err();
    assert!(
        error
            .message()
            .starts_with("intake.source.encoding: \"log-z\" is not one of logc3")
    );
}

#[test]
fn every_description_is_sound() {
    let catalogue = catalogue();
    let stages = catalogue["stages"].as_array().unwrap();
    assert_eq!(stages.len(), StageId::ALL.len());
    for stage in stages {
        let about = stage["about"].as_str().unwrap();
        assert!(
            about.matches(". ").count() == 1 && about.ends_with('.'),
            "two sentences: {about}"
        );
        for step in stage["steps"].as_array().unwrap() {
            assert!(step["help"].as_str().unwrap().ends_with('.'));
            for control in step["controls"].as_array().unwrap() {
                let help = control["help"].as_str().unwrap();
                assert!(!control["label"].as_str().unwrap().is_empty() && help.ends_with('.'));
                if control["kind"] == "number" {
                    let number = |key: &str| control[key].as_f64().unwrap();
                    let within = |v: f64| (number("min")..=number("max")).contains(&v);
                    assert!(
                        within(number("default")) && within(number("neutral")),
                        "{control}"
                    );
                }
            }
        }
    }
}

#[test]
fn the_schema_knows_every_key_of_a_full_look() {
    let schema = json_schema();
    let look = Look::default();
    for (id, steps) in [
        (Lens::ID, look.lens.steps()),
        (Negative::ID, look.negative.steps()),
        (Scan::ID, look.scan.steps()),
        (Print::ID, look.print.steps()),
    ] {
        for step in steps {
            let entry = &schema["properties"][id]["properties"][step.spec().id];
            assert_eq!(entry["additionalProperties"], false);
            for control in step.spec().controls {
                assert!(
                    entry["properties"][control.id].is_object(),
                    "{}",
                    control.id
                );
            }
        }
    }
}

#[test]
fn bypass_and_without_texture_turn_the_right_steps_off() {
    let look = Look::default();
    assert!(look.has_texture());
    let plain = look.without_texture();
    assert!(!plain.has_texture() && plain.scan.contrast.on && plain.negative.stock.on);
    let mut bypassed = look.clone();
    bypassed.bypass(StageId::Scan);
    assert!(bypassed.scan.steps().iter().all(|s| !s.is_on()) && bypassed.negative.stock.on);
}

#[test]
fn old_files_name_their_stock_by_class_and_are_told_what_became_of_it() {
    for (class, balance, speed) in [
        ("tungsten-500", Balance::Lamp, 500.0),
        ("tungsten-200", Balance::Lamp, 200.0),
        ("daylight-250", Balance::Day, 250.0),
        ("daylight-50", Balance::Day, 50.0),
        ("panchromatic-250", Balance::Panchromatic, 250.0),
    ] {
        let old = format!(r#"{{"lookwright":1,"negative":{{"stock":{{"class":"{class}"}}}}}}"#);
        let (look, notes) = Look::read_with_notes(&old).unwrap();
        let stock = &look.negative.stock;
        assert_eq!((stock.balance, stock.speed), (balance, speed));
        assert_eq!(notes.len(), 1);
        assert!(notes[0].contains(class), "{}", notes[0]);
        let (again, none) = Look::read_with_notes(&look.canonical()).unwrap();
        assert_eq!(again, look);
        assert!(none.is_empty());
    }
}
