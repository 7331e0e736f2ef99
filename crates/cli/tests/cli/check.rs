//! `lookwright check`: what it says of tables, and how it ends.

use super::bench::Bench;

/// Nodes along an edge: enough that some stand inside the range of ordinary pictures.
const SIZE: usize = 9;

/// A table whose channels run straight from `low` to `high`.
fn straight(low: f32, high: f32) -> String {
    let mut text = format!("LUT_3D_SIZE {SIZE}\n");
    let level = |i: usize| low + (high - low) * i as f32 / (SIZE - 1) as f32;
    for i in 0..SIZE * SIZE * SIZE {
        let (r, g, b) = (i % SIZE, i / SIZE % SIZE, i / SIZE / SIZE);
        text.push_str(&format!("{} {} {}\n", level(r), level(g), level(b)));
    }
    text
}

#[test]
fn the_exit_code_is_the_severity() {
    let bench = Bench::new();
    // Upside down: every channel falls while its input rises.
    std::fs::write(bench.path("serious.cube"), straight(1.0, 0.0)).unwrap();
    bench.run(&["check", "serious.cube"]).code(4);
    // What ends half way to white is cut where input goes on beyond 1; an identity has come to white.
    std::fs::write(bench.path("minor.cube"), straight(0.0, 0.5)).unwrap();
    bench.run(&["check", "minor.cube"]).code(3);
    std::fs::write(bench.path("identity.cube"), straight(0.0, 1.0)).unwrap();
    bench.run(&["check", "identity.cube"]).code(0);
    // A slip is named before what it brings.
    std::fs::write(bench.path("codes.cube"), straight(0.0, 255.0)).unwrap();
    let out = bench.run(&["check", "codes.cube"]).code(4);
    let said = String::from_utf8_lossy(&out.get_output().stdout).into_owned();
    let (slip, range) = (said.find("codes of 8 bits"), said.find("output-range"));
    assert!(slip.is_some() && slip < range, "{said}");
    std::fs::write(bench.path("words.cube"), "these are my notes\n").unwrap();
    bench.run(&["check", "words.cube"]).code(1);
    bench.run(&["check"]).code(2);
}

/// The findings are said whether they fail the table or not, and no choice hides that there is no table.
#[test]
fn a_gate_chooses_what_fails() {
    let bench = Bench::new();
    std::fs::write(bench.path("serious.cube"), straight(1.0, 0.0)).unwrap();
    std::fs::write(bench.path("minor.cube"), straight(0.0, 0.5)).unwrap();
    std::fs::write(bench.path("words.cube"), "these are my notes\n").unwrap();
    for (fail_on, minor, serious) in [("minor", 3, 4), ("serious", 0, 4), ("none", 0, 0)] {
        for (file, code) in [("minor.cube", minor), ("serious.cube", serious)] {
            let said = |command: &[&str], code| {
                let out = bench.run(command).code(code);
                out.get_output().stdout.clone()
            };
            let usual = if file == "minor.cube" { 3 } else { 4 };
            assert_eq!(
                said(&["check", file, "--fail-on", fail_on], code),
                said(&["check", file], usual),
                "{file}, {fail_on}"
            );
        }
        let no_table = ["check", "words.cube", "--fail-on", fail_on];
        bench.run(&no_table).code(1);
    }
    bench
        .run(&["check", "minor.cube", "--fail-on", "some"])
        .code(2);
}

#[test]
fn plain_words_and_json_say_the_same() {
    let bench = Bench::new();
    std::fs::write(bench.path("down.cube"), straight(1.0, 0.0)).unwrap();
    let out = bench.run(&["check", "down.cube"]).code(4);
    let text = String::from_utf8(out.get_output().stdout.clone()).unwrap();
    assert!(
        text.starts_with("down.cube: .cube, grid 9: something here will show."),
        "{text}"
    );
    let out = bench.run(&["check", "down.cube", "--json"]).code(4);
    let json: serde_json::Value = serde_json::from_slice(&out.get_output().stdout).unwrap();
    assert_eq!(json["worst"], "serious");
    for finding in json["findings"].as_array().unwrap() {
        assert!(
            text.contains(finding["what"].as_str().unwrap()),
            "{finding}"
        );
    }
}

#[test]
fn the_place_of_a_fault_is_told_in_one_sentence() {
    let bench = Bench::new();
    let broken = straight(0.0, 1.0).replacen("0.125 0 0", "0.125 0", 1);
    std::fs::write(bench.path("broken.cube"), broken).unwrap();
    assert_eq!(
        bench.complaint(&["check", "broken.cube"]),
        "lookwright: broken.cube: line 3: a row has 3 numbers, found 2"
    );
    assert!(
        bench
            .complaint(&["check", "gone.cube"])
            .contains("can't be read")
    );
    // A picture that is no lattice.
    assert!(
        bench
            .complaint(&["check", "frame.png"])
            .contains("not a lattice picture")
    );
}

#[test]
fn every_format_that_is_written_is_read() {
    let bench = Bench::new();
    for (name, grid) in [("look.cube", "33"), ("look.clf", "33"), ("look.png", "25")] {
        bench
            .run(&[
                "table",
                "look.json",
                "--from",
                "logc3",
                "--grid",
                grid,
                "-o",
                name,
            ])
            .success();
        let out = bench.run(&["check", name, "--json"]);
        let json: serde_json::Value = serde_json::from_slice(&out.get_output().stdout).unwrap();
        assert_eq!(json["size"].to_string(), grid, "{name}");
        assert_ne!(json["worst"], "serious", "{name}");
    }
}

#[test]
fn a_table_is_drawn_if_wished() {
    let bench = Bench::new();
    std::fs::write(bench.path("down.cube"), straight(1.0, 0.0)).unwrap();
    let draw = ["check", "down.cube", "--picture", "down.svg"];
    bench.run(&draw).code(4);
    let picture = std::fs::read_to_string(bench.path("down.svg")).unwrap();
    assert!(picture.starts_with("<svg ") && picture.ends_with("</svg>\n"));
    for words in [
        "down.cube",
        "Grey axis",
        "Tint",
        "Slices",
        "Lattice",
        "serious reversals",
    ] {
        assert!(picture.contains(words), "{words}");
    }
}

/// The encoding of an option, and of a header; the mistake's name; and JSON of what is no table.
#[test]
fn machines_hear_what_goes_in_and_what_is_wrong() {
    let bench = Bench::new();
    let identity = straight(0.0, 1.0);
    std::fs::write(bench.path("plain.cube"), &identity).unwrap();
    let header = "# Input: VLog, full range\n# Output: Rec.709, gamma 2.4, full range\n";
    std::fs::write(bench.path("said.cube"), format!("{header}{identity}")).unwrap();
    std::fs::write(bench.path("cut.cube"), &identity[..identity.len() / 2]).unwrap();
    let json = |command: &[&str], code| {
        let out = bench.run(command).code(code);
        serde_json::from_slice::<serde_json::Value>(&out.get_output().stdout).unwrap()
    };
    let asked = [
        "check",
        "plain.cube",
        "--from",
        "logc3",
        "--to",
        "rec709",
        "--json",
    ];
    for (command, by, encoding, code) in [
        (&["check", "plain.cube", "--json"][..], "nobody", None, 0),
        (&["check", "said.cube", "--json"], "header", Some("vlog"), 4),
        (&asked, "asked", Some("logc3"), 4),
    ] {
        let report = json(command, code);
        assert_eq!(report["in"]["by"], by);
        assert_eq!(report["in"]["encoding"].as_str(), encoding);
        let wrong = encoding.map(|_| "log-taken-as-picture");
        assert_eq!(report["diagnosis"].as_str(), wrong);
    }
    let report = json(&["check", "cut.cube", "--json"], 1);
    assert_eq!(report["worst"], "unreadable");
    assert!(
        report["error"].as_str().unwrap().starts_with("line "),
        "{report}"
    );
}
