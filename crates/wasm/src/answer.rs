//! What goes back to JavaScript: plain objects and errors of one sentence.

use lookwright_core::Error;
use serde::Serialize;
use wasm_bindgen::prelude::*;

/// As a JavaScript error.
#[expect(
    clippy::needless_pass_by_value,
    reason = "is passed to map_err by name"
)]
pub(crate) fn problem(error: Error) -> JsError {
    JsError::new(error.message())
}

/// As a plain JavaScript object: maps become objects, missing values `undefined`.
pub(crate) fn object(value: &impl Serialize) -> Result<JsValue, JsError> {
    let serializer = serde_wasm_bindgen::Serializer::json_compatible();
    value
        .serialize(&serializer)
        .map_err(|error| JsError::new(&error.to_string()))
}
