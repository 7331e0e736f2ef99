//! Two pictures of one frame beside each other.

use lookwright_colour::encoding::ScreenId;
use lookwright_render::judge::{Difference, amplified_rgba};
use wasm_bindgen::prelude::*;

use crate::answer::problem;

/// What differs between two pictures made for a screen, RGBA with 8 bits each: `[mean, most,
/// steps, amplified]`. The first two are CIEDE2000; `steps` is its map in four greys, `amplified`
/// the difference of the codes, eight times as large about mid-grey.
///
/// # Errors
/// One sentence if there is no such screen.
#[wasm_bindgen(
    unchecked_return_type = "[number, number, Uint8ClampedArray<ArrayBuffer>, Uint8ClampedArray<ArrayBuffer>]"
)]
pub fn picture_difference(
    before: &[u8],
    after: &[u8],
    screen: &str,
) -> Result<js_sys::Array, JsError> {
    let screen = ScreenId::parse(screen).map_err(problem)?;
    // Pictures of a canvas are in the code of the screen that stands for it there.
    let screen = screen.info().stand_in;
    let difference = Difference::of(before, after, screen);
    let bytes = |rgba: &[u8]| js_sys::Uint8ClampedArray::from(rgba);
    Ok(js_sys::Array::of4(
        &difference.mean.into(),
        &difference.most.into(),
        &bytes(&difference.steps_rgba()),
        &bytes(&amplified_rgba(before, after)),
    ))
}
