//! `lookwright table`.

use super::bench::Bench;
use lookwright_core::table::{Interpolation, cube};

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
fn only_cube_and_only_sensible_grids() {
    let bench = Bench::new();
    let table = ["table", "look.json", "--from", "logc3", "-o"];
    assert!(
        bench
            .complaint(&[&table[..], &["look.png"]].concat())
            .contains(".cube")
    );
    for grid in ["1", "130"] {
        let complaint = bench.complaint(&[&table[..], &["a.cube", "--grid", grid]].concat());
        assert!(complaint.contains("129"), "{complaint}");
    }
    assert!(!bench.path("a.cube").exists());
}
