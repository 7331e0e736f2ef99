//! What a camera wrote into a photo: entries of EXIF (CIPA DC-008), as a block of their own.

use std::io::Cursor;

use exif::{Context, Field, Tag, Value};

/// What goes on: which camera and lens, how and when it was taken, by whom. What would tell one
/// device or its owner from others (serial numbers, owner, maker's notes) does not.
const KEPT: [Tag; 31] = [
    Tag::Make,
    Tag::Model,
    Tag::DateTime,
    Tag::Artist,
    Tag::Copyright,
    Tag::DateTimeOriginal,
    Tag::DateTimeDigitized,
    Tag::OffsetTime,
    Tag::OffsetTimeOriginal,
    Tag::OffsetTimeDigitized,
    Tag::SubSecTime,
    Tag::SubSecTimeOriginal,
    Tag::SubSecTimeDigitized,
    Tag::ExposureTime,
    Tag::FNumber,
    Tag::ExposureProgram,
    Tag::PhotographicSensitivity,
    Tag::SensitivityType,
    Tag::ShutterSpeedValue,
    Tag::ApertureValue,
    Tag::ExposureBiasValue,
    Tag::MeteringMode,
    Tag::LightSource,
    Tag::Flash,
    Tag::FocalLength,
    Tag::FocalLengthIn35mmFilm,
    Tag::SubjectDistance,
    Tag::WhiteBalance,
    Tag::LensSpecification,
    Tag::LensMake,
    Tag::LensModel,
];

/// More than any of these entries has, in bytes.
pub(crate) const MOST_BYTES: usize = 4096;
/// More than a segment of a JPEG may have is not written at all.
const MOST_BLOCK: usize = 60_000;

pub(super) fn is_place(field: &Field) -> bool {
    field.tag.context() == Context::Gps
}

/// The entries that go on if a file has them; those of the place have numbers up to 31 (CIPA DC-008,
/// 4.6.6). A file is asked for these alone, as an entry that lies may be long.
pub(crate) fn wanted() -> impl Iterator<Item = Tag> {
    let place = (0..=31).map(|number| Tag(Context::Gps, number));
    KEPT.into_iter().chain(place)
}

/// Whether an entry is of a sort and a length that go on.
pub(crate) fn fits(field: &Field) -> bool {
    bytes(&field.value).is_some_and(|(.., bytes)| bytes.len() <= MOST_BYTES)
}

/// Entries as a block that begins with a TIFF header, without its six letters; none for none.
pub(crate) fn block(fields: &[Field]) -> Option<Vec<u8>> {
    let mut writer = exif::experimental::Writer::new();
    fields.iter().for_each(|field| writer.push_field(field));
    let mut block = Cursor::new(Vec::new());
    writer.write(&mut block, true).ok()?;
    Some(block.into_inner()).filter(|block| block.len() <= MOST_BLOCK)
}

/// The entries of one of a TIFF's directories, in order: tag, type, count and bytes, low byte first.
pub(crate) fn entries(fields: &[Field], of: Context) -> Vec<(u16, u16, usize, Vec<u8>)> {
    let mut found: Vec<_> = fields
        .iter()
        .filter(|field| field.tag.context() == of)
        .filter_map(|field| {
            let (kind, count, bytes) = bytes(&field.value)?;
            Some((field.tag.number(), kind, count, bytes))
        })
        .collect();
    found.sort_by_key(|entry| entry.0);
    found.dedup_by_key(|entry| entry.0);
    found
}

/// A value as TIFF stores it: its type, how many there are, and their bytes.
fn bytes(value: &Value) -> Option<(u16, usize, Vec<u8>)> {
    fn all<T: Copy, const N: usize>(values: &[T], of: fn(T) -> [u8; N]) -> Vec<u8> {
        values.iter().flat_map(|value| of(*value)).collect()
    }
    let (kind, count, bytes) = match value {
        Value::Byte(v) => (1, v.len(), v.clone()),
        Value::Ascii(v) => {
            let ended = v.iter().flat_map(|text| text.iter().copied().chain([0]));
            let bytes: Vec<u8> = ended.collect();
            (2, bytes.len(), bytes)
        }
        Value::Short(v) => (3, v.len(), all(v, u16::to_le_bytes)),
        Value::Long(v) => (4, v.len(), all(v, u32::to_le_bytes)),
        Value::Rational(v) => {
            let bytes = v.iter().flat_map(|r| [r.num, r.denom]);
            (5, v.len(), bytes.flat_map(u32::to_le_bytes).collect())
        }
        Value::Undefined(v, _) => (7, v.len(), v.clone()),
        Value::SRational(v) => {
            let bytes = v.iter().flat_map(|r| [r.num, r.denom]);
            (10, v.len(), bytes.flat_map(i32::to_le_bytes).collect())
        }
        _ => return None,
    };
    (count > 0).then_some((kind, count, bytes))
}

#[cfg(test)]
mod tests {
    use super::*;
    use exif::In;

    fn field(tag: Tag, value: Value) -> Field {
        Field {
            tag,
            ifd_num: In::PRIMARY,
            value,
        }
    }

    #[test]
    fn camera_and_date_come_back_and_a_serial_number_does_not() {
        let text = |words: &str| Value::Ascii(vec![words.into()]);
        let all = [
            field(Tag::Model, text("Box 3")),
            field(Tag::DateTimeOriginal, text("2026:11:27 02:40:00")),
            field(Tag::BodySerialNumber, text("12345")),
            field(Tag::MakerNote, Value::Undefined(vec![1; 64], 0)),
            field(
                Tag::FNumber,
                Value::Rational(vec![exif::Rational { num: 28, denom: 10 }]),
            ),
            field(Tag::Artist, Value::Ascii(vec![vec![b'a'; MOST_BYTES + 1]])),
        ];
        let goes_on = |field: &&Field| wanted().any(|tag| tag == field.tag) && fits(field);
        let some: Vec<Field> = all.iter().filter(goes_on).cloned().collect();
        assert_eq!(some.len(), 3);
        let block = block(&some).unwrap();
        let read = exif::Reader::new().read_raw(block).unwrap();
        for wanted in &some {
            let found = read.get_field(wanted.tag, In::PRIMARY).unwrap();
            assert_eq!(format!("{:?}", found.value), format!("{:?}", wanted.value));
        }
        assert!(super::block(&[]).is_none());
        assert_eq!(
            entries(&some, Context::Tiff),
            [(272, 2, 6, b"Box 3\0".to_vec())]
        );
    }
}
