//! Looks without a picture: descriptions, reading, starting points, curves.

use lookwright_colour::Error;
use lookwright_film::look::{self, LOOK_VERSION, Look, StockChoice};
use lookwright_render::judge::{contrast_plot, curve_plot, curve_scale, pivot_scale};
use serde::Serialize;
use wasm_bindgen::prelude::*;

use crate::answer::{object, problem};
use crate::settings::RenderSettings;

/// How finely curves are sampled for drawing.
const SAMPLES: usize = 129;

/// Every stage, step and control with its words and limits.
///
/// # Errors
/// None that input could bring about.
#[wasm_bindgen(unchecked_return_type = "Omit<import('../../types.js').Catalogue, 'handOver'>")]
pub fn catalogue() -> Result<JsValue, JsError> {
    object(&look::catalogue())
}

#[derive(Serialize)]
struct LookTexts {
    canonical: String,
    pretty: String,
    fingerprint: String,
    model: u32,
    notes: Vec<String>,
}

/// Checks a look and gives its canonical form, its form for people, its fingerprint, and in sentences
/// what of an older file had to be changed.
///
/// # Errors
/// One sentence with the path of the key that is wrong.
#[wasm_bindgen(unchecked_return_type = "Omit<import('../../types.js').ReadLook, 'look'>")]
pub fn read_look(json: &str) -> Result<JsValue, JsError> {
    let (look, notes) = Look::read_with_notes(json).map_err(problem)?;
    object(&LookTexts {
        canonical: look.canonical(),
        pretty: look.pretty(),
        fingerprint: look.fingerprint(),
        model: look::MODEL_VERSION,
        notes,
    })
}

/// The starting look of a stock by its id, or by balance and speed (`day-250`), in canonical form.
///
/// # Errors
/// Says what stocks there are if there is none of that id.
#[wasm_bindgen]
pub fn starting_look(stock: &str) -> Result<String, JsError> {
    let stock = StockChoice::parse(stock).map_err(problem)?;
    Ok(Look::starting(stock).canonical())
}

#[derive(Serialize)]
struct ContrastCurve {
    samples: Vec<f32>,
    pivot: f32,
}

/// The contrast step's curve: codes out for evenly spaced codes in, 0 ... 1, and its pivot.
///
/// # Errors
/// One sentence if the step's settings are wrong.
#[wasm_bindgen(unchecked_return_type = "{ samples: number[], pivot: number }")]
pub fn contrast_curve(step_json: &str) -> Result<JsValue, JsError> {
    let json = format!(r#"{{"lookwright":{LOOK_VERSION},"scan":{{"contrast":{step_json}}}}}"#);
    let contrast = Look::read(&json).map_err(problem)?.scan.contrast;
    let (samples, pivot) = contrast_plot(&contrast, SAMPLES);
    object(&ContrastCurve { samples, pivot })
}

/// A free curve through points `[in, out, in, out ...]`: codes out for evenly spaced codes in,
/// 0 ... 1.
#[wasm_bindgen]
#[must_use]
pub fn curve_samples(points: &[f64]) -> Vec<f32> {
    let (pairs, _) = points.as_chunks::<2>();
    curve_plot(pairs, SAMPLES)
}

#[derive(Serialize)]
struct Scale {
    stops: Vec<f32>,
    screen: Vec<f32>,
}

/// What the scan's 1024 codes mean in stops from mid-grey (NaN where no light leads) and on the
/// screen (0 ... 1): `step` is `contrast` for its pivot, `curves` for points of curves.
///
/// # Errors
/// One sentence if there is no such step.
#[wasm_bindgen(unchecked_return_type = "import('../../types.js').ScanScale")]
pub fn scan_scale(settings: &RenderSettings, step: &str) -> Result<JsValue, JsError> {
    const CODES: usize = 1024;
    let (look, delivery) = (settings.look(), settings.delivery());
    let scale = match step {
        "contrast" => pivot_scale(look, delivery, CODES),
        "curves" => curve_scale(look, delivery, CODES),
        _ => {
            let known = ["contrast", "curves"];
            return Err(problem(Error::not_one_of(
                &format!("\"{step}\""),
                step,
                &known,
            )));
        }
    };
    object(&Scale {
        stops: scale.stops,
        screen: scale.screen,
    })
}
