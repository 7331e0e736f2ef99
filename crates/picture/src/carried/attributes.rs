//! The attributes of an OpenEXR header. Names of standard ones: OpenEXR, Standard Attributes.

use exr::meta::attribute::{AttributeValue, IntegerBounds, Text};
use exr::meta::header::{Header, ImageAttributes, LayerAttributes, standard_names};
use exr::prelude::Vec2;

/// What is of the pixels' colour or storage, and would be wrong in another picture, in lower case.
const OF_PIXELS: [&str; 8] = [
    "acesimagecontainerflag",
    "chunkcount",
    "colorinteropid",
    "dwacompressionlevel",
    "iccprofile",
    "idmanifest",
    "oiio:colorspace",
    "renderingtransform",
];

/// What the name of an attribute has in it, in lower case, that says where a picture was taken: EXIF's and
/// IPTC's entries as other programs name them, and XMP, which may hold all of it.
const OF_PLACE: [&str; 9] = [
    "gps",
    "latitude",
    "longitude",
    "altitude",
    "location",
    "country",
    ":city",
    ":state",
    "xmp",
];

/// A header's attributes, but for those of its pixels.
#[derive(Clone, Debug)]
pub(crate) struct Attributes {
    pub(super) shared: ImageAttributes,
    pub(super) own: LayerAttributes,
    /// Whether it is known where the picture lies and what of it is meant to be seen.
    has_windows: bool,
}

impl Attributes {
    /// Of a file whose picture begins at `position` on the plane that its windows lie on.
    pub(crate) fn of(header: &Header, position: Vec2<i32>) -> Self {
        let mut this = Self {
            shared: header.shared_attributes.clone(),
            own: header.own_attributes.clone(),
            has_windows: true,
        };
        this.shared.chromaticities = None;
        this.shared.other.retain(|name, _| goes_on(name));
        let own = &mut this.own;
        own.layer_position = position;
        own.layer_name = None;
        own.white_luminance = None;
        own.adopted_neutral = None;
        own.rendering_transform_name = None;
        own.look_modification_transform_name = None;
        own.preview = None;
        own.deep_image_state = None;
        own.multi_view_names = None;
        own.software_name = None;
        own.other.retain(|name, _| goes_on(name));
        this
    }

    /// Of a picture about which nothing is known yet.
    pub(super) fn unknown() -> Self {
        Self {
            shared: ImageAttributes::new(IntegerBounds::zero()),
            own: LayerAttributes::default(),
            has_windows: false,
        }
    }

    pub(super) fn forget_place(&mut self) {
        let own = &mut self.own;
        (own.latitude, own.longitude, own.altitude) = (None, None, None);
        let goes_on = |name: &Text| {
            let name = name.to_string().to_lowercase();
            !OF_PLACE.iter().any(|of| name.contains(of))
        };
        own.other.retain(|name, _| goes_on(name));
        self.shared.other.retain(|name, _| goes_on(name));
    }

    /// Whether a time code is there that no OpenEXR file that is written here can have.
    pub(super) fn has_foreign_time_code(&self) -> bool {
        let code = self.shared.time_code.as_ref();
        code.is_some_and(|code| code.validate(true).is_err())
    }

    /// Puts them into the header of a new file, which says nothing but its pixels yet. A remark that was
    /// there follows the new one.
    pub(crate) fn put(&self, header: &mut Header, remark: Option<String>) {
        let own = self.own.comments.as_ref().map(Text::to_string);
        let remarks = [remark, own].into_iter().flatten().collect::<Vec<_>>();
        let (position, shown) = (
            header.own_attributes.layer_position,
            header.shared_attributes.display_window,
        );
        header.own_attributes = self.own.clone();
        header.own_attributes.comments =
            (!remarks.is_empty()).then(|| Text::from(remarks.join("\n").as_str()));
        header.shared_attributes = self.shared.clone();
        if !self.has_windows {
            header.own_attributes.layer_position = position;
            header.shared_attributes.display_window = shown;
        }
        if self.has_foreign_time_code() {
            header.shared_attributes.time_code = None;
        }
        mend(header);
    }
}

/// Takes out of a header what it can't be written with: a file may be read that has it, and what is
/// rendered of it must not fail at the end.
fn mend(header: &mut Header) {
    let window = header.data_window();
    let (shared, own) = (&mut header.shared_attributes, &mut header.own_attributes);
    if !(1e-6..=1e6).contains(&shared.pixel_aspect) {
        shared.pixel_aspect = 1.0;
    }
    own.screen_window_width = own.screen_window_width.max(0.0);
    let holds = |name: &Text, value: &AttributeValue| {
        !standard_names::ALL.contains(&name.as_slice())
            && value.validate(true, window, true).is_ok()
    };
    shared.other.retain(|name, value| holds(name, value));
    own.other
        .retain(|name, value| holds(name, value) && !shared.other.contains_key(name));
    if header.validate(false, &mut false, true).is_err() {
        header.shared_attributes.other.clear();
        header.own_attributes.other.clear();
    }
}

fn goes_on(name: &Text) -> bool {
    !OF_PIXELS.contains(&name.to_string().to_lowercase().as_str())
}
