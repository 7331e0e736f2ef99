//! Plates: texture alone.

use lookwright_colour::Error;
use lookwright_film::look::{Options, StageId};
use lookwright_film::spatial::Window;
use lookwright_handover::{PlateKind, PlateOn, PlateRecipe};
use lookwright_wasm_first::answer::problem;
use lookwright_wasm_first::{Picture, RenderSettings};
use wasm_bindgen::prelude::*;

/// A picture's plate for the picture after the table, as the bytes of a file: a zip of a PNG with its gain
/// and how it is laid for `grain` and `dust`, a PNG for `halation`.
///
/// # Errors
/// One sentence if there is no such plate or the look has no such texture.
#[wasm_bindgen(unchecked_return_type = "Uint8Array<ArrayBuffer>")]
pub fn picture_plate(
    picture: &Picture,
    settings: &RenderSettings,
    kind: &str,
) -> Result<Vec<u8>, JsError> {
    let kind = PlateKind::from_id(kind)
        .ok_or_else(|| problem(Error::new(format!("there is no plate of {kind}"))))?;
    let decoded = picture.full()?;
    let window = Window::whole(decoded.width as usize, decoded.height as usize);
    let job = settings
        .job(StageId::Screen.id(), window, 0)
        .map_err(problem)?;
    let recipe = PlateRecipe {
        look: job.look,
        kind,
        on: PlateOn::Picture,
        delivery: job.delivery,
    };
    recipe.bundle(decoded, &job.frame).map_err(problem)
}
