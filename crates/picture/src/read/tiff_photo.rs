//! What a camera wrote into a TIFF, as EXIF has it (TIFF 6.0, section 2; CIPA DC-008, 4.6).

use std::io::{Read, Seek};

use exif::{Context, Field, In, Rational, SRational};
use tiff::decoder::ifd::Value;
use tiff::decoder::{Decoder, IfdDecoder};
use tiff::tags::{IfdPointer, Tag};

use crate::carried::{MOST_BYTES, fits, wanted};

/// Directories that the picture's own points to.
const POINTERS: [(u16, Context); 2] = [(34665, Context::Exif), (34853, Context::Gps)];

/// The entries that go on to other pictures, of the picture's directory and of those that it points to.
/// What can't be read is left out.
pub(super) fn kept_of<R: Read + Seek>(decoder: &mut Decoder<R>) -> Vec<Field> {
    let mut found = wanted_of(decoder.image_ifd(), Context::Tiff);
    for (pointer, context) in POINTERS {
        let place = decoder.find_tag_unsigned::<u64>(Tag::from_u16_exhaustive(pointer));
        let Ok(Some(place)) = place else { continue };
        let Ok(directory) = decoder.read_directory(IfdPointer(place)) else {
            continue;
        };
        found.extend(wanted_of(decoder.read_directory_tags(&directory), context));
    }
    found
}

/// What goes on of one directory. What claims to be longer than that is not unpacked.
fn wanted_of(mut directory: IfdDecoder<'_>, context: Context) -> Vec<Field> {
    let mut found = Vec::new();
    for tag in wanted().filter(|tag| tag.context() == context) {
        let number = Tag::from_u16_exhaustive(tag.number());
        let entry = directory.find_entry(number);
        if entry.is_none_or(|entry| entry.count() > MOST_BYTES as u64) {
            continue;
        }
        if let Ok(Some(value)) = directory.find_tag(number) {
            found.extend(field(tag, value).filter(fits));
        }
    }
    found
}

/// An entry as EXIF has it; none for a sort that none of those that go on has.
fn field(tag: exif::Tag, value: Value) -> Option<Field> {
    let list = match value {
        Value::List(list) => list,
        one => vec![one],
    };
    Some(Field {
        tag,
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
