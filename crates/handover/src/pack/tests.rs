//! Packs as a whole: what is in them, the same bytes every time, and what is refused.

use std::io::{Cursor, Read};

use lookwright_film::look::StartingStock;
use lookwright_film::look::{Delivery, Frame};
use lookwright_picture::{OutColour, OutFormat, PictureWriter, Rows, WriteOptions, decode};

use super::*;
use crate::check;

fn look(name: &str) -> Look {
    let mut look = Look::starting(StartingStock::Overcast);
    look.name = name.to_owned();
    look
}

fn small() -> Pack {
    let mut pack = Pack::new(
        vec![look("Quay")],
        vec![EncodingId::LogC3, EncodingId::AcesCg],
    );
    pack.stocks = vec![
        StartingStock::Evening.into(),
        StartingStock::Overcast.into(),
    ];
    pack.splits = Split::ALL.to_vec();
    pack.grid = 5;
    pack
}

pub(super) fn zip_of(pack: &Pack) -> Vec<u8> {
    pack.write(Cursor::new(Vec::new()), |_| true)
        .unwrap()
        .into_inner()
}

pub(crate) fn files(zip: Vec<u8>) -> Vec<(String, Vec<u8>)> {
    let mut archive = zip::ZipArchive::new(Cursor::new(zip)).unwrap();
    (0..archive.len())
        .map(|i| {
            let mut entry = archive.by_index(i).unwrap();
            let mut bytes = Vec::new();
            entry.read_to_end(&mut bytes).unwrap();
            (entry.name().unwrap().into_owned(), bytes)
        })
        .collect()
}

pub(super) fn text_of(files: &[(String, Vec<u8>)], name: &str) -> String {
    let (_, bytes) = files.iter().find(|(path, _)| path == name).unwrap();
    String::from_utf8(bytes.clone()).unwrap()
}

/// A frame of grey LogC3 codes of 16 bits, by column.
pub(crate) fn frame_of(name: &str, code: impl Fn(u32) -> u16) -> SampleFrame {
    const WIDTH: u32 = 96;
    const HEIGHT: u32 = 64;
    let options = WriteOptions {
        colour: OutColour::Unmarked,
        legal_range: false,
        description: None,
        ..WriteOptions::default()
    };
    let row: Vec<u16> = (0..WIDTH).flat_map(|x| [code(x); 3]).collect();
    let mut writer = PictureWriter::new(OutFormat::Png16, WIDTH, HEIGHT, &options).unwrap();
    for _ in 0..HEIGHT {
        writer.push_rows(Rows::U16(&row)).unwrap();
    }
    let mut frame = Frame::default();
    frame.source.encoding = EncodingId::LogC3;
    SampleFrame {
        name: name.to_owned(),
        picture: decode(&writer.finish().unwrap()).unwrap(),
        frame,
    }
}

/// A table is exact at its nodes: at grid 3, at the code 0.5, and far off elsewhere.
#[test]
fn tables_are_held_against_the_frames_as_well() {
    let off = |frames: Vec<SampleFrame>| {
        let mut pack = Pack::new(vec![look("Quay")], vec![EncodingId::LogC3]);
        (pack.grid, pack.frames) = (3, frames);
        let files = files(zip_of(&pack));
        let note = text_of(&files, "README.txt");
        let cells = |line: &str| -> Vec<String> {
            let parts = line.split("  ").map(str::trim);
            parts.filter(|c| !c.is_empty()).map(str::to_owned).collect()
        };
        let mut rows = note.lines().map(cells);
        let health = rows.find(|row| row.len() == 9 && row[2] == "logc3-full to rec709-full");
        health.unwrap()[5].clone()
    };
    assert_eq!(off(Vec::new()), "-");
    assert_eq!(off(vec![frame_of("Node", |_| 32_768)]), "0.00");
    let between: f64 = off(vec![frame_of("Between", |_| 25_000)]).parse().unwrap();
    assert!(between > 1.0, "{between}");
}

#[test]
fn the_same_pack_is_the_same_bytes_in_whatever_order_it_was_asked_for() {
    let pack = small();
    let first = zip_of(&pack);
    assert!(first == zip_of(&pack));
    let mut other = pack.clone();
    other.encodings.reverse();
    other.stocks.reverse();
    other.encodings.push(EncodingId::LogC3);
    assert!(first == zip_of(&other));
    let mut dated = pack;
    dated.date = Some("2024-05-31".to_owned());
    assert!(first != zip_of(&dated));
}

#[test]
fn every_table_opens_and_the_note_names_every_file_with_its_sum() {
    let files = files(zip_of(&small()));
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    for name in [
        "day-320/quay_day-320.json",
        "day-320/quay_day-320_logc3-full_to_rec709-full_grid5.cube",
        "day-320/quay_day-320_logc3-full_to_film-scan_grid5.clf",
        "lamp-500/quay_lamp-500_film-scan_to_rec709-full_grid5.clf",
        "lamp-500/quay_lamp-500_acescg-full_to_rec709-full_grid5.cube",
        "test-charts/logc3-full/chart.png",
        "test-charts/acescg-full/chart.exr",
        "test-charts/logc3-full/expected_quay_lamp-500_rec709-full.png",
        "health/quay_day-320_logc3-full_to_rec709-full_grid5.svg",
        "README.html",
        "README.txt",
        "manifest.json",
        "test-charts/logc3-full/chart.json",
        "test-charts/logc3-full/chart.txt",
        "health/quay_day-320_film-scan_to_rec709-full_grid5.svg",
    ] {
        assert!(names.contains(&name), "{name} in {names:#?}");
    }
    let note = text_of(&files, "README.txt");
    let sums = text_of(&files, "SHA256SUMS");
    let mut tables = 0;
    for (name, bytes) in &files {
        let sum = <sha2::Sha256 as sha2::Digest>::digest(bytes);
        let hex: String = sum.iter().map(|byte| format!("{byte:02x}")).collect();
        let line = format!("{hex}  {name}");
        let is_of_all =
            ["README.txt", "README.html", "manifest.json", "SHA256SUMS"].contains(&name.as_str());
        assert!(is_of_all || note.contains(&line), "{name}");
        assert!(name == "SHA256SUMS" || sums.contains(&line), "{name}");
        if [".cube", ".clf", ".cc"].iter().any(|e| name.ends_with(e)) {
            check(bytes, name, crate::Asked::default()).unwrap();
            tables += 1;
        }
        if name.starts_with("day-320/") && name.ends_with(".json") {
            Look::read(std::str::from_utf8(bytes).unwrap()).unwrap();
        }
    }
    assert_eq!(tables, small().count_tables().unwrap());
    assert_eq!(tables, 2 * (2 + 2 + 1) * 2);
}

/// What the manifest says of files is so, and it names all but the check-sums and itself.
#[test]
fn the_manifest_names_every_file_and_what_it_is() {
    let mut pack = small();
    pack.plates = Some(Plates {
        width: 32,
        height: 24,
        frames: 1,
    });
    let files = files(zip_of(&pack));
    let manifest: serde_json::Value =
        serde_json::from_str(&text_of(&files, "manifest.json")).unwrap();
    let told = manifest["files"].as_array().unwrap();
    let named: Vec<_> = told.iter().map(|f| f["path"].as_str().unwrap()).collect();
    let there = files.iter().map(|(name, _)| name.as_str());
    let there: Vec<_> = there
        .filter(|name| !["manifest.json", "SHA256SUMS"].contains(name))
        .collect();
    assert_eq!(named, there);
    for file in told {
        let path = file["path"].as_str().unwrap();
        let bytes = &files.iter().find(|(name, _)| name == path).unwrap().1;
        assert_eq!(file["bytes"], bytes.len(), "{path}");
        let role = file["role"].as_str().unwrap();
        assert_ne!(role == "note", !path.starts_with("README"), "{path}");
        if role == "table" {
            let text = std::str::from_utf8(bytes).unwrap();
            assert!(text.contains(file["look"].as_str().unwrap()), "{path}");
        }
        if let Some(gain) = file.get("gain") {
            assert!(named.contains(&gain.as_str().unwrap()), "{path}");
        }
    }
    assert_eq!(
        manifest["made_with"]["model"],
        lookwright_film::look::MODEL_VERSION
    );
    let halves = told
        .iter()
        .filter(|f| f["part"] == "camera-to-scan" && f["role"] == "table");
    assert_eq!(
        halves
            .filter(|f| f.get("errors_in_a_row").is_some())
            .count(),
        2 * 2 * 2
    );
}

/// Name and note are no part of a look's pixels, so neither are they of its fingerprint.
#[test]
fn a_name_and_a_note_change_no_table_but_in_its_words() {
    let numbers = |name: &str, note: &str| {
        let mut look = look(name);
        look.note = note.to_owned();
        let baked = crate::Baked::new(crate::Recipe {
            look,
            encoding: EncodingId::LogC3,
            range: Range::Full,
            delivery: Delivery::default(),
            split: Split::Whole,
            scene: None,
            grid: 5,
        });
        let text = String::from_utf8(baked.unwrap().write(Format::Cube).unwrap()).unwrap();
        let mut lines: Vec<_> = text.lines().map(str::to_owned).collect();
        lines.remove(0);
        lines
    };
    let one = numbers("Quay", "");
    assert_eq!(one, numbers("Ferry", "for the night"));
    assert!(
        one.iter().any(|line| line.ends_with("model 1.")),
        "{one:#?}"
    );
}

#[test]
fn which_table_has_an_answer_for_whatever_a_program_does() {
    let mut pack = Pack::new(
        vec![look("Quay")],
        vec![
            EncodingId::SLog3SGamut3Cine,
            EncodingId::LogC3,
            EncodingId::AcesCg,
        ],
    );
    pack.grid = 2;
    pack.ranges = vec![Range::Full, Range::Legal];
    let files = files(zip_of(&pack));
    let note = text_of(&files, "README.txt");
    let answers = |start: &str| -> Vec<String> {
        let lines = note.lines().filter(|line| line.starts_with(start));
        let cells = lines.map(|line| line.split("  ").map(str::trim).filter(|c| !c.is_empty()));
        let rows = cells.map(|cells| cells.skip(1).collect::<Vec<_>>().join(" | "));
        rows.filter(|row| row.contains("legal ") || row.contains("hands over"))
            .collect()
    };
    // 95 and 420 of 1023 (Sony, Technical Summary, 2013), and what stretching 64 to 940 makes of them.
    assert_eq!(
        answers("S-Log3, S-Gamut3.Cine")[..3],
        [
            "hands over full codes | 95 | 420 | ..._slog3-sgamut3cine-full_to_...",
            "expands legal to full | 36 | 416 | not in this pack: ask for range expanded",
            "leaves legal as it is | 95 | 420 | ..._slog3-sgamut3cine-full_to_...",
        ]
    );
    assert_eq!(
        answers("LogC3 (EI 800)")[1..3],
        [
            "expands legal to full | 95 | 400 | ..._logc3-full_to_...",
            "leaves legal as it is | 145 | 407 | ..._logc3-legal_to_...",
        ]
    );
    assert_eq!(answers("ACEScg").len(), 1);
}

#[test]
fn whoever_works_makes_the_same_pack() {
    /// Takes results in order, but works on the last first.
    struct Backwards;
    impl Workers for Backwards {
        fn each<T: Send>(
            &self,
            count: usize,
            work: impl Fn(usize) -> T + Sync,
            mut take: impl FnMut(usize, T) -> Result<()>,
        ) -> Result<()> {
            let mut done: Vec<T> = (0..count).rev().map(work).collect();
            done.reverse();
            let mut parts = done.into_iter().enumerate();
            parts.try_for_each(|(i, part)| take(i, part))
        }
    }
    let pack = small();
    let out = Cursor::new(Vec::new());
    let other = pack.write_with(&Backwards, out, |_| true).unwrap();
    assert!(zip_of(&pack) == other.into_inner());
}

#[test]
fn steps_count_up_to_the_total_and_a_pack_can_be_given_up() {
    let mut seen = Vec::new();
    small()
        .write(Cursor::new(Vec::new()), |step| {
            seen.push((step.done, step.total));
            true
        })
        .unwrap();
    let total = seen[0].1;
    assert_eq!(seen, (0..total).map(|i| (i, total)).collect::<Vec<_>>());
    let refusal = small().write(Cursor::new(Vec::new()), |step| step.done < 3);
    assert_eq!(refusal.unwrap_err().message(), "the pack was given up");
}

#[test]
fn looks_of_one_name_keep_apart() {
    let mut other = look("quay!");
    other.scan.contrast.slope += 0.1;
    let mut pack = Pack::new(vec![look("Quay"), other], vec![EncodingId::VLog]);
    pack.grid = 2;
    pack.formats = vec![Format::Cube];
    let files = files(zip_of(&pack));
    for slug in ["quay", "quay-2"] {
        let name = format!("day-320/{slug}_day-320_vlog-full_to_rec709-full_grid2.cube");
        assert!(files.iter().any(|(n, _)| *n == name), "{name}");
    }
}

#[test]
fn what_is_missing_or_wrong_is_told_in_a_sentence() {
    let refused = |change: fn(&mut Pack)| {
        let mut pack = small();
        change(&mut pack);
        let refusal = pack.write(Cursor::new(Vec::new()), |_| true).unwrap_err();
        refusal.message().to_owned()
    };
    assert_eq!(
        refused(|p| p.looks.clear()),
        "a pack needs at least one look"
    );
    assert_eq!(
        refused(|p| p.date = Some("31.5.2024".to_owned())),
        "date \"31.5.2024\" is not a day; write it as 2024-05-31"
    );
    assert!(refused(|p| p.grid = 130).contains("sizes run from 2 to 129"));
    assert!(refused(|p| p.licence = Some("a\nb".to_owned())).contains("one line"));
    assert!(refused(|p| p.formats.push(Format::Lattice)).contains("lattice pictures need"));
}
