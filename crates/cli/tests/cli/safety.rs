//! No file of a person's is lost: not one that is read, not one of two of the same name, not one that
//! is there already.

#![expect(
    clippy::unwrap_used,
    reason = "a test may stop at what should not happen"
)]

use std::collections::BTreeMap;
use std::path::Path;

use super::bench::{Bench, names_in};

/// Every file below a folder with its bytes; folders have none.
fn tree(folder: &Path) -> BTreeMap<String, Option<Vec<u8>>> {
    let mut found = BTreeMap::new();
    for name in names_in(folder) {
        let path = folder.join(&name);
        if path.is_dir() {
            let below = tree(&path).into_iter();
            found.extend(below.map(|(below, bytes)| (format!("{name}/{below}"), bytes)));
            found.insert(name, None);
        } else {
            // What can't be read (a socket, a link to nothing) still has its name.
            found.insert(name, std::fs::read(&path).ok());
        }
    }
    found
}

/// A bench with the frame as `a/x.png` and `b/x.png`, too.
fn bench() -> Bench {
    let bench = Bench::new();
    for folder in ["a", "b"] {
        std::fs::create_dir(bench.path(folder)).unwrap();
        copy(&bench, &format!("{folder}/x.png"));
    }
    bench
}

fn copy(bench: &Bench, name: &str) {
    std::fs::copy(bench.path("frame.png"), bench.path(name)).unwrap();
}

/// Runs what must be refused with these words, and leave every file as it was.
fn refused(bench: &Bench, arguments: &[&str], words: &str) {
    let before = tree(&bench.path("."));
    let complaint = bench.complaint(arguments);
    assert!(complaint.contains(words), "{arguments:?}: {complaint}");
    assert!(tree(&bench.path(".")) == before, "{arguments:?}");
}

/// The start of a command that renders.
const RENDER: [&str; 4] = ["render", "look.json", "--from", "logc3"];

#[test]
fn what_is_read_is_not_written_over() {
    let bench = bench();
    std::fs::hard_link(bench.path("a/x.png"), bench.path("second.png")).unwrap();
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink("a/x.png", bench.path("link.png")).unwrap();
        std::os::unix::fs::symlink("a", bench.path("c")).unwrap();
    }
    let mut outputs = vec![
        "a/",
        "a",
        "a/x.png",
        "./a/../a/x.png",
        "a/%.png",
        "second.png",
    ];
    if cfg!(unix) {
        outputs.extend(["link.png", "c/x.png", "c/"]);
    }
    for output in outputs {
        for wish in [&["-o", output][..], &["--overwrite", "-o", output]] {
            let command = [&RENDER[..], &["a/x.png"], wish].concat();
            refused(&bench, &command, "is read, so nothing is written over it");
        }
    }
    // The picture that another one's output would take the place of.
    copy(&bench, "a/y.png");
    let command = [
        &RENDER[..],
        &["b/x.png", "a/x.png", "a/y.png", "--overwrite", "-o", "a/"],
    ];
    refused(&bench, &command.concat(), "a/x.png: this file is read");
}

#[test]
fn no_command_writes_over_what_it_reads() {
    let bench = Bench::new();
    let look = std::fs::read(bench.path("look.json")).unwrap();
    for name in ["look.cube", "look.png", "look.zip"] {
        std::fs::write(bench.path(name), &look).unwrap();
    }
    let from = ["--from", "logc3", "--overwrite"];
    let read = "this file is read";
    refused(
        &bench,
        &[&["table", "look.cube", "-o", "look.cube"], &from[..]].concat(),
        read,
    );
    refused(
        &bench,
        &[&["pack", "look.zip", "-o", "look.zip"], &from[..]].concat(),
        read,
    );
    let pack = [
        "pack",
        "look.json",
        "--frame",
        "frame.png",
        "-o",
        "frame.png",
    ];
    refused(&bench, &[&pack, &from[..]].concat(), read);
    let render = ["render", "look.png", "frame.png", "-o", "look.png"];
    refused(&bench, &[&render, &from[..]].concat(), read);
    bench
        .run(&["table", "look.json", "--from", "logc3", "-o", "t.cube"])
        .success();
    refused(
        &bench,
        &["check", "t.cube", "--overwrite", "--picture", "t.cube"],
        read,
    );
    let plate = [
        "plate",
        "look.json",
        "--kind",
        "halation",
        "--picture",
        "frame.png",
    ];
    refused(
        &bench,
        &[&plate, &["-o", "frame.png"][..], &from].concat(),
        read,
    );
}

#[test]
fn what_is_there_stays_unless_it_may_go() {
    let bench = Bench::new();
    std::fs::create_dir(bench.path("plates")).unwrap();
    let old = [
        "new.json",
        "t.cube",
        "p.zip",
        "g.png",
        "s.svg",
        "r.png",
        "plates/blend.txt",
    ];
    let halation = [
        "plate",
        "look.json",
        "--kind",
        "halation",
        "--picture",
        "frame.png",
    ];
    let commands: [&[&str]; 7] = [
        &["new", "-o", "new.json"],
        &[
            "table",
            "look.json",
            "--grid",
            "5",
            "-o",
            "t.cube",
            "--from",
            "logc3",
        ],
        &[
            "pack",
            "look.json",
            "--grid",
            "5",
            "-o",
            "p.zip",
            "--from",
            "logc3",
        ],
        &[&halation[..], &["-o", "g.png", "--from", "logc3"]].concat(),
        &["check", "t.cube", "--picture", "s.svg"],
        &[&RENDER[..], &["frame.png", "-o", "r.png"]].concat(),
        &[
            "plate",
            "look.json",
            "--kind",
            "grain",
            "--size",
            "20x10",
            "--frames",
            "2",
            "-o",
            "plates",
        ],
    ];
    for name in old {
        std::fs::write(bench.path(name), "older").unwrap();
    }
    for (name, command) in old.iter().zip(commands) {
        refused(
            &bench,
            command,
            &format!("{name}: there is such a file already"),
        );
        bench.run(&[command, &["--overwrite"]].concat());
        assert!(
            std::fs::read(bench.path(name)).unwrap() != b"older",
            "{name}"
        );
    }
    let again = commands[6];
    refused(
        &bench,
        again,
        "grain.0001.png and 3 more of the files to write are there already",
    );
}

#[test]
fn two_pictures_do_not_share_a_name() {
    let bench = bench();
    let two = |more: &[&str], words: &str| {
        refused(&bench, &[&RENDER[..], more].concat(), words);
    };
    std::fs::create_dir(bench.path("out")).unwrap();
    let both = "both a/x.png and b/x.png would be written to this file";
    for output in ["out/%.png", "out/", "new/", "./out/../out/"] {
        two(&["a/x.png", "b/x.png", "-o", output], both);
    }
    two(
        &["a/x.png", "a/x.png", "-o", "out/"],
        "both a/x.png and a/x.png",
    );
    copy(&bench, "f.01.png");
    copy(&bench, "f.001.png");
    two(
        &["f.01.png", "f.001.png", "-o", "out/####.png"],
        "both f.01.png and f.001.png",
    );
    // Two names of one file that may be replaced.
    copy(&bench, "out/f.01.png");
    std::fs::hard_link(bench.path("out/f.01.png"), bench.path("out/f.001.png")).unwrap();
    let linked = ["f.01.png", "f.001.png", "--overwrite", "-o", "out/"];
    two(&linked, "both f.01.png and f.001.png");
}

#[test]
fn patterns_are_understood_whole_or_refused() {
    let bench = Bench::new();
    let (one, two) = ("f.000104.png", "f.000105.png");
    copy(&bench, one);
    copy(&bench, two);
    let render = |output: &str| {
        let command = [&RENDER[..], &["--no-texture", one, two, "-o", output]].concat();
        bench.run(&command).success();
    };
    std::fs::create_dir(bench.path("50% #2")).unwrap();
    for output in [
        "g.%04d.png",
        "h.#######.png",
        "%-i.png",
        "j%%%d.png",
        "50% #2/%.png",
    ] {
        render(output);
    }
    for name in [
        "g.0104.png",
        "g.0105.png",
        "h.0000104.png",
        "f.000104-i.png",
        "j%105.png",
        "50% #2/f.000105.png",
    ] {
        assert!(bench.path(name).is_file(), "{name}");
    }
    let no = |output: &str, words: &str| {
        refused(
            &bench,
            &[&RENDER[..], &[one, two, "-o", output]].concat(),
            words,
        );
    };
    no("g.%4d.png", "\"%4d\" is not understood");
    no("%name.png", "\"%n\" is not understood");
    no("shot #3.png", "stands beside a digit");
    no("%04d/%.png", "make such a folder first");
    no("%/", "make such a folder first");
    no("one.png", "several pictures go into a folder");
    let command = [&RENDER[..], &["frame.png", "-o", "g.%04d.png"]].concat();
    refused(&bench, &command, "frame.png: there is no number at the end");
}

#[test]
fn one_run_reads_all_its_pictures_alike() {
    let bench = Bench::new();
    // The frame is guessed as a camera's log; one with full contrast as sRGB.
    for name in ["s.1.png", "s.2.png", "s.3.png"] {
        copy(&bench, name);
    }
    bench
        .run(&[
            "render",
            "look.json",
            "--from",
            "logc3",
            "--exposure",
            "6",
            "frame.png",
            "-o",
            "s.4.exr",
        ])
        .success();
    let shots = ["s.1.png", "s.2.png", "s.3.png", "s.4.exr"];
    let render = [&["render", "look.json", "-o", "out/"][..], &shots].concat();
    refused(
        &bench,
        &render,
        "would be read differently: s.1.png to s.3.png as logc3, s.4.exr as ",
    );
    bench
        .run(&[&render[..], &["--from", "logc3"]].concat())
        .success();
    let made = names_in(&bench.path("out"));
    assert_eq!(made.iter().filter(|name| name.ends_with(".png")).count(), 4);
    // Said once for the whole run.
    let alike = [
        "render",
        "look.json",
        "s.1.png",
        "s.2.png",
        "s.3.png",
        "-o",
        "alike/",
    ];
    let out = bench.run(&alike).success();
    let said = String::from_utf8(out.get_output().stderr.clone()).unwrap();
    assert_eq!(
        said.lines().filter(|line| line.contains("logc3")).count(),
        1,
        "{said}"
    );
    assert!(
        said.starts_with("3 pictures, s.1.png to s.3.png: read as logc3"),
        "{said}"
    );
}

#[cfg(unix)]
#[test]
fn only_ordinary_files_are_replaced() {
    use std::os::unix::fs::{PermissionsExt, symlink};

    let bench = Bench::new();
    let _socket = std::os::unix::net::UnixListener::bind(bench.path("socket.png")).unwrap();
    symlink("gone.png", bench.path("nowhere.png")).unwrap();
    std::fs::write(bench.path("kept.png"), "kept").unwrap();
    let protected = std::fs::Permissions::from_mode(0o444);
    std::fs::set_permissions(bench.path("kept.png"), protected).unwrap();
    for (output, words) in [
        ("socket.png", "no ordinary file"),
        ("nowhere.png", "a link to a file that is not there"),
        ("kept.png", "protected against writing"),
    ] {
        let command = [&RENDER[..], &["frame.png", "--overwrite", "-o", output]].concat();
        refused(&bench, &command, words);
    }
    // A link is seen through: what it leads to is replaced, and it stays a link.
    std::fs::write(bench.path("old.png"), "older").unwrap();
    symlink("old.png", bench.path("link.png")).unwrap();
    bench
        .run(&[&RENDER[..], &["frame.png", "--overwrite", "-o", "link.png"]].concat())
        .success();
    assert!(bench.path("link.png").is_symlink());
    assert!(
        std::fs::read(bench.path("old.png"))
            .unwrap()
            .starts_with(b"\x89PNG")
    );
}
