//! The library's looks, and their tables.

use std::path::Path;

use lookwright_colour::encoding::{EncodingId, Range};
use lookwright_film::look::{Delivery, Look};
use lookwright_handover::{Recipe, Split};

/// The library's looks with their ids.
pub fn looks() -> Vec<(String, Look)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../web/looks");
    let index = std::fs::read_to_string(folder.join("index.json")).unwrap();
    let index: serde_json::Value = serde_json::from_str(&index).unwrap();
    let entries = index.as_array().unwrap().iter();
    entries
        .map(|entry| {
            let text = std::fs::read_to_string(folder.join(entry["file"].as_str().unwrap()));
            let id = entry["id"].as_str().unwrap().to_owned();
            (id, Look::read(&text.unwrap()).unwrap())
        })
        .collect()
}

/// A whole table of full range, for the default screen.
pub fn recipe(look: &Look, encoding: EncodingId, grid: usize) -> Recipe {
    Recipe {
        look: look.clone(),
        encoding,
        range: Range::Full,
        delivery: Delivery::default(),
        split: Split::Whole,
        scene: None,
        grid,
    }
}
