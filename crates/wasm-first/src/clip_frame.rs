//! Frames of clips that are pictures.

use lookwright_colour::Error;
use lookwright_picture::{Decoded, Samples};
use wasm_bindgen::prelude::*;

use crate::answer::problem;
use crate::picture::Picture;

/// What a person should know of one.
const NOTE: &str = "the browser decodes a clip to 8-bit full-range code before it is read, whatever the file holds.";

#[wasm_bindgen]
impl Picture {
    /// A frame of a clip as the browser gives it, RGBA with 8 bits each; `number` counts frames
    /// from the clip's beginning.
    ///
    /// # Errors
    /// If there are not as many pixels as the size says.
    pub fn from_rgba8(
        rgba: &[u8],
        width: u32,
        height: u32,
        name: &str,
        number: u32,
    ) -> Result<Self, JsError> {
        if rgba.is_empty() || rgba.len() != 4 * width as usize * height as usize {
            let (found, size) = (rgba.len(), format!("{width} x {height}"));
            return Err(problem(Error::new(format!(
                "{found} bytes for a frame of {size}"
            ))));
        }
        let pixels = rgba.as_chunks::<4>().0.iter();
        let samples = pixels.flat_map(|[r, g, b, _]| [*r, *g, *b]).collect();
        let size = (width, height);
        let mut decoded = Decoded::of_samples(size, Samples::U8(samples)).map_err(problem)?;
        decoded.notes.push(NOTE.to_owned());
        let mut picture = Self::of(decoded, name);
        picture.set_number(number);
        Ok(picture)
    }

    /// Says which frame of a clip this is.
    pub fn set_number(&mut self, number: u32) {
        self.number = number;
    }
}
