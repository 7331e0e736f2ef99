//! Thin bindings of the core for the browser: no maths, no policy.
//!
//! - [`Picture`] holds one opened picture and renders it with [`RenderSettings`].
//! - [`PicturePart`] develops a part of one at full size, for a file.
//! - `look` reads and describes looks, `table` writes tables; neither needs a picture.
//!
//! Every error is a JavaScript `Error` whose message is one sentence for the person.

mod answer;
mod clip;
mod compare;
mod encode;
mod look;
mod pack;
mod picture;
mod save;
mod settings;
mod table;

use wasm_bindgen::prelude::*;

pub use clip::ClipPlayer;
pub use compare::picture_difference;
pub use encode::encode_picture;
pub use look::{catalogue, contrast_curve, curve_samples, read_look, scan_scale, starting_look};
pub use pack::{PackFrames, check_table, hand_over_choices, pack, pack_health, pack_plan};
pub use picture::Picture;
pub use save::PicturePart;
pub use settings::RenderSettings;
pub use table::cube_table;

/// Runs once when the module is loaded: a panic then leaves its message in the browser's console.
#[wasm_bindgen(start)]
pub fn start() {
    console_error_panic_hook::set_once();
}

/// The version of the core that this module was built from.
#[wasm_bindgen]
#[must_use]
pub fn version() -> String {
    env!("CARGO_PKG_VERSION").to_owned()
}
