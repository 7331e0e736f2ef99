//! Thin bindings of the core for the browser: no maths, no policy.

use wasm_bindgen::prelude::*;

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
