//! What a camera wrote into a TIFF, as EXIF has it (TIFF 6.0, section 2; CIPA DC-008, 4.6).

use std::io::{Read, Seek};

use exif::{Context, Field, In, Rational, SRational};
use tiff::decoder::Decoder;
use tiff::decoder::ifd::Value;
use tiff::tags::{IfdPointer, Tag};

use crate::carried::kept;

/// Directories that the picture's own points to.
const POINTERS: [(u16, Context); 2] = [(34665, Context::Exif), (34853, Context::Gps)];
/// Camera, date, author and copyright.
const OWN: [u16; 5] = [271, 272, 306, 315, 33432];

/// The entries that go on to other pictures, of the picture's directory and of those that it points to.
/// What can't be read is left out.
pub(super) fn kept_of<R: Read + Seek>(decoder: &mut Decoder<R>) -> Vec<Field> {
    let mut found = Vec::new();
    for tag in OWN {
        if let Ok(Some(value)) = decoder.find_tag(Tag::from_u16_exhaustive(tag)) {
            found.extend(field(Context::Tiff, tag, value));
        }
    }
    for (pointer, context) in POINTERS {
        let place = decoder.find_tag_unsigned::<u64>(Tag::from_u16_exhaustive(pointer));
        let Ok(Some(place)) = place else { continue };
        let Ok(directory) = decoder.read_directory(IfdPointer(place)) else {
            continue;
        };
        let tags: Vec<Tag> = directory.iter().map(|(tag, _)| tag).collect();
        let mut reader = decoder.read_directory_tags(&directory);
        for tag in tags {
            if let Ok(Some(value)) = reader.find_tag(tag) {
                found.extend(field(context, tag.to_u16(), value));
            }
        }
    }
    kept(found.iter())
}

/// An entry as EXIF has it; none for a sort that none of those that go on has.
fn field(context: Context, tag: u16, value: Value) -> Option<Field> {
    let list = match value {
        Value::List(list) => list,
        one => vec![one],
    };
    Some(Field {
        tag: exif::Tag(context, tag),
        ifd_num: In::PRIMARY,
        value: alike(list)?,
    })
}

/// Values that are all of the first one's sort.
fn alike(list: Vec<Value>) -> Option<exif::Value> {
    macro_rules! all {
        ($pattern:pat => $value:expr) => {{
            let values = list.into_iter().map(|value| match value {
                $pattern => Some($value),
                _ => None,
            });
            values.collect::<Option<Vec<_>>>()
        }};
    }
    Some(match list.first()? {
        Value::Ascii(_) => exif::Value::Ascii(all!(Value::Ascii(text) => text.into_bytes())?),
        Value::Byte(_) => exif::Value::Byte(all!(Value::Byte(byte) => byte)?),
        Value::Short(_) => exif::Value::Short(all!(Value::Short(number) => number)?),
        Value::Unsigned(_) => exif::Value::Long(all!(Value::Unsigned(number) => number)?),
        Value::Rational(..) => {
            exif::Value::Rational(all!(Value::Rational(num, denom) => Rational { num, denom })?)
        }
        Value::SRational(..) => {
            exif::Value::SRational(all!(Value::SRational(num, denom) => SRational { num, denom })?)
        }
        _ => return None,
    })
}
