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
}
