//! Packs as a whole: what is in them, the same bytes every time, and what is refused.

use std::io::{Cursor, Read};

use lookwright_film::look::Frame;
use lookwright_film::look::StartingStock;
use lookwright_picture::{OutColour, OutFormat, PictureWriter, Rows, WriteOptions, decode};
use lookwright_table::health::Setting;

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

pub(super) fn files(zip: Vec<u8>) -> Vec<(String, Vec<u8>)> {
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

/// A frame of grey LogC3 codes of 16 bits, by column.
pub(super) fn frame_of(name: &str, code: impl Fn(u32) -> u16) -> SampleFrame {
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
        let note = String::from_utf8(files.last().unwrap().1.clone()).unwrap();
        let cells = |line: &str| -> Vec<String> {
            let parts = line.split("  ").map(str::trim);
            parts.filter(|c| !c.is_empty()).map(str::to_owned).collect()
        };
        let mut rows = note.lines().map(cells);
        let health = rows.find(|row| row.get(2).is_some_and(|input| input == "logc3-full"));
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
    ] {
        assert!(names.contains(&name), "{name} in {names:#?}");
    }
    let note = String::from_utf8(files.last().unwrap().1.clone()).unwrap();
    let mut tables = 0;
    for (name, bytes) in &files {
        if name.starts_with("README") {
            continue;
        }
        let sum = <sha2::Sha256 as sha2::Digest>::digest(bytes);
        let hex: String = sum.iter().map(|byte| format!("{byte:02x}")).collect();
        assert!(note.contains(&format!("{hex}  {name}")), "{name}");
        if [".cube", ".clf", ".cc"].iter().any(|e| name.ends_with(e)) {
            check(bytes, name, Setting::default()).unwrap();
            tables += 1;
        }
        if name.ends_with(".json") {
            Look::read(std::str::from_utf8(bytes).unwrap()).unwrap();
        }
    }
    assert_eq!(tables, small().count_tables().unwrap());
    assert_eq!(tables, 2 * (2 + 2 + 1) * 2);
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
