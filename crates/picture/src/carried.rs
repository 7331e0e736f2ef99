//! What a file says about its shot and goes on to what is made of it, whatever is done to the pixels: time
//! code, frame rate, pixel aspect, reel, camera settings. Of OpenEXR only, into OpenEXR only.
//!
//! Left behind is what would no longer be true (names of transforms, previews, views, chromaticities, which
//! are written anew), where it was taken, and attributes of nobody's standard: the library keeps those
//! in no order, so that the same picture would not always give the same bytes.

use std::io::Cursor;

use exr::meta::MetaData;
use exr::meta::attribute::{AttributeValue, Text};
use exr::meta::header::{Header, ImageAttributes, LayerAttributes};

use crate::kind::{Kind, sniff};

/// The only attribute without a field of its own: OpenEXR's standard name of the reel.
const REEL: &str = "reelName";

/// What goes on from a file to what is made of it.
#[derive(Clone, Debug, Default)]
pub struct Carried(Option<Box<Attributes>>);

#[derive(Clone, Debug)]
struct Attributes {
    image: ImageAttributes,
    layer: LayerAttributes,
}

impl Carried {
    /// Of a file's first bytes: nothing where there is nothing, or the header is not whole.
    pub fn of(bytes: &[u8]) -> Self {
        if sniff(bytes) != Ok(Kind::Exr) {
            return Self::default();
        }
        let read = MetaData::read_from_buffered(Cursor::new(bytes), false);
        let headers = read.map(|meta| meta.headers).unwrap_or_default();
        let first = headers.into_iter().find(|header| !header.deep);
        Self(first.map(|header| {
            Box::new(Attributes {
                image: header.shared_attributes,
                layer: header.own_attributes,
            })
        }))
    }

    /// Puts it into a header whose pixels are what they were, but for their colour.
    pub(crate) fn put(&self, header: &mut Header) {
        let Some(from) = &self.0 else {
            return;
        };
        let (image, layer) = (&mut header.shared_attributes, &mut header.own_attributes);
        image.pixel_aspect = from.image.pixel_aspect;
        image.time_code = from.image.time_code;
        let known = from.layer.clone();
        layer.frames_per_second = known.frames_per_second;
        layer.film_key_code = known.film_key_code;
        layer.owner = known.owner;
        layer.capture_date = known.capture_date;
        layer.utc_offset = known.utc_offset;
        layer.focus = known.focus;
        layer.exposure = known.exposure;
        layer.aperture = known.aperture;
        layer.iso_speed = known.iso_speed;
        layer.world_to_camera = known.world_to_camera;
        layer.world_to_normalized_device = known.world_to_normalized_device;
        let reel = Text::from(REEL);
        let named = from.layer.other.get(&reel).or(from.image.other.get(&reel));
        if let Some(AttributeValue::Text(name)) = named {
            layer.other.insert(reel, AttributeValue::Text(name.clone()));
        }
    }
}
