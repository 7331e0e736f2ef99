//! `match`: what a still asks for is said and written, and nothing that is read is written over.

use lookwright_film::look::Look;

use super::bench::Bench;

#[test]
fn a_still_gives_a_look_and_loses_nothing() {
    let bench = Bench::new();
    let render = ["render", "look.json", "frame.png", "--from", "logc3"];
    bench
        .run(&[&render[..], &["--to", "srgb", "-o", "still.png"]].concat())
        .success();
    let matching = [
        "match",
        "frame.png",
        "--from",
        "logc3",
        "--still",
        "still.png",
        "--still-from",
        "srgb",
    ];
    let told = bench.output(&[&matching[..], &["--json", "-o", "found.json"]].concat());
    let told: serde_json::Value = serde_json::from_str(&told).unwrap();
    let found = Look::read(&std::fs::read_to_string(bench.path("found.json")).unwrap()).unwrap();
    assert_eq!(told["fingerprint"], found.fingerprint());
    assert!(told["distance"]["after"].as_f64() <= told["distance"]["before"].as_f64());
    let before = std::fs::read(bench.path("still.png")).unwrap();
    bench.complaint(&[&matching[..], &["--overwrite", "-o", "still.png"]].concat());
    assert!(before == std::fs::read(bench.path("still.png")).unwrap());
}
