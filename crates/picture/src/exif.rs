//! The few EXIF entries that matter here: orientation, colour space, camera.

use exif::{In, Reader, Tag};

use crate::carried::kept;

/// What EXIF says about the camera and its colour. A hint, never proof: programs copy it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Camera {
    /// Maker, trimmed, as the file spells it.
    pub make: Option<String>,
    /// Model, trimmed, as the file spells it.
    pub model: Option<String>,
    /// The `ColorSpace` entry says sRGB (1).
    pub says_srgb: bool,
    /// The interoperability entry says the optional colour space of DCF: Adobe RGB ("R03").
    pub says_adobe_rgb: bool,
}

/// EXIF as it matters here.
#[derive(Clone, Debug, Default)]
pub(crate) struct Exif {
    /// 1 ... 8, or 0 when there is none or it is nonsense.
    pub(crate) orientation: u8,
    pub(crate) camera: Camera,
    /// What goes on to pictures that are made of this one.
    pub(crate) kept: Vec<exif::Field>,
}

/// Reads an EXIF block that begins with its TIFF header. A broken block is read as far as it
/// goes; nothing in it can spoil the picture.
pub(crate) fn parse(block: &[u8]) -> Exif {
    let block = block.strip_prefix(b"Exif\0\0").unwrap_or(block);
    let mut reader = Reader::new();
    reader.continue_on_error(true);
    let parsed = reader
        .read_raw(block.to_vec())
        .or_else(|error| error.distill_partial_result(|_| {}));
    let Ok(fields) = parsed else {
        return Exif::default();
    };
    let number = |tag| {
        fields
            .get_field(tag, In::PRIMARY)
            .and_then(|f| f.value.get_uint(0))
    };
    let text = |tag| {
        let field = fields.get_field(tag, In::PRIMARY)?;
        let exif::Value::Ascii(parts) = &field.value else {
            return None;
        };
        tidy(&String::from_utf8_lossy(parts.first()?))
    };
    Exif {
        kept: kept(fields.fields()),
        orientation: number(Tag::Orientation).map_or(0, |n| if n <= 8 { n as u8 } else { 0 }),
        camera: Camera {
            make: text(Tag::Make),
            model: text(Tag::Model),
            says_srgb: number(Tag::ColorSpace) == Some(1),
            says_adobe_rgb: text(Tag::InteroperabilityIndex).as_deref() == Some("R03"),
        },
    }
}

/// A name without padding, or none when nothing is left. Control characters are dropped and the
/// length is bounded, since it may end up in a sentence.
pub(crate) fn tidy(name: &str) -> Option<String> {
    let clean: String = name.chars().filter(|c| !c.is_control()).take(80).collect();
    let clean = clean.trim();
    (!clean.is_empty()).then(|| clean.to_owned())
}
