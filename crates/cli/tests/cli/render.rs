//! `lookwright render`.

#![expect(
    clippy::unwrap_used,
    reason = "a test may stop at what should not happen"
)]

use super::bench::{Bench, HEIGHT, WIDTH, code_at, names_in};
use lookwright_colour::Rgb;
use lookwright_film::look::{Delivery, Frame, Look, Stage, StageId};
use lookwright_film::path::LightPath;

fn path(bench: &Bench) -> LightPath {
    let look = Look::read(&std::fs::read_to_string(bench.path("look.json")).unwrap()).unwrap();
    let frame = Frame::read(r#"{"source":{"encoding":"logc3"}}"#).unwrap();
    LightPath::new(&look, &frame, &Delivery::default())
}

#[test]
fn every_stage_is_written_in_its_own_unit() {
    let bench = Bench::new();
    let path = path(&bench);
    for (stage, id) in [
        (StageId::Intake, "intake"),
        (StageId::Lens, "lens"),
        (StageId::Negative, "negative"),
        (StageId::Scan, "scan"),
        (StageId::Print, "print"),
        (StageId::Screen, "screen"),
    ] {
        bench
            .run(&[
                "render",
                "look.json",
                "frame.png",
                "-o",
                "out.exr",
                "--from",
                "logc3",
                "--stage",
                id,
                "--no-texture",
                "--overwrite",
            ])
            .success();
        let out = bench.decode("out.exr");
        assert_eq!((out.width, out.height), (WIDTH, HEIGHT));
        for x in 0..WIDTH {
            // What the 16-bit file holds of the code.
            let code = [0, 1, 2].map(|c| ((code_at(x, c) * 65535.0 + 0.5) as u16) as f32 / 65535.0);
            let expected = path.up_to(stage, Rgb::from_array(code)).to_array();
            assert_eq!(out.pixel(x, 3), expected, "{id} at {x}");
        }
    }
}

#[test]
fn sixteen_bit_density_is_ten_thousand_codes_per_unit() {
    let bench = Bench::new();
    let common = [
        "render",
        "look.json",
        "frame.png",
        "--from",
        "logc3",
        "--stage",
        "negative",
        "--no-texture",
    ];
    bench
        .run(&[&common[..], &["-o", "d.exr"]].concat())
        .success();
    bench
        .run(&[&common[..], &["-o", "d.tif", "--depth", "16"]].concat())
        .success();
    let (exact, coded) = (bench.decode("d.exr"), bench.decode("d.tif"));
    for x in 0..WIDTH {
        for (d, c) in exact.pixel(x, 0).iter().zip(coded.pixel(x, 0)) {
            assert!((d - c * 6.5535).abs() < 0.000_06);
        }
    }
}

#[test]
fn a_sequence_goes_into_a_folder_or_a_pattern() {
    let bench = Bench::new();
    for number in ["0001", "0002"] {
        std::fs::copy(
            bench.path("frame.png"),
            bench.path(&format!("f.{number}.png")),
        )
        .unwrap();
    }
    let inputs = [
        "render",
        "look.json",
        "f.0001.png",
        "f.0002.png",
        "--from",
        "logc3",
        "-o",
    ];
    bench
        .run(&[&inputs[..], &["out/", "--format", "tif"]].concat())
        .success();
    let record = ".lookwright.jsonl";
    assert_eq!(
        names_in(&bench.path("out")),
        [record, "f.0001.tif", "f.0002.tif"]
    );
    bench
        .run(&[&inputs[..], &["out/%-print.jpg"]].concat())
        .success();
    assert_eq!(names_in(&bench.path("out")).len(), 5);
    let complaint = bench.complaint(&[&inputs[..], &["one.png"]].concat());
    assert!(
        complaint.contains("several pictures go into a folder"),
        "{complaint}"
    );
}

#[test]
fn grain_differs_from_frame_to_frame_and_not_from_run_to_run() {
    let bench = Bench::new();
    for name in ["f.1.png", "f.2.png"] {
        std::fs::copy(bench.path("frame.png"), bench.path(name)).unwrap();
    }
    let render = |name: &str, out: &str| {
        bench
            .run(&["render", "look.json", name, "--from", "logc3", "-o", out])
            .success();
        std::fs::read(bench.path(out)).unwrap()
    };
    let (one, two, again) = (
        render("f.1.png", "a.png"),
        render("f.2.png", "b.png"),
        render("f.1.png", "c.png"),
    );
    assert!(one != two, "another frame, another grain");
    assert!(one == again, "the same frame, the same grain");
}

#[test]
fn without_an_encoding_the_choice_is_said_with_its_reason() {
    let bench = Bench::new();
    let out = bench
        .run(&["render", "look.json", "frame.png", "-o", "a.png"])
        .success();
    let said = String::from_utf8(out.get_output().stderr.clone()).unwrap();
    assert!(
        said.starts_with("frame.png: read as ") && said.contains("--from"),
        "{said}"
    );
}

/// Whoever finds a picture can tell what made it: look, fingerprint, model and frame.
#[test]
fn every_format_names_what_made_it() {
    let bench = Bench::new();
    std::fs::copy(bench.path("frame.png"), bench.path("f.1001.png")).unwrap();
    let look = Look::read(&std::fs::read_to_string(bench.path("look.json")).unwrap()).unwrap();
    let words = format!("; look {}", look.fingerprint());
    for ending in ["png", "jpg", "tif", "exr", "dpx"] {
        for (more, said) in [
            (&[][..], true),
            (&["--no-texture"], true),
            (&["--before"], false),
        ] {
            let out = format!("{}.{ending}", more.len() + usize::from(said));
            let render = [
                "render",
                "look.json",
                "f.1001.png",
                "--from",
                "logc3",
                "-o",
                &out,
            ];
            bench
                .run(&[&render[..], more, &["--overwrite"]].concat())
                .success();
            let file = std::fs::read(bench.path(&out)).unwrap();
            let text = String::from_utf8_lossy(&file);
            assert_eq!(text.contains(&words), said, "{out}");
            assert_eq!(text.contains(", frame 1001"), said, "{out}");
            bench.decode(&out);
        }
    }
}

/// The scan stage as a film recorder takes it: codes of 10 bits, marked as printing density.
#[test]
fn the_scan_leaves_as_printing_density() {
    let bench = Bench::new();
    let scan = [
        "render",
        "look.json",
        "frame.png",
        "--from",
        "logc3",
        "--stage",
        "scan",
        "--no-texture",
    ];
    bench
        .run(&[&scan[..], &["-o", "scan.dpx"]].concat())
        .success();
    let file = std::fs::read(bench.path("scan.dpx")).unwrap();
    // Transfer and colorimetric of the first element: 1 is printing density (ST 268-1, table 5).
    assert_eq!(&file[801..804], [1, 1, 10]);
    let path = path(&bench);
    let read = bench.decode("scan.dpx");
    for x in 0..WIDTH {
        let code = [0, 1, 2].map(|c| ((code_at(x, c) * 65535.0 + 0.5) as u16) as f32 / 65535.0);
        let scan = path.up_to(StageId::Scan, Rgb::from_array(code)).to_array();
        for (wanted, got) in scan.iter().zip(read.pixel(x, 0)) {
            assert!((wanted - got).abs() < 0.6 / 1023.0, "{wanted} {got}");
        }
    }
}

/// What leaves as a flat scan comes back by itself as one, and goes on at the scan: the same picture.
#[test]
fn a_film_scan_enters_at_the_scan() {
    let bench = Bench::new();
    let text = std::fs::read_to_string(bench.path("look.json")).unwrap();
    let mut look = Look::read(&text).unwrap();
    look.scan
        .steps_mut()
        .into_iter()
        .for_each(|step| step.set_on(false));
    std::fs::write(bench.path("flat.json"), look.canonical()).unwrap();
    let flat = [
        "render",
        "flat.json",
        "frame.png",
        "--from",
        "logc3",
        "--no-texture",
    ];
    let whole = [
        "render",
        "look.json",
        "frame.png",
        "--from",
        "logc3",
        "--no-texture",
    ];
    bench
        .run(
            &[
                &flat[..],
                &["--stage", "scan", "--depth", "16", "-o", "scan.dpx"],
            ]
            .concat(),
        )
        .success();
    bench
        .run(&[&whole[..], &["-o", "whole.png"]].concat())
        .success();
    // With its texture: a film scan has its own grain, so none is added.
    let said = bench
        .run(&["render", "look.json", "scan.dpx", "-o", "entered.png"])
        .success();
    let said = String::from_utf8_lossy(&said.get_output().stderr).into_owned();
    assert!(said.contains("film-scan: the DPX says"), "{said}");
    let (whole, entered) = (bench.decode("whole.png"), bench.decode("entered.png"));
    for x in 0..WIDTH {
        for (a, b) in whole.pixel(x, 0).into_iter().zip(entered.pixel(x, 0)) {
            assert!((a - b).abs() < 1.6 / 255.0, "{x}: {a} {b}");
        }
    }
}
