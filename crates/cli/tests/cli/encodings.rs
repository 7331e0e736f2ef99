//! `lookwright encodings`.

use super::bench::Bench;

#[test]
fn lists_every_published_encoding_with_its_white_and_source() {
    let bench = Bench::new();
    let text = bench.output(&["encodings"]);
    let json: serde_json::Value =
        serde_json::from_str(&bench.output(&["encodings", "--json"])).unwrap();
    let ids: Vec<_> = json["encodings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|e| e["id"].as_str().unwrap())
        .collect();
    for id in [
        "logc3",
        "logc4",
        "slog3-sgamut3cine",
        "vlog",
        "clog2",
        "clog3",
        "flog2",
        "nlog",
        "log3g10",
        "applelog",
        "dlog",
        "logc3-ei400",
        "hlg",
        "pq",
        "acescct",
        "acescg",
        "ap0-linear",
        "srgb",
        "display-p3",
        "rec709",
        "rec2020",
    ] {
        assert!(ids.contains(&id) && text.contains(id), "{id}");
    }
    assert_eq!(
        ids.iter()
            .filter(|id| text.contains(&format!("  {id} ")))
            .count(),
        ids.len()
    );
    assert!(text.contains("Rec.709 and sRGB get the same codes"));
    let one_curve = |ids: &str| {
        text.lines()
            .any(|line| line.contains("One curve") && line.contains(ids))
    };
    assert!(one_curve("flog2, flog2c") && !one_curve("logc3, logc4"));
    for entry in json["encodings"].as_array().unwrap() {
        assert_eq!(entry["gamut"].as_array().unwrap().len(), 3);
        assert!(!entry["source"].as_str().unwrap().is_empty());
    }
    // D65, ITU-R BT.709-6.
    let screen = &json["screens"].as_array().unwrap()[0];
    assert_eq!(
        (&screen["id"], &screen["white"][0]),
        (&"rec709".into(), &0.3127.into())
    );
}
