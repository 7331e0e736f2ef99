//! Bad input: one sentence, exit code 1, and no file left behind.

use super::bench::{Bench, names_in};

fn refused(bench: &Bench, look: &str, input: &str) -> String {
    let before = names_in(&bench.path("."));
    let complaint = bench.complaint(&["render", look, input, "-o", "out.png", "--from", "logc3"]);
    assert_eq!(names_in(&bench.path(".")), before, "nothing is left behind");
    complaint
}

#[test]
fn files_that_are_not_there_or_not_pictures() {
    let bench = Bench::new();
    std::fs::write(bench.path("notes.png"), "these are my notes").unwrap();
    std::fs::write(bench.path("empty.png"), "").unwrap();
    std::fs::write(
        bench.path("picture.png"),
        "<svg xmlns='http://www.w3.org/2000/svg'/>",
    )
    .unwrap();
    for (name, word) in [
        ("gone.png", "can't be read"),
        ("notes.png", ""),
        ("empty.png", ""),
        ("picture.png", "SVG"),
    ] {
        let complaint = refused(&bench, "look.json", name);
        assert!(
            complaint.contains(name) && complaint.contains(word),
            "{complaint}"
        );
    }
}

#[test]
fn truncated_pictures_and_headers_that_lie() {
    let bench = Bench::new();
    let whole = std::fs::read(bench.path("frame.png")).unwrap();
    for percent in [10, 50, 95] {
        std::fs::write(bench.path("cut.png"), &whole[..whole.len() * percent / 100]).unwrap();
        refused(&bench, "look.json", "cut.png");
    }
    // The size in a PNG's header, with its checksum made right again.
    for (width, height) in [(30_000_u32, 30_000_u32), (0, 16), (1 << 31, 1)] {
        let mut lying = whole.clone();
        lying[16..20].copy_from_slice(&width.to_be_bytes());
        lying[20..24].copy_from_slice(&height.to_be_bytes());
        let checksum = crc32(&lying[12..29]);
        lying[29..33].copy_from_slice(&checksum.to_be_bytes());
        std::fs::write(bench.path("lie.png"), &lying).unwrap();
        refused(&bench, "look.json", "lie.png");
    }
}

#[test]
fn a_look_with_a_misspelt_key() {
    let bench = Bench::new();
    std::fs::write(
        bench.path("bad.json"),
        r#"{"lookwright":1,"scan":{"contrast":{"slop":2}}}"#,
    )
    .unwrap();
    assert_eq!(
        refused(&bench, "bad.json", "frame.png"),
        "lookwright: bad.json: scan.contrast.slop: unknown key; did you mean \"slope\"?"
    );
}

#[test]
fn places_that_can_not_be_written() {
    let bench = Bench::new();
    let render = ["render", "look.json", "frame.png", "--from", "logc3", "-o"];
    let complaint = bench.complaint(&[&render[..], &["gone/out.png"]].concat());
    assert!(complaint.contains("there is no folder gone"), "{complaint}");
    let complaint = bench.complaint(&[&render[..], &["out.gif"]].concat());
    assert!(complaint.contains("end the name with"), "{complaint}");
    let complaint = bench.complaint(&[&render[..], &["out.png", "--stage", "intake"]].concat());
    assert!(complaint.contains("write it as floats"), "{complaint}");
}

/// Values and limits are those of the page's controls; what was perhaps meant is named.
#[test]
fn values_that_no_option_takes() {
    let bench = Bench::new();
    let render = ["render", "look.json", "frame.png", "-o", "out.png"];
    for (option, value, words) in [
        (
            "--kelvin",
            "10",
            "10 is out of range; it must be 2000 to 12000 K",
        ),
        ("--exposure", "much", "it is not a number"),
        ("--from", "logc", "similar value"),
        ("--to", "srbg", "'srgb'"),
        ("--range", "legl", "'legal'"),
        ("--stage", "scann", "'scan'"),
        ("--depth", "32", "possible values: 8, 16, f32"),
        ("--format", "gif", "possible values: png, jpg, tif, exr"),
    ] {
        let out = bench.run(&[&render[..], &[option, value]].concat()).code(2);
        let text = String::from_utf8_lossy(&out.get_output().stderr).into_owned();
        assert!(text.contains(words), "{option} {value}: {text}");
    }
    assert!(!bench.path("out.png").exists());
}

/// CRC-32 as PNG uses it (ISO 3309).
fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0_u32, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |c, _| {
            if c & 1 == 1 {
                (c >> 1) ^ 0xedb8_8320
            } else {
                c >> 1
            }
        })
    })
}
