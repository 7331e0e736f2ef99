//! Long runs: what happens when they are cut off, shared out, or meet a bad frame.

#![expect(
    clippy::unwrap_used,
    reason = "a test may stop at what should not happen"
)]

use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use super::bench::{Bench, names_in};

const FRAMES: usize = 24;

/// A bench with a shot of numbered frames.
fn shot() -> Bench {
    let bench = Bench::new();
    for number in 1..=FRAMES {
        let name = bench.path(&format!("s.{number:04}.png"));
        std::fs::copy(bench.path("frame.png"), name).unwrap();
    }
    bench
}

const RENDER: [&str; 7] = [
    "render",
    "look.json",
    "s.####.png",
    "--from",
    "logc3",
    "--depth",
    "16",
];

fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let names = names_in(folder).into_iter();
    names
        .map(|name| (name.clone(), std::fs::read(folder.join(name)).unwrap()))
        .collect()
}

fn said(run: &assert_cmd::assert::Assert) -> String {
    String::from_utf8(run.get_output().stderr.clone()).unwrap()
}

#[test]
fn a_run_that_was_killed_ten_times_goes_on_to_the_same_folder() {
    let bench = shot();
    bench
        .run(&[&RENDER[..], &["-o", "whole/"]].concat())
        .success();
    let resume = [&RENDER[..], &["--resume", "--threads", "2", "-o", "cut/"]].concat();
    // Sooner and later, by a fixed rule; a run that ends before it is killed is one, too.
    for kill in 0_u64..10 {
        let mut run = Command::new(assert_cmd::cargo::cargo_bin!("lookwright"))
            .current_dir(bench.path("."))
            .args(&resume)
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(Duration::from_millis(15 + kill * 37 % 100));
        run.kill().unwrap();
        run.wait().unwrap();
    }
    bench.run(&resume).success();
    let (whole, cut) = (files(&bench.path("whole")), files(&bench.path("cut")));
    assert_eq!(whole.len(), FRAMES + 1);
    assert_eq!(
        cut.keys().collect::<Vec<_>>(),
        whole.keys().collect::<Vec<_>>()
    );
    assert!(cut == whole, "byte for byte, the record among them");
}

#[test]
fn what_is_done_and_right_stays_and_the_rest_is_made() {
    let bench = shot();
    let resume = |more: &[&str]| {
        let run = bench
            .run(&[&RENDER[..], &["--resume", "-o", "out/"], more].concat())
            .success();
        said(&run)
    };
    let all = format!("{FRAMES} of {FRAMES} pictures written; ");
    assert!(resume(&[]).contains(&all));
    let whole = files(&bench.path("out"));
    let kept = |kept: usize| {
        format!(
            "{} of {FRAMES} pictures written, {kept} were there already",
            FRAMES - kept
        )
    };
    assert!(resume(&[]).contains(&kept(FRAMES)));
    // A picture is gone, one is cut off, one was changed.
    std::fs::remove_file(bench.path("out/s.0002.png")).unwrap();
    std::fs::write(bench.path("out/s.0005.png"), &whole["s.0005.png"][..40]).unwrap();
    std::fs::copy(bench.path("frame.png"), bench.path("out/s.0009.png")).unwrap();
    assert!(resume(&[]).contains(&kept(FRAMES - 3)));
    assert!(files(&bench.path("out")) == whole);
    // Another frame came in; then another setting, and another look.
    bench
        .run(&[
            "plate",
            "look.json",
            "--kind",
            "grain",
            "--size",
            "24x16",
            "--frames",
            "1",
            "-o",
            "p",
        ])
        .success();
    std::fs::copy(bench.path("p/grain.0001.png"), bench.path("s.0007.png")).unwrap();
    assert!(resume(&[]).contains(&kept(FRAMES - 1)));
    assert!(resume(&["--exposure", "1"]).contains(&all));
    bench
        .run(&["new", "--stock", "noon", "-o", "look.json", "--overwrite"])
        .success();
    assert!(resume(&["--exposure", "1"]).contains(&all));
}

#[test]
fn a_file_without_a_record_is_not_this_works() {
    let bench = shot();
    std::fs::create_dir(bench.path("out")).unwrap();
    std::fs::write(bench.path("out/s.0003.png"), "somebody's").unwrap();
    let complaint = bench.complaint(&[&RENDER[..], &["--resume", "-o", "out/"]].concat());
    assert!(
        complaint.contains("out/s.0003.png: there is such a file already"),
        "{complaint}"
    );
    assert_eq!(
        std::fs::read(bench.path("out/s.0003.png")).unwrap(),
        b"somebody's"
    );
}

#[test]
fn shares_make_the_whole_and_each_goes_on_by_itself() {
    let bench = shot();
    bench
        .run(&[&RENDER[..], &["-o", "whole/"]].concat())
        .success();
    for share in ["2/3", "1/3", "3/3", "1/3"] {
        bench
            .run(&[&RENDER[..], &["--resume", "--share", share, "-o", "out/"]].concat())
            .success();
    }
    let pictures = |folder: &str| {
        let mut found = files(&bench.path(folder));
        found.retain(|name, _| name.ends_with(".png"));
        found
    };
    assert!(pictures("out") == pictures("whole"));
    // Another division of the work finds what is done.
    let again = bench
        .run(&[&RENDER[..], &["--resume", "-o", "out/"]].concat())
        .success();
    assert!(said(&again).contains(&format!("{FRAMES} were there already")));
    let complaint = bench
        .run(&[
            "render",
            "look.json",
            "s.####.png",
            "--share",
            "1/2",
            "-o",
            "x/",
        ])
        .code(2);
    assert!(said(&complaint).contains("--from"));
}

#[test]
fn bad_frames_are_listed_and_the_others_are_made() {
    let bench = shot();
    std::fs::write(bench.path("s.0004.png"), "no picture").unwrap();
    let broken = std::fs::read(bench.path("s.0006.png")).unwrap();
    std::fs::write(bench.path("s.0006.png"), &broken[..broken.len() / 2]).unwrap();
    let run = [
        &RENDER[..],
        &[
            "--keep-going",
            "--quiet",
            "--log",
            "log.jsonl",
            "-o",
            "out/",
        ],
    ];
    let said = said(&bench.run(&run.concat()).code(3));
    let lines: Vec<_> = said.lines().collect();
    assert_eq!(lines.len(), 2, "{said}");
    assert!(lines[0].starts_with("lookwright: s.0004.png: "), "{said}");
    assert!(lines[1].starts_with("lookwright: s.0006.png: "), "{said}");
    let made = names_in(&bench.path("out"))
        .into_iter()
        .filter(|name| name.ends_with(".png"));
    assert_eq!(made.count(), FRAMES - 2);
    // A program reads the same.
    let log = std::fs::read_to_string(bench.path("log.jsonl")).unwrap();
    let lines: Vec<serde_json::Value> = log
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    assert_eq!(lines.len(), FRAMES + 2);
    let outcomes = |word: &str| lines.iter().filter(|line| line["outcome"] == word).count();
    assert_eq!((outcomes("written"), outcomes("failed")), (FRAMES - 2, 2));
    assert_eq!(lines[FRAMES + 1]["failed"], 2);
    // Without it, the first ends the run.
    let complaint = bench.complaint(&[&RENDER[..], &["--quiet", "-o", "stop/"]].concat());
    assert!(
        complaint.contains("s.0004.png") || complaint.contains("s.0006.png"),
        "{complaint}"
    );
    // A log is not written into what is read.
    let run = [
        &RENDER[..],
        &["--quiet", "--log", "look.json", "-o", "log/"],
    ];
    let complaint = bench.complaint(&run.concat());
    assert!(
        complaint.contains("look.json: this file is read"),
        "{complaint}"
    );
}

/// Beside the pictures, wherever they go.
#[test]
fn a_pattern_in_this_folder_has_its_record_here() {
    let bench = shot();
    let run = [
        &RENDER[..],
        &["--frames", "1-3", "--resume", "-o", "o.####.png"],
    ]
    .concat();
    bench.run(&run).success();
    assert!(
        said(&bench.run(&run).success()).contains("0 of 3 pictures written, 3 were there already")
    );
    // What failed wholly says why.
    std::fs::write(bench.path("s.0001.png"), "no picture").unwrap();
    let run = [&RENDER[..], &["--frames", "1", "--quiet", "-o", "none/"]].concat();
    assert!(bench.complaint(&run).contains("s.0001.png"));
}

/// However the work is divided among threads.
#[test]
fn threads_change_nothing() {
    let bench = shot();
    for (threads, folder) in [("1", "one/"), ("2", "two/"), ("40", "forty/")] {
        bench
            .run(&[&RENDER[..], &["--threads", threads, "-o", folder]].concat())
            .success();
    }
    let one = files(&bench.path("one"));
    assert!(one == files(&bench.path("two")) && one == files(&bench.path("forty")));
}

/// A disk that is full: a small one in memory, where the tests may mount one.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_leaves_whole_pictures_only() {
    let bench = shot();
    let small = bench.path("small");
    std::fs::create_dir(&small).unwrap();
    let mount = Command::new("mount")
        .args(["-t", "tmpfs", "-o", "size=16k", "tmpfs"])
        .arg(&small)
        .status();
    if !mount.is_ok_and(|status| status.success()) {
        println!("left out: no small disk can be mounted here (that takes root)");
        return;
    }
    let run = bench.run(&[&RENDER[..], &["--quiet", "-o", "small/"]].concat());
    let said = said(&run);
    let names = names_in(&small);
    let whole = names.iter().filter(|name| name.ends_with(".png"));
    let bad = whole.filter(|name| {
        lookwright_picture::decode(&std::fs::read(small.join(name)).unwrap()).is_err()
    });
    let bad = bad.count();
    let left = names.iter().any(|name| name.starts_with(".lookwright-"));
    // The same disk where nothing may be written.
    let remount = ["-o", "remount,ro"];
    Command::new("mount")
        .args(remount)
        .arg(&small)
        .status()
        .unwrap();
    let forbidden = bench.run(&[&RENDER[..], &["--quiet", "--resume", "-o", "small/"]].concat());
    Command::new("umount").arg(&small).status().unwrap();
    let why = crate::batch::said(&forbidden);
    forbidden.code(1);
    assert_eq!(why.lines().count(), 1, "{why}");
    assert!(
        why.contains("small") && why.contains("can't be written"),
        "{why}"
    );
    run.code(1);
    assert_eq!(said.lines().count(), 1, "{said}");
    assert!(said.contains("can't be written"), "{said}");
    assert_eq!((bad, left), (0, false));
}
