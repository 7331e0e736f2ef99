//! What the page begins with: thin bindings of the core, no maths, no policy.
//!
//! - [`Picture`] holds one opened picture, of a JPEG or PNG, and renders it with [`RenderSettings`].
//! - `look` reads and describes looks; it needs no picture.
//!
//! All that can wait until it is asked for (other formats, saving, tables, clips) is in
//! `lookwright-wasm`, which has all of this, too: on a thin line the first picture is there the sooner.
//!
//! Every error is a JavaScript `Error` whose message is one sentence for the person.

pub mod answer;
mod choices;
mod clip_frame;
mod compare;
mod examine;
mod judging;
mod look;
mod picture;
mod settings;

use wasm_bindgen::prelude::*;

pub use choices::hand_over_choices;
pub use compare::picture_difference;
pub use examine::examine;
pub use judging::{grey_curve, judging};
pub use look::{catalogue, contrast_curve, curve_samples, read_look, scan_scale, starting_look};
pub use picture::Picture;
pub use settings::RenderSettings;

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
