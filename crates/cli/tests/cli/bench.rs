//! A fresh folder with a look and a small log frame, and the program to run in it.

#![expect(
    clippy::unwrap_used,
    reason = "a test may stop at what should not happen"
)]

use std::path::{Path, PathBuf};

use assert_cmd::Command;
use lookwright_picture::{OutColour, OutFormat, PictureWriter, Rows, WriteOptions};

pub(crate) struct Bench {
    folder: tempfile::TempDir,
}

pub(crate) const WIDTH: u32 = 24;
pub(crate) const HEIGHT: u32 = 16;

impl Bench {
    /// With `look.json` (daylight 250) and `frame.png` (16-bit codes that rise to the right).
    pub(crate) fn new() -> Self {
        let bench = Self {
            folder: tempfile::tempdir().unwrap(),
        };
        bench
            .run(&["new", "--stock", "daylight-250", "-o", "look.json"])
            .success();
        std::fs::write(bench.path("frame.png"), log_frame(OutFormat::Png16)).unwrap();
        bench
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> assert_cmd::assert::Assert {
        Command::new(assert_cmd::cargo::cargo_bin!("lookwright"))
            .current_dir(self.folder.path())
            .args(arguments)
            .assert()
    }

    /// Standard output of a run that must succeed.
    pub(crate) fn output(&self, arguments: &[&str]) -> String {
        let out = self.run(arguments).success();
        String::from_utf8(out.get_output().stdout.clone()).unwrap()
    }

    /// The one line on standard error of a run that must fail with exit code 1.
    pub(crate) fn complaint(&self, arguments: &[&str]) -> String {
        let out = self.run(arguments).code(1);
        let text = String::from_utf8(out.get_output().stderr.clone()).unwrap();
        assert_eq!(text.lines().count(), 1, "one line: {text}");
        text.trim_end().to_owned()
    }

    pub(crate) fn decode(&self, name: &str) -> lookwright_picture::Decoded {
        lookwright_picture::decode(&std::fs::read(self.path(name)).unwrap()).unwrap()
    }
}

/// Whether a folder holds nothing but what is named.
pub(crate) fn names_in(folder: &Path) -> Vec<String> {
    let mut names: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

/// Code of the test frame at a column and channel.
pub(crate) fn code_at(x: u32, channel: u32) -> f32 {
    (0.1 + 0.6 * x as f32 / (WIDTH - 1) as f32) * (1.0 - 0.05 * channel as f32)
}

fn log_frame(format: OutFormat) -> Vec<u8> {
    let options = WriteOptions {
        colour: OutColour::Unmarked,
        ..WriteOptions::default()
    };
    let mut writer = PictureWriter::new(format, WIDTH, HEIGHT, &options).unwrap();
    let row: Vec<f32> = (0..WIDTH)
        .flat_map(|x| (0..3).map(move |channel| code_at(x, channel)))
        .collect();
    for _ in 0..HEIGHT {
        writer.push_rows(Rows::F32(&row)).unwrap();
    }
    writer.finish().unwrap()
}
