//! The few EXIF entries that matter here: orientation, colour space, camera.

use exif::{In, Reader, Tag};

use crate::carried::{fits, wanted};

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

/// No more of a block is read than a segment of a JPEG holds, in bytes.
const MOST_BLOCK: usize = 1 << 16;

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
/// goes; nothing in it can spoil the picture. The reader unpacks an entry when it is asked for, so
/// those that nobody needs may claim to be as long as they like.
pub(crate) fn parse(block: &[u8]) -> Exif {
    let block = block.strip_prefix(b"Exif\0\0").unwrap_or(block);
    let block = &block[..block.len().min(MOST_BLOCK)];
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
        kept: wanted()
            .filter_map(|tag| fields.get_field(tag, In::PRIMARY))
            .filter(|field| fits(field))
            .cloned()
            .collect(),
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

#[cfg(test)]
mod tests {
    use super::*;

    /// A directory of entries: number, sort, count, and value or place of it. TIFF 6.0, 2.
    fn block(entries: &[(u16, u16, u32, u32)]) -> Vec<u8> {
        let mut block = b"MM\0\x2a\0\0\0\x08".to_vec();
        block.extend((entries.len() as u16).to_be_bytes());
        for (number, sort, count, value) in entries {
            block.extend(number.to_be_bytes());
            block.extend(sort.to_be_bytes());
            block.extend(count.to_be_bytes());
            block.extend(value.to_be_bytes());
        }
        block.extend([0; 4]);
        block
    }

    /// Unpacked, the lines of nothing of each of these entries take more than a megabyte.
    #[test]
    fn entries_that_nobody_needs_are_not_unpacked() {
        const LONG: u32 = 15_000;
        let make = (271, 2, 4, u32::from_be_bytes(*b"Box\0"));
        let mut entries = vec![make, (33432, 2, LONG, 0)];
        entries.extend((0..4000).map(|at| (50_000 + at, 2, LONG, 0)));
        let place = 14 + 12 * entries.len() as u32;
        for entry in &mut entries[1..] {
            entry.3 = place;
        }
        let mut block = block(&entries);
        block.resize(MOST_BLOCK, 0);
        assert!((place + LONG) as usize <= MOST_BLOCK);
        let began = std::time::Instant::now();
        let exif = parse(&block);
        assert_eq!(exif.camera.make.as_deref(), Some("Box"));
        let kept: Vec<Tag> = exif.kept.iter().map(|field| field.tag).collect();
        assert_eq!(kept, [Tag::Make]);
        assert!(began.elapsed().as_millis() < 200, "{:?}", began.elapsed());
    }

    #[test]
    fn a_block_is_read_no_further_than_a_segment_is_long() {
        let far = MOST_BLOCK as u32;
        let mut block = block(&[(271, 2, 8, far - 8), (272, 2, 8, far)]);
        block.resize(MOST_BLOCK - 8, 0);
        block.extend(*b"Camera\0\0Model 3\0");
        let exif = parse(&block);
        assert_eq!(exif.camera.make.as_deref(), Some("Camera"));
        assert_eq!(exif.camera.model, None);
    }
}
