//! Tables of a look.

use lookwright_colour::encoding::{EncodingId, Range};
use lookwright_colour::{Error, Result};
use lookwright_handover::{Baked, Format, Recipe, Split};
use lookwright_wasm_first::RenderSettings;
use lookwright_wasm_first::answer::problem;
use wasm_bindgen::prelude::*;

/// The look's table part for one camera encoding, as the text of a `.cube` file: the same bytes
/// as the command line's.
///
/// # Errors
/// One sentence if the encoding or the grid is wrong.
#[wasm_bindgen]
pub fn cube_table(
    settings: &RenderSettings,
    encoding: &str,
    grid: usize,
) -> core::result::Result<String, JsError> {
    write(settings, encoding, grid).map_err(problem)
}

fn write(settings: &RenderSettings, encoding: &str, grid: usize) -> Result<String> {
    let recipe = Recipe {
        look: settings.look().clone(),
        encoding: EncodingId::parse(encoding)?,
        range: Range::Full,
        delivery: settings.delivery().clone(),
        split: Split::default(),
        scene: None,
        grid,
    };
    let bytes = Baked::new(recipe)?.write(Format::Cube)?;
    String::from_utf8(bytes).map_err(|_| Error::new("the table is not text"))
}
