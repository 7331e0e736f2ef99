//! What can be handed over: names and words for whoever chooses.

use std::collections::BTreeMap;

use lookwright_colour::encoding::ScreenId;
use lookwright_film::look::Options;
use lookwright_handover::{Format, Pack, PlateKind, Split};
use lookwright_picture::{FORMATS, FormatInfo, JPEG_QUALITY, Kind};
use serde::Serialize;
use wasm_bindgen::prelude::*;

use crate::answer::object;

#[derive(Serialize)]
struct Choice {
    id: &'static str,
    label: &'static str,
}

/// A choice that is written as a file.
#[derive(Serialize)]
struct FileChoice {
    id: &'static str,
    label: &'static str,
    extension: &'static str,
    media: &'static str,
    refused: BTreeMap<&'static str, &'static str>,
}

impl FileChoice {
    fn of_picture(format: &FormatInfo) -> Self {
        Self {
            id: format.id,
            label: format.label,
            extension: format.endings[0],
            media: format.media,
            refused: ScreenId::ALL
                .iter()
                .filter_map(|screen| Some((screen.id(), format.format.refusal(*screen)?)))
                .collect(),
        }
    }

    fn of_plate(kind: PlateKind) -> Self {
        let (extension, media) = kind.bundle_file();
        Self {
            id: kind.id(),
            label: PlateKind::OPTIONS[kind as usize].label,
            extension,
            media,
            refused: BTreeMap::new(),
        }
    }
}

#[derive(Serialize)]
struct Choices {
    splits: Vec<Choice>,
    formats: Vec<Choice>,
    usual: Vec<&'static str>,
    plates: Vec<FileChoice>,
    pictures: Vec<FileChoice>,
    quality: u8,
    endings: Vec<&'static str>,
}

fn choices<T: Options>(taken: impl Fn(&str) -> bool) -> Vec<Choice> {
    let options = T::OPTIONS.iter().filter(|o| taken(o.id));
    options
        .map(|o| Choice {
            id: o.id,
            label: o.label,
        })
        .collect()
}

/// What can be handed over: the parts of the light path and the formats that a pack's tables come in,
/// at any grid and of any encoding, each `[{id, label}]`; the ids of those that it usually has; plates and formats of pictures, `[{id, label, extension, media, refused}]`
/// (refused: why code for a screen is not written so, by its id), with the usual quality of a JPEG; and the endings of pictures that are read: `{splits, formats, usual,
/// plates, pictures, quality, endings}`.
///
/// # Errors
/// None that input could bring about.
#[wasm_bindgen(unchecked_return_type = "import('../../types.js').Catalogue['handOver']")]
pub fn hand_over_choices() -> Result<JsValue, JsError> {
    object(&Choices {
        splits: choices::<Split>(|_| true),
        formats: choices::<Format>(|id| Format::from_id(id).is_some_and(Format::takes_light)),
        usual: Pack::new(Vec::new(), Vec::new())
            .formats
            .iter()
            .map(|format| format.id())
            .collect(),
        plates: PlateKind::ALL
            .iter()
            .map(|kind| FileChoice::of_plate(*kind))
            .collect(),
        pictures: FORMATS.iter().map(FileChoice::of_picture).collect(),
        quality: JPEG_QUALITY,
        endings: Kind::endings().collect(),
    })
}
