//! Fitted tables on pictures that they were not fitted to: the demonstration frames, put into each
//! encoding.
//!
//! `cargo test --release -p lookwright-handover --test frames -- --ignored --nocapture` prints the
//! part of `TABLES.md`; with `LOOKWRIGHT_PHOTOS=FOLDER`, sRGB pictures in that folder instead.

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

mod common;

use std::path::{Path, PathBuf};

use common::{looks, recipe};
use lookwright_colour::Rgb;
use lookwright_colour::encoding::{EncodingId, Range};
use lookwright_film::look::{Delivery, Frame, Look};
use lookwright_film::path::{FrameCode, LightPath};
use lookwright_handover::{Mapping, chart};
use lookwright_table::health::{Setting, examine};
use lookwright_table::{Grid3, Interpolation};

const LOGS: [EncodingId; 4] = [
    EncodingId::LogC3,
    EncodingId::SLog3SGamut3Cine,
    EncodingId::VLog,
    EncodingId::AcesCct,
];

/// Scene light of about `count` pixels of every frame.
fn frames(count: usize) -> Vec<Vec<[f64; 3]>> {
    if let Some(folder) = std::env::var_os("LOOKWRIGHT_PHOTOS") {
        let entries = std::fs::read_dir(folder).unwrap();
        let mut files: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
        files.sort();
        return files
            .iter()
            .map(|file| scene_light(file, "srgb", count))
            .collect();
    }
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-images");
    let index = std::fs::read_to_string(folder.join("frames.json")).unwrap();
    let index: serde_json::Value = serde_json::from_str(&index).unwrap();
    let entries = index["frames"].as_array().unwrap().iter();
    entries
        .map(|entry| {
            let file = folder.join(entry["file"].as_str().unwrap());
            scene_light(&file, entry["encoding"].as_str().unwrap(), count)
        })
        .collect()
}

fn scene_light(file: &Path, encoding: &str, count: usize) -> Vec<[f64; 3]> {
    let picture = lookwright_picture::decode(&std::fs::read(file).unwrap()).unwrap();
    let frame = format!(r#"{{"source":{{"encoding":"{encoding}"}}}}"#);
    let frame = Frame::read(&frame).unwrap();
    let path = LightPath::new(&Look::default(), &frame, &Delivery::default());
    let total = picture.width * picture.height;
    let every = (total as usize / count).max(1) | 1;
    let pixels = (0..total).step_by(every);
    pixels
        .map(|i| {
            let code = picture.pixel(i % picture.width, i / picture.width);
            let light = path.intake(FrameCode(Rgb::from_array(code)));
            light.0.to_array().map(f64::from)
        })
        .collect()
}

/// A look's exact picture of the frames in an encoding.
struct Pictures {
    mapping: Mapping,
    /// For each frame, places on the lattice and what has to come of them.
    frames: Vec<Vec<[[f32; 3]; 2]>>,
}

impl Pictures {
    fn of(look: &Look, encoding: EncodingId, frames: &[Vec<[f64; 3]>]) -> Self {
        let mapping = Mapping::new(&recipe(look, encoding, 33)).unwrap();
        let exact = |scene: &Vec<[f64; 3]>| {
            let places = chart::encoded(scene, encoding, Range::Full).unwrap();
            let with_value = |place: [f32; 3]| [place, mapping.at(place)];
            places.into_iter().map(with_value).collect()
        };
        let frames = frames.iter().map(exact).collect();
        Self { mapping, frames }
    }

    /// Differences of all channels in codes of 10 bits, each frame's in order.
    fn off(&self, grid: &Grid3, how: Interpolation) -> Vec<Vec<f64>> {
        let of_frame = |pixels: &Vec<[[f32; 3]; 2]>| {
            let differences = pixels.iter().flat_map(|[place, want]| {
                let got = grid.apply(*place, how);
                [0, 1, 2].map(|c| f64::from((got[c] - want[c]).abs()) * 1023.0)
            });
            let mut off: Vec<f64> = differences.collect();
            off.sort_by(f64::total_cmp);
            off
        };
        self.frames.iter().map(of_frame).collect()
    }
}

/// Mean and what 99.9 % stay below.
fn figures(off: &[f64]) -> [f64; 2] {
    let mean = off.iter().sum::<f64>() / off.len() as f64;
    [mean, off[off.len() * 999 / 1000]]
}

fn pooled(off: &[Vec<f64>]) -> Vec<f64> {
    let mut all: Vec<f64> = off.iter().flatten().copied().collect();
    all.sort_by(f64::total_cmp);
    all
}

#[test]
#[ignore = "prints a part of TABLES.md; see the head of this file"]
fn print_frames() {
    let frames = frames(8000);
    println!(
        "\n| look | encoding | sampled: mean | 99.9 | largest | fitted: mean | 99.9 | largest | trilinear: mean | 99.9 | frames better |"
    );
    println!("|{}", " --- |".repeat(11));
    for (id, look) in looks() {
        for encoding in LOGS {
            let pictures = Pictures::of(&look, encoding, &frames);
            let (sampled, fitted) = (
                pictures.mapping.sample(33).unwrap(),
                pictures.mapping.fitted(33).unwrap(),
            );
            let [before, after] =
                [&sampled, &fitted].map(|grid| pictures.off(grid, Interpolation::Tetrahedral));
            let trilinear = pictures.off(&fitted, Interpolation::Trilinear);
            let mut row = format!("| {id} | {} |", encoding.id());
            for off in [&before, &after] {
                let all = pooled(off);
                let [mean, most] = figures(&all);
                row.push_str(&format!(
                    " {mean:.2} | {most:.1} | {:.0} |",
                    all[all.len() - 1]
                ));
            }
            let [mean, most] = figures(&pooled(&trilinear));
            let better = before.iter().zip(&after).filter(|(b, a)| {
                let (b, a) = (figures(b), figures(a));
                a[0] < b[0] && a[1] < b[1]
            });
            println!(
                "{row} {mean:.2} | {most:.1} | {} of {} |",
                better.count(),
                frames.len()
            );
        }
    }
}

/// Nothing of the frames went into the tables. Measured: the mean falls by 33 to 38 %.
#[test]
fn fitted_tables_are_nearer_on_frames_that_they_have_not_seen() {
    let frames = frames(1500);
    let chosen = ["grey-quay", "fish-market", "red-lead"];
    for (id, look) in looks()
        .iter()
        .filter(|(id, _)| chosen.contains(&id.as_str()))
    {
        for encoding in [EncodingId::LogC3, EncodingId::AcesCct] {
            let pictures = Pictures::of(look, encoding, &frames);
            let off = [
                pictures.mapping.sample(33).unwrap(),
                pictures.mapping.fitted(33).unwrap(),
            ]
            .map(|grid| figures(&pooled(&pictures.off(&grid, Interpolation::Tetrahedral))));
            let [sampled, fitted] = off;
            let words = format!("{id}, {}: {sampled:?} {fitted:?}", encoding.id());
            assert!(fitted[0] < 0.72 * sampled[0], "{words}");
            assert!(fitted[1] < sampled[1], "{words}");
            assert!(id == "fish-market" || fitted[0] < 1.5, "{words}");
        }
    }
}

/// What the check finds in a fitted table it finds in the sampled one, and as bad.
#[test]
fn the_check_finds_nothing_new() {
    let chosen = ["fish-market", "storm-warning", "low-tide"];
    for (id, look) in looks()
        .iter()
        .filter(|(id, _)| chosen.contains(&id.as_str()))
    {
        for (encoding, grid) in [
            (EncodingId::LogC3, 17),
            (EncodingId::SLog3SGamut3Cine, 33),
            (EncodingId::AcesCg, 17),
            (EncodingId::Rec709, 17),
        ] {
            let mapping = Mapping::new(&recipe(look, encoding, grid)).unwrap();
            let [before, after] = [mapping.sample(grid), mapping.fitted(grid)]
                .map(|table| examine(&table.unwrap(), Setting::default(), None).unwrap());
            for found in &after.findings {
                let mut known = before.findings.iter().filter(|f| f.check == found.check);
                let known = known.next().map(|finding| finding.severity);
                assert!(
                    Some(found.severity) <= known,
                    "{id}, {}, {grid}: {found:?}",
                    encoding.id()
                );
            }
            assert!(after.slopes.folded <= before.slopes.folded);
            assert!(after.slopes.reversed <= before.slopes.reversed);
        }
    }
}
