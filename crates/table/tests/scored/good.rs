//! Tables without a mistake, none made by this project: `tests/data/tables/good`, written by
//! `tests/reference/good_tables.py`, and the files of OpenColorIO's own tests.

use std::fs;
use std::path::{Path, PathBuf};

use lookwright_colour::encoding::{EncodingId, Range, ScreenId};
use lookwright_table::health::Setting;
use lookwright_table::{Grid3, hald, read_table};
use serde_json::Value;

use super::report::{Half, Score};
use super::{verdict, verdict_of};

pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/data/tables")
}

/// A table of the index.
pub struct Outside {
    pub name: String,
    pub maker: String,
    pub grid: Grid3,
    pub setting: Setting,
    pub half: Half,
}

/// Every second one of the index, which is in the order of names.
fn half_of(place: usize) -> Half {
    Half::ALL[place % 2]
}

pub fn outside() -> Vec<Outside> {
    let folder = folder().join("good");
    let index = fs::read_to_string(folder.join("index.json")).unwrap();
    let index: Value = serde_json::from_str(&index).unwrap();
    let entries = index.as_array().unwrap().iter().enumerate();
    let word = |entry: &Value, key: &str| entry[key].as_str().unwrap().to_owned();
    entries
        .map(|(place, entry)| {
            let name = word(entry, "file");
            let bytes = fs::read(folder.join(&name)).unwrap();
            let source = EncodingId::parse(&word(entry, "from")).ok();
            let screen = ScreenId::parse(&word(entry, "to")).ok();
            Outside {
                grid: if name.ends_with(".png") {
                    picture(&bytes)
                } else {
                    read_table(&bytes, &name).unwrap().lattice().unwrap()
                },
                maker: word(entry, "maker"),
                name,
                setting: Setting {
                    source: source.map(|it| (it, Range::Full)),
                    screen: screen.unwrap_or_default(),
                    said: screen.is_some(),
                    ..Setting::default()
                },
                half: half_of(place),
            }
        })
        .collect()
}

/// A lattice picture of 16 bits.
fn picture(bytes: &[u8]) -> Grid3 {
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes))
        .read_info()
        .unwrap();
    let mut samples = vec![0; reader.output_buffer_size().unwrap()];
    let info = reader.next_frame(&mut samples).unwrap();
    assert_eq!(info.bit_depth, png::BitDepth::Sixteen);
    let codes = samples
        .chunks_exact(2)
        .map(|pair| u16::from_be_bytes([pair[0], pair[1]]));
    hald::from_pixels(
        info.width as usize,
        info.height as usize,
        &codes.collect::<Vec<_>>(),
    )
    .unwrap()
}

fn score(name: &str, truth: &'static str, half: Half, verdict: super::Verdict) -> Score {
    Score {
        half,
        name: name.to_owned(),
        truth,
        right: &[],
        tellable: true,
        verdict,
    }
}

pub fn scores() -> Vec<Score> {
    let mut scores = Vec::new();
    for table in outside() {
        let maker = ["colour-science", "OpenColorIO", "ffmpeg"]
            .into_iter()
            .find(|it| table.maker.starts_with(it));
        scores.push(score(
            &table.name,
            maker.unwrap(),
            table.half,
            verdict_of(&table.grid, table.setting),
        ));
    }
    let mut files: Vec<_> = fs::read_dir(folder().join("ocio/legal"))
        .unwrap()
        .map(|it| it.unwrap().path())
        .collect();
    // Those that the figures are of.
    let scored = ["clf", "cube", "cc", "ccc", "cdl"];
    files.retain(|path| {
        scored
            .iter()
            .any(|it| path.extension().is_some_and(|end| end == *it))
    });
    files.sort();
    for (place, path) in files.iter().enumerate() {
        let name = path.file_name().unwrap().to_string_lossy();
        let bytes = fs::read(path).unwrap();
        scores.push(score(
            &name,
            "test files",
            half_of(place),
            verdict(&bytes, Setting::default()),
        ));
    }
    scores
}
