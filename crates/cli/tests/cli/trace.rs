//! `lookwright trace`.

use super::bench::Bench;

#[test]
fn follows_a_code_through_six_stages() {
    let bench = Bench::new();
    // LogC3 at EI 800 puts mid-grey at 0.391007 (ARRI, Log C Curve - Usage in VFX, 2012).
    let json: serde_json::Value = serde_json::from_str(&bench.output(&[
        "trace",
        "look.json",
        "--from",
        "logc3",
        "--code",
        "0.391006832,0.391006832,0.391006832",
        "--json",
    ]))
    .unwrap();
    let names: Vec<_> = json
        .as_array()
        .unwrap()
        .iter()
        .map(|s| s["name"].as_str().unwrap())
        .collect();
    assert_eq!(
        names,
        ["intake", "lens", "negative", "scan", "print", "screen"]
    );
    for channel in 0..3 {
        let at = |stage: usize| json[stage]["values"][channel].as_f64().unwrap();
        assert!((at(0) - 0.18).abs() < 1e-6);
        assert!((at(2) - 0.7606).abs() < 1e-3, "grey's density");
    }
}

#[test]
fn follows_a_pixel_and_refuses_one_outside() {
    let bench = Bench::new();
    let text = bench.output(&[
        "trace",
        "look.json",
        "--from",
        "logc3",
        "frame.png",
        "5",
        "2",
    ]);
    assert_eq!(text.lines().count(), 7);
    let complaint = bench.complaint(&[
        "trace",
        "look.json",
        "--from",
        "logc3",
        "frame.png",
        "24",
        "0",
    ]);
    assert_eq!(
        complaint,
        "lookwright: 24 lies outside the picture, which is 24 x 16"
    );
}
