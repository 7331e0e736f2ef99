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

/// A picture that is 8 bits by its name is none for PQ, and says which are.
#[test]
fn code_of_high_dynamic_range_in_8_bits() {
    let bench = Bench::new();
    let render = [
        "render",
        "look.json",
        "frame.png",
        "--from",
        "logc3",
        "--to",
    ];
    for (screen, output) in [("pq-1000", "out.png"), ("hlg-1000", "out.jpg")] {
        let complaint = bench.complaint(&[&render[..], &[screen, "-o", output]].concat());
        assert!(
            complaint.contains("take 10 bits or more (ITU-R BT.2100-2)"),
            "{complaint}"
        );
        assert!(!bench.path(output).exists());
    }
    bench
        .run(&[&render[..], &["pq-1000", "--depth", "16", "-o", "out.png"]].concat())
        .code(0);
}

#[test]
fn truncated_pictures_and_headers_that_lie() {
    let bench = Bench::new();
    let whole = std::fs::read(bench.path("frame.png")).unwrap();
    for percent in [10, 50, 95] {
        std::fs::write(bench.path("cut.png"), &whole[..whole.len() * percent / 100]).unwrap();
        refused(&bench, "look.json", "cut.png");
    }
    for (width, height) in [(30_000_u32, 30_000_u32), (0, 16), (1 << 31, 1)] {
        std::fs::write(bench.path("lie.png"), with_size(&whole, width, height)).unwrap();
        refused(&bench, "look.json", "lie.png");
    }
}

/// What can't be done is known by the header: the data behind it are not even there.
#[test]
fn pictures_that_would_take_too_much_memory() {
    let bench = Bench::new();
    let whole = std::fs::read(bench.path("frame.png")).unwrap();
    for (width, height) in [(40_000_000_u32, 1_u32), (1, 40_000_000)] {
        std::fs::write(bench.path("line.png"), with_size(&whole, width, height)).unwrap();
        let complaint = refused(&bench, "look.json", "line.png");
        let words = format!("Rendering {width} x {height} pixels with this look");
        assert!(complaint.contains(&words), "{complaint}");
    }
    // Without texture there is nothing around the line that has to be kept.
    let plain = ["--no-texture", "-o", "out.png", "--from", "logc3"];
    let complaint = bench.complaint(&[&["render", "look.json", "line.png"][..], &plain].concat());
    assert!(complaint.contains("truncated or damaged"), "{complaint}");
}

/// Larger than memory, and known by its first bytes.
#[cfg(unix)]
#[test]
fn a_large_clip_is_not_read() {
    let bench = Bench::new();
    for (name, words) in [
        ("take.mov", "a film clip"),
        ("frame.png", "pictures of up to 6144 MiB"),
    ] {
        let mut bytes = std::fs::read(bench.path("frame.png")).unwrap();
        if name == "take.mov" {
            bytes = b"\0\0\0\x14ftypqt  \0\0\0\0qt  ".to_vec();
        }
        std::fs::write(bench.path(name), bytes).unwrap();
        let file = std::fs::OpenOptions::new()
            .append(true)
            .open(bench.path(name));
        file.unwrap().set_len(1 << 40).unwrap();
        let complaint = refused(&bench, "look.json", name);
        assert!(complaint.contains(words), "{complaint}");
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
        ("--depth", "32", "possible values: 8, 10, 12, 16, f32"),
        (
            "--format",
            "gif",
            "possible values: png, jpg, tif, exr, dpx, rgb8, rgb16, rgbf32",
        ),
    ] {
        let out = bench.run(&[&render[..], &[option, value]].concat()).code(2);
        let text = String::from_utf8_lossy(&out.get_output().stderr).into_owned();
        assert!(text.contains(words), "{option} {value}: {text}");
    }
    assert!(!bench.path("out.png").exists());
}

/// A PNG with another size in its header, whose checksum is made right again.
fn with_size(png: &[u8], width: u32, height: u32) -> Vec<u8> {
    let mut lying = png.to_vec();
    lying[16..20].copy_from_slice(&width.to_be_bytes());
    lying[20..24].copy_from_slice(&height.to_be_bytes());
    let checksum = crc32(&lying[12..29]);
    lying[29..33].copy_from_slice(&checksum.to_be_bytes());
    lying
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
