//! What goes on from a picture's file to what is made of it: what a camera, an editor or a renderer wrote
//! beside the pixels, but for what says how those are to be seen, which the new file says for itself.

mod attributes;
mod dpx;
mod photo;

pub(crate) use attributes::Attributes;
pub(crate) use dpx::{from_header, into_header};
pub(crate) use photo::{MOST_BYTES, block, entries, fits, wanted};

/// What goes on from a file. Where a picture was taken does not, unless that is asked for.
#[derive(Clone, Debug, Default)]
pub struct Carried {
    /// As OpenEXR has them: time code, frame rate, pixel aspect, windows, and all others.
    pub(crate) attributes: Option<Box<Attributes>>,
    /// Entries of EXIF: camera, lens, exposure, date, author.
    pub(crate) photo: Vec<exif::Field>,
}

impl Carried {
    /// The same without the place where the picture was taken.
    #[must_use]
    pub fn without_place(mut self) -> Self {
        self.photo.retain(|field| !photo::is_place(field));
        if let Some(attributes) = &mut self.attributes {
            attributes.forget_place();
        }
        self
    }

    /// The note for what goes on into some files and not into others.
    pub(crate) fn note(&self) -> Option<String> {
        let attributes = self.attributes.as_ref()?;
        attributes.has_foreign_time_code().then(|| {
            "The time code goes on into DPX alone: OpenEXR takes frames up to 29 of a second, and a \
             clock's hours, minutes and seconds."
                .to_owned()
        })
    }
}

#[cfg(test)]
mod tests {
    use exif::{Field, In, Tag, Value};
    use exr::meta::attribute::{AttributeValue, Text};

    use super::*;

    #[test]
    fn the_place_goes_and_the_rest_stays() {
        let field = |tag, words: &str| Field {
            tag,
            ifd_num: In::PRIMARY,
            value: Value::Ascii(vec![words.into()]),
        };
        let mut attributes = Attributes::unknown();
        attributes.own.latitude = Some(50.8);
        let names = [
            "GPS:DestBearing",
            "Exif:GPSAltitude",
            "IPTC:City",
            "iptc:State",
            "IPTC:CountryName",
            "Iptc4xmpCore:Location",
            "XMP",
            "cameraLongitude",
            "reelName",
            "capacity",
        ];
        for name in names {
            let value = AttributeValue::I32(1);
            let others = [&mut attributes.own.other, &mut attributes.shared.other];
            for other in others {
                other.insert(Text::from(name), value.clone());
            }
        }
        let carried = Carried {
            attributes: Some(Box::new(attributes)),
            photo: vec![field(Tag::Model, "Box 3"), field(Tag::GPSLatitudeRef, "N")],
        };
        let carried = carried.without_place();
        let tags: Vec<Tag> = carried.photo.iter().map(|field| field.tag).collect();
        assert_eq!(tags, [Tag::Model]);
        let attributes = carried.attributes.unwrap();
        assert_eq!(attributes.own.latitude, None);
        for other in [&attributes.own.other, &attributes.shared.other] {
            let mut left: Vec<String> = other.keys().map(Text::to_string).collect();
            left.sort();
            assert_eq!(left, ["capacity", "reelName"]);
        }
    }
}
