//! A picture's plates as one file, for who saves one at a time.

use std::io::Cursor;

use lookwright_colour::Result;
use lookwright_film::look::{Frame, Options};
use lookwright_picture::Decoded;

use super::{OverGrey, PlateKind, PlateRecipe};
use crate::pack::archive::Archive;

impl PlateKind {
    /// Ending and media type of [`PlateRecipe::bundle`].
    #[must_use]
    pub const fn bundle_file(self) -> (&'static str, &'static str) {
        match self {
            Self::Grain | Self::Dust => ("zip", "application/zip"),
            Self::Halation => ("png", "image/png"),
        }
    }
}

impl PlateRecipe {
    /// The plate of a picture in one file: halation's PNG, or a zip of the first grain or dust plate of its
    /// size with the gain and the words beside it, as the command line names them.
    ///
    /// # Errors
    /// As [`PlateRecipe::over_picture`].
    pub fn bundle(&self, picture: &Decoded, frame: &Frame) -> Result<Vec<u8>> {
        if self.kind == PlateKind::Halation {
            return self.over_picture(picture, frame);
        }
        self.check_frame(frame)?;
        let plates = OverGrey::new(self, (picture.width, picture.height))?;
        let mut zip = Archive::new(Cursor::new(Vec::new()));
        let word = self.kind.id();
        zip.add(&format!("{word}.0001.png"), &plates.plate(1)?)?;
        zip.add("gain.cube", &plates.gain_cube()?)?;
        zip.add("blend.txt", plates.note().as_bytes())?;
        Ok(zip.finish()?.into_inner())
    }
}
