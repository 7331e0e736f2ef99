//! What goes back to JavaScript: plain objects and errors of one sentence.

use lookwright_colour::Error;
use lookwright_render::judge::FirstLook;
use serde::Serialize;
use wasm_bindgen::prelude::*;

/// As a JavaScript error.
#[expect(
    clippy::needless_pass_by_value,
    reason = "is passed to map_err by name"
)]
#[must_use]
pub fn problem(error: Error) -> JsError {
    JsError::new(error.message())
}

/// As a plain JavaScript object: maps become objects, missing values `undefined`.
///
/// # Errors
/// When it has what JavaScript can't hold.
pub fn object(value: &impl Serialize) -> Result<JsValue, JsError> {
    let serializer = serde_wasm_bindgen::Serializer::json_compatible();
    value
        .serialize(&serializer)
        .map_err(|error| JsError::new(&error.to_string()))
}

/// How a picture should be read, and why.
#[derive(Serialize)]
pub(crate) struct Suggested {
    pub(crate) encoding: &'static str,
    pub(crate) reason: String,
    pub(crate) sure: bool,
    pub(crate) legal: bool,
}

/// What a file says of itself.
#[derive(Serialize)]
pub(crate) struct Info {
    pub(crate) width: u32,
    pub(crate) height: u32,
    pub(crate) format: String,
    pub(crate) notes: Vec<String>,
    pub(crate) suggestion: Suggested,
}

/// What a frame suggests, as the page takes it.
#[derive(Serialize)]
pub(crate) struct Suggests {
    pub(crate) exposure: f64,
    pub(crate) kelvin: f64,
    pub(crate) tint: f64,
    pub(crate) scene: &'static str,
    pub(crate) reasons: [String; 3],
}

impl From<FirstLook> for Suggests {
    fn from(found: FirstLook) -> Self {
        Self {
            exposure: found.exposure,
            kelvin: found.kelvin,
            tint: found.tint,
            scene: found.scene.id(),
            reasons: found.reasons,
        }
    }
}

/// One pixel as it leaves one stage.
#[derive(Serialize)]
pub(crate) struct TraceRow {
    pub(crate) stage: &'static str,
    pub(crate) label: &'static str,
    pub(crate) unit: &'static str,
    pub(crate) values: [f32; 3],
    /// The same in the unit of the stage's axis.
    pub(crate) readings: [f64; 3],
}
