//! The attributes of an OpenEXR header. Names of standard ones: OpenEXR, Standard Attributes.

use exr::meta::attribute::{IntegerBounds, Text};
use exr::meta::header::{Header, ImageAttributes, LayerAttributes};
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
        let known = |name: &Text| !name.to_string().to_lowercase().starts_with("gps");
        own.other.retain(|name, _| known(name));
        self.shared.other.retain(|name, _| known(name));
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
    }
}

fn goes_on(name: &Text) -> bool {
    !OF_PIXELS.contains(&name.to_string().to_lowercase().as_str())
}
