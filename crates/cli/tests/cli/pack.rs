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
        "-o",
        "pack.zip",
    ]);
    assert_eq!(std::fs::read(bench.path("pack.zip")).unwrap(), b"older");
}
