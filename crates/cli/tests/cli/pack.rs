//! `lookwright pack`: whole or not at all, and the same bytes every time.

use super::bench::{Bench, names_in};

const PACK: [&str; 6] = ["pack", "look.json", "--from", "logc3,rec709", "--grid", "5"];

#[test]
fn the_same_command_gives_the_same_bytes() {
    let bench = Bench::new();
    let more = [
        "--frame",
        "frame.png",
        "--frame-from",
        "logc3",
        "--licence",
        "CC0-1.0",
        "-o",
    ];
    for name in ["a.zip", "b.zip"] {
        bench.run(&[&PACK[..], &more, &[name]].concat()).success();
    }
    let [a, b] = ["a.zip", "b.zip"].map(|name| std::fs::read(bench.path(name)).unwrap());
    assert!(a == b && a.starts_with(b"PK\x03\x04"));
    let names = names_in(&bench.path("."));
    assert_eq!(names, ["a.zip", "b.zip", "frame.png", "look.json"]);
}

#[test]
fn what_is_wrong_is_one_sentence_and_nothing_is_left_behind() {
    let bench = Bench::new();
    std::fs::write(bench.path("notes.json"), "my notes").unwrap();
    std::fs::create_dir(bench.path("folder")).unwrap();
    let before = names_in(&bench.path("."));
    for (more, words) in [
        (&["-o", "gone/pack.zip"][..], "there is no folder gone"),
        (&["-o", "folder"], "this is a folder"),
        (
            &["-o", "pack.zip", "--date", "yesterday"],
            "write it as 2024-05-31",
        ),
        (
            &["-o", "pack.zip", "--frame", "gone.tif"],
            "gone.tif: can't be read",
        ),
        (
            &["-o", "pack.zip", "--format", "png"],
            "a grid that is a square",
        ),
        (&["-o", "pack.zip", "--licence", ""], "one line"),
    ] {
        let complaint = bench.complaint(&[&PACK[..], more].concat());
        assert!(complaint.contains(words), "{complaint}");
        assert_eq!(names_in(&bench.path(".")), before, "{complaint}");
    }
    let complaint = bench.complaint(&["pack", "notes.json", "--from", "logc3", "-o", "p.zip"]);
    assert!(complaint.contains("notes.json"), "{complaint}");
    bench
        .run(&["pack", "look.json", "--from", "gone", "-o", "p.zip"])
        .code(2);
    assert_eq!(names_in(&bench.path(".")), before);
}

#[test]
fn an_older_pack_stays_until_the_new_one_is_whole() {
    let bench = Bench::new();
    std::fs::write(bench.path("pack.zip"), "older").unwrap();
    bench.complaint(&[
        "pack",
        "look.json",
        "--from",
        "logc3",
        "--grid",
        "200",
        "--overwrite",
        "-o",
        "pack.zip",
    ]);
    assert_eq!(std::fs::read(bench.path("pack.zip")).unwrap(), b"older");
}

/// Stopped from the keyboard in the middle: nothing is left, and what was there stays.
#[cfg(unix)]
#[test]
fn ctrl_c_leaves_nothing_half_written() {
    use std::process::{Command, Stdio};

    let bench = Bench::new();
    std::fs::write(bench.path("pack.zip"), "older").unwrap();
    let before = names_in(&bench.path("."));
    let mut child = Command::new(assert_cmd::cargo::cargo_bin!("lookwright"))
        .current_dir(bench.path("."))
        .args(["pack", "look.json", "--from", "logc3,vlog,nlog,acescct"])
        .args(["--grid", "65", "--overwrite", "-o", "pack.zip"])
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    // The file that is being written appears beside its final place.
    while names_in(&bench.path(".")) == before {
        assert!(child.try_wait().unwrap().is_none(), "ended too early");
        std::thread::yield_now();
    }
    let kill = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status();
    assert!(kill.unwrap().success());
    assert_eq!(child.wait().unwrap().code(), Some(130));
    assert_eq!(names_in(&bench.path(".")), before);
    assert_eq!(std::fs::read(bench.path("pack.zip")).unwrap(), b"older");
}

#[test]
fn plates_are_in_the_pack_only_if_wished() {
    let bench = Bench::new();
    let size = |name: &str| std::fs::metadata(bench.path(name)).unwrap().len();
    bench
        .run(&[&PACK[..], &["-o", "plain.zip"]].concat())
        .success();
    let wish = ["--plates", "--plate-size", "200x120", "--plate-frames", "2"];
    bench
        .run(&[&PACK[..], &wish, &["-o", "plates.zip"]].concat())
        .success();
    // Two pictures of noise of 16 bits: far more than a few names.
    assert!(size("plates.zip") > size("plain.zip") + 100_000);
    let without = [&PACK[..], &wish[1..], &["-o", "p.zip"]].concat();
    bench.run(&without).code(2);
}
