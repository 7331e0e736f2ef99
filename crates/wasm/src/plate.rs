//! Plates: texture alone.

use lookwright_colour::Error;
use lookwright_film::look::{Options, StageId};
use lookwright_film::spatial::Window;
use lookwright_picture::Plate;
use lookwright_wasm_first::answer::problem;
use lookwright_wasm_first::{Picture, RenderSettings};
use wasm_bindgen::prelude::*;

/// A picture's plate as the bytes of a file: `grain`, `dust` (16-bit PNG) or `halation` (OpenEXR).
///
/// # Errors
/// One sentence if there is no such plate or the look has no such texture.
#[wasm_bindgen(unchecked_return_type = "Uint8Array<ArrayBuffer>")]
pub fn picture_plate(
    picture: &Picture,
    settings: &RenderSettings,
    kind: &str,
) -> Result<Vec<u8>, JsError> {
    let plate = Plate::from_id(kind)
        .ok_or_else(|| problem(Error::new(format!("there is no plate of {kind}"))))?;
    let decoded = picture.full()?;
    let window = Window::whole(decoded.width as usize, decoded.height as usize);
    // As in a sequence, whose first plate is number 1.
    let job = settings
        .job(StageId::Scan.id(), window, 1)
        .map_err(problem)?;
    plate.make(&job, Some(decoded)).map_err(problem)
}
