//! Tables of a look.

use lookwright_core::encoding::EncodingId;
use lookwright_core::look::{Delivery, Frame, Look, Options};
use lookwright_core::path::LightPath;
use lookwright_core::table::{Cube, Grid3, Label, cube};
use lookwright_core::{Error, Rgb};
use wasm_bindgen::prelude::*;

use crate::answer::problem;

/// The look's table part for one camera encoding, as the text of a `.cube` file.
///
/// # Errors
/// One sentence if the look, the delivery, the encoding or the grid is wrong.
#[wasm_bindgen]
pub fn cube_table(
    look: &str,
    delivery: &str,
    encoding: &str,
    grid: usize,
) -> Result<String, JsError> {
    write(look, delivery, encoding, grid).map_err(problem)
}

fn write(look: &str, delivery: &str, encoding: &str, grid: usize) -> Result<String, Error> {
    let look = Look::read(look)?;
    let delivery = Delivery::read(delivery)?;
    let mut frame = Frame::default();
    frame.source.encoding = EncodingId::parse(encoding)?;
    let path = LightPath::new(&look, &frame, &delivery);
    let grid = Grid3::sample_codes(grid, |code| {
        path.to_screen(Rgb::from_array(code)).to_array()
    })?;
    let label = Label {
        title: look.name.clone(),
        input: frame.source.encoding.info().label.to_owned(),
        output: format!(
            "{}, {} range",
            delivery.display.screen.info().label,
            delivery.display.range.id()
        ),
        notes: vec!["Diffusion, halation, softness, grain and dust are not in a table.".to_owned()],
        fingerprint: look.fingerprint(),
    };
    cube::write(&Cube::of_grid(grid), &label)
}
