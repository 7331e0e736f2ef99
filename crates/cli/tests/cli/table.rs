//! `lookwright table`.

use super::bench::{Bench, names_in};
use lookwright_table::{Interpolation, cube, read_table};

/// What is no scene light is not among what `--scene` takes, in its help and where it is refused.
#[test]
fn scene_code_is_of_scene_light() {
    let bench = Bench::new();
    for command in ["table", "pack"] {
        let words = [
            command,
            "look.json",
            "--from",
            "logc3",
            "--scene",
            "rec709",
            "-o",
            "x.clf",
        ];
        let out = bench.run(&words).code(2);
        let refused = String::from_utf8_lossy(&out.get_output().stderr).into_owned();
        let help = bench.output(&[command, "--help"]);
        let (_, told) = help.split_once("--scene").unwrap();
        let (told, _) = told.split_once("--undo").unwrap();
        for said in [refused.split_once("possible values").unwrap().1, told] {
            assert!(said.contains("acescct") && said.contains("logc3"), "{said}");
            for no_light in ["rec709", "film-scan"] {
                assert!(!said.contains(no_light), "{no_light} in {said}");
            }
        }
    }
}

#[test]
fn a_table_holds_what_trace_says() {
    let bench = Bench::new();
    bench
        .run(&[
            "table",
            "look.json",
            "--from",
            "logc3",
            "--grid",
            "17",
            "-o",
            "look.cube",
        ])
        .success();
    let table = cube::read(&std::fs::read(bench.path("look.cube")).unwrap()).unwrap();
    // Node 8 of 17 is code 0.5: no interpolation stands between the two.
    let json: serde_json::Value = serde_json::from_str(&bench.output(&[
        "trace",
        "look.json",
        "--from",
        "logc3",
        "--code",
        "0.5,0.5,0.5",
        "--json",
    ]))
    .unwrap();
    let screen = &json[5]["values"];
    let out = table.apply([0.5; 3], Interpolation::Tetrahedral);
    for i in 0..3 {
        assert!((f64::from(out[i]) - screen[i].as_f64().unwrap()).abs() < 2e-7);
    }
}

#[test]
fn only_known_endings_and_only_sensible_grids() {
    let bench = Bench::new();
    let table = ["table", "look.json", "--from", "logc3", "-o"];
    assert!(
        bench
            .complaint(&[&table[..], &["look.lut"]].concat())
            .contains(
                "end the file's name with .cube, .clf, .csp, .spi3d, .spi1d, .icc, .png or .cc"
            )
    );
    for grid in ["1", "130"] {
        let complaint = bench.complaint(&[&table[..], &["a.cube", "--grid", grid]].concat());
        assert!(complaint.contains("129"), "{complaint}");
    }
    assert!(!bench.path("a.cube").exists());
}

#[test]
fn halves_and_ranges_fit_together() {
    let bench = Bench::new();
    let table = |more: &[&str]| {
        let common = ["table", "look.json", "--grid", "17"];
        bench.run(&[&common[..], more].concat()).success();
        let bytes = std::fs::read(bench.path(more[more.len() - 1])).unwrap();
        read_table(&bytes, "").unwrap()
    };
    let from = ["--from", "logc3"];
    let whole = table(&[&from[..], &["-o", "whole.clf"]].concat());
    let legal = table(&[&from[..], &["--legal", "-o", "legal.cube"]].concat());
    let scan = table(&[&from[..], &["--split", "camera-to-scan", "-o", "a.clf"]].concat());
    let print = table(&["--split", "scan-to-screen", "-o", "b.cube"]);
    // A node: code 0.5 is node 8 of 17. The second half is read between nodes, at 10-bit codes.
    let (out, squeezed) = (whole.apply([0.5; 3]), legal.apply([0.5; 3]));
    let halves = print.apply(scan.apply([0.5; 3]));
    for c in 0..3 {
        // ITU-R BT.709: 64 to 940 of 1023.
        assert!((squeezed[c] - (64.0 + 876.0 * out[c]) / 1023.0).abs() < 1e-6);
        assert!(
            (halves[c] - out[c]).abs() < 8.0 / 1023.0,
            "{halves:?} {out:?}"
        );
    }
}

#[test]
fn what_a_format_can_not_carry_is_told() {
    let bench = Bench::new();
    let refused = |more: &[&str], words: &str| {
        let complaint = bench.complaint(&[&["table", "look.json"], more].concat());
        assert!(complaint.contains(words), "{complaint}");
    };
    refused(
        &["--from", "acescg", "--grid", "16", "-o", "a.png"],
        "is light",
    );
    refused(
        &["--from", "logc3", "--grid", "33", "-o", "a.png"],
        "the square of a level",
    );
    refused(
        &["--from", "logc3", "-o", "a.cc"],
        "does not reduce to an ASC CDL",
    );
    refused(
        &["--from", "acescg", "--range", "legal", "-o", "a.clf"],
        "only the range full",
    );
    refused(&["--split", "whole", "-o", "a.clf"], "--from is missing");
    assert_eq!(names_in(&bench.path(".")), ["frame.png", "look.json"]);
}
