//! Which pictures a run takes, how they are numbered, and whose grain they get.

#![expect(
    clippy::unwrap_used,
    reason = "a test may stop at what should not happen"
)]

use super::bench::{Bench, names_in};

/// A bench with the frame under each of these names.
fn bench(names: &[&str]) -> Bench {
    let bench = Bench::new();
    for name in names {
        let path = bench.path(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::copy(bench.path("frame.png"), path).unwrap();
    }
    bench
}

const RENDER: [&str; 5] = ["render", "look.json", "--from", "logc3", "--quiet"];

/// The pictures that a run writes into a folder.
fn made(bench: &Bench, folder: &str, more: &[&str]) -> Vec<String> {
    let into = format!("{folder}/");
    bench
        .run(&[&RENDER[..], more, &["-o", &into]].concat())
        .success();
    let mut names = names_in(&bench.path(folder));
    names.retain(|name| !name.starts_with('.'));
    names
}

fn bytes(bench: &Bench, name: &str) -> Vec<u8> {
    std::fs::read(bench.path(name)).unwrap()
}

#[test]
fn folders_patterns_and_lists_name_the_same_pictures() {
    let bench = bench(&[
        "in/s.0008.png",
        "in/s.0009.png",
        "in/s.0010.png",
        "in/t.0001.png",
    ]);
    std::fs::write(bench.path("in/notes.txt"), "not a picture").unwrap();
    let three = ["s.0008.png", "s.0009.png", "s.0010.png"];
    assert_eq!(made(&bench, "a", &["in/s.####.png"]), three);
    assert_eq!(made(&bench, "b", &["in/s.%04d.png"]), three);
    assert_eq!(
        made(&bench, "c", &["in/s.####.png", "--frames", "8-10x2"]),
        [three[0], three[2]]
    );
    assert_eq!(made(&bench, "d", &["in"]).len(), 4);
    std::fs::write(
        bench.path("list"),
        "in/s.0008.png\r\nin/s.0009.png\n\nin/s.0010.png",
    )
    .unwrap();
    assert_eq!(made(&bench, "e", &["--list", "list"]), three);
    for folder in ["b", "d", "e"] {
        for name in three {
            let same =
                bytes(&bench, &format!("a/{name}")) == bytes(&bench, &format!("{folder}/{name}"));
            assert!(same, "{folder}/{name}");
        }
    }
    // Numbers are kept where they stand.
    let command = [&RENDER[..], &["in/s.####.png", "-o", "a/p.######.tif"]].concat();
    bench.run(&command).success();
    assert!(bench.path("a/p.000008.tif").is_file());
}

#[test]
fn a_list_on_standard_input() {
    let bench = bench(&["in/s.1.png", "in/s.2.png"]);
    let mut command = assert_cmd::Command::new(assert_cmd::cargo::cargo_bin!("lookwright"));
    command
        .current_dir(bench.path("."))
        .args(RENDER)
        .args(["--list", "-", "-o", "out/"]);
    command
        .write_stdin("in/s.1.png\0in/s.2.png\0")
        .assert()
        .success();
    assert!(bench.path("out/s.2.png").is_file());
}

#[test]
fn grain_is_the_frames_and_the_shots_whoever_renders_them() {
    let bench = bench(&[
        "in/s.0001.png",
        "in/s.0002.png",
        "in/t.0001.png",
        "in/plain.png",
    ]);
    made(
        &bench,
        "all",
        &["in/s.0001.png", "in/s.0002.png", "in/t.0001.png"],
    );
    made(&bench, "one", &["in/s.0002.png"]);
    let of = |name: &str| bytes(&bench, name);
    assert!(
        of("all/s.0002.png") == of("one/s.0002.png"),
        "by itself or among others"
    );
    assert!(
        of("all/s.0001.png") != of("all/s.0002.png"),
        "another frame"
    );
    assert!(of("all/s.0001.png") != of("all/t.0001.png"), "another shot");
    // With one seed for both, they have the same; the look's own is the default's 1.
    let seeded = |folder: &str, seed: &str| {
        made(
            &bench,
            folder,
            &["in/s.0001.png", "in/t.0001.png", "--seed", seed],
        );
        let (s, t) = (
            of(&format!("{folder}/s.0001.png")),
            of(&format!("{folder}/t.0001.png")),
        );
        assert!(s == t, "--seed {seed}");
        s
    };
    assert!(seeded("seven", "7") != seeded("look", "look"));
    assert!(seeded("own", "1") == of("look/s.0001.png"));
    // A picture of no shot has the look's own at frame 0, as in the page.
    made(&bench, "plain", &["in/plain.png"]);
    made(
        &bench,
        "zero",
        &["in/s.0001.png", "--first-frame", "0", "--seed", "look"],
    );
    assert!(of("plain/plain.png") == of("zero/s.0001.png"));
}

#[test]
fn texture_is_refused_without_a_number() {
    let bench = bench(&["a.png", "b.png"]);
    let two = [&RENDER[..], &["a.png", "b.png", "-o", "out/"]].concat();
    let complaint = bench.complaint(&two);
    assert!(
        complaint.contains("a.png: grain and dust, weave and flicker follow a picture's number"),
        "{complaint}"
    );
    assert!(!bench.path("out").exists());
    made(&bench, "plain", &["a.png", "b.png", "--no-texture"]);
    made(&bench, "before", &["a.png", "b.png", "--before"]);
    made(
        &bench,
        "both",
        &["a.png", "b.png", "--first-frame", "5", "--seed", "look"],
    );
    made(
        &bench,
        "second",
        &["b.png", "--first-frame", "6", "--seed", "look"],
    );
    assert!(bytes(&bench, "both/b.png") == bytes(&bench, "second/b.png"));
}

#[test]
fn gaps_and_wrong_frames_are_said_before_anything_is_written() {
    let bench = bench(&["s.1001.png", "s.1002.png", "s.1005.png"]);
    let refused = |more: &[&str], words: &str| {
        let complaint = bench.complaint(&[&RENDER[..], more, &["-o", "out/"]].concat());
        assert!(complaint.contains(words), "{complaint}");
        assert!(!bench.path("out").exists());
    };
    refused(
        &["s.####.png"],
        "s.1003.png: there is no such file (missing: 1003 to 1004)",
    );
    refused(&["s.####.png", "--frames", "1001-1003"], "(missing: 1003)");
    refused(
        &["s.1001.png", "s.1002.png", "--frames", "1002-1003"],
        "has the number 1003",
    );
    refused(&["t.####.png"], "t.####.png: there is no such picture");
    refused(&["s.%04x.png"], "\"%04x\" is not understood");
    refused(&["%.png"], "has one number");
    assert_eq!(
        made(&bench, "two", &["s.####.png", "--frames", "1001-1002"]).len(),
        2
    );
    // What is there can be had.
    let command = [&RENDER[..], &["s.####.png", "--keep-going", "-o", "three/"]].concat();
    let said = bench.run(&command).code(3);
    let said = String::from_utf8(said.get_output().stderr.clone()).unwrap();
    assert_eq!(
        said,
        "lookwright: s.1003.png: there is no such file\nlookwright: s.1004.png: there is no such file\n"
    );
    assert!(bench.path("three/s.1005.png").is_file());
}

#[test]
fn a_frame_of_another_size_is_no_frame_of_the_shot() {
    let bench = bench(&["s.1.png", "s.2.png", "s.3.png"]);
    let plate = [
        "plate",
        "look.json",
        "--kind",
        "grain",
        "--size",
        "30x20",
        "--frames",
        "1",
        "-o",
        "p",
    ];
    bench.run(&plate).success();
    std::fs::rename(bench.path("p/grain.0001.png"), bench.path("s.2.png")).unwrap();
    let command = [&RENDER[..], &["s.#.png", "-o", "out/"]].concat();
    let complaint = bench.complaint(&command);
    assert!(
        complaint.contains("s.2.png: this frame has 30 x 20 pixels"),
        "{complaint}"
    );
    assert!(
        complaint.contains("the first of its shot has 24 x 16"),
        "{complaint}"
    );
}

/// Frames whose data window is not their display window (overscan) are of one size all the same.
#[test]
fn frames_with_overscan_are_a_shot() {
    let bench = Bench::new();
    let data = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../picture/tests/data/window.exr"
    );
    for name in ["s.1.exr", "s.2.exr"] {
        std::fs::copy(data, bench.path(name)).unwrap();
    }
    let render = [
        "render",
        "look.json",
        "s.#.exr",
        "--from",
        "acescg",
        "-o",
        "out/",
    ];
    bench.run(&render).success();
    assert!(bench.path("out/s.2.png").is_file());
}
