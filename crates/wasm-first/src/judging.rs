//! What the page draws around the instruments: each stage's axis, and where colours lie.

use lookwright_film::look::{Options, StageId};
use lookwright_film::path::LightPath;
use lookwright_render::judge::{StageAxis, bars, skin_line, stage_curve};
use serde::Serialize;
use wasm_bindgen::prelude::*;

use crate::answer::{object, problem};
use crate::settings::{RenderSettings, stage};

/// How finely a stage's curve is sampled.
const SAMPLES: usize = 161;

#[derive(Serialize)]
struct Mark {
    place: f64,
    says: f64,
}

#[derive(Serialize)]
struct Axis {
    stage: &'static str,
    unit: &'static str,
    digits: usize,
    marks: Vec<Mark>,
}

#[derive(Serialize)]
struct Judging {
    axes: Vec<Axis>,
    /// Cb and Cr of colour bars at 75 and at 100 %: red, yellow, green, cyan, blue, magenta.
    bars: [[[f32; 2]; 6]; 2],
    /// Degrees on the vectorscope.
    skin: f64,
}

/// The axes of all stages, the vectorscope's targets and its skin line.
///
/// # Errors
/// None that input could bring about.
#[wasm_bindgen(unchecked_return_type = "import('../../types.js').Judging")]
pub fn judging() -> Result<JsValue, JsError> {
    let axis = |stage: &StageId| {
        let axis = StageAxis::of(*stage);
        Axis {
            stage: stage.id(),
            unit: axis.unit,
            digits: axis.digits,
            marks: axis
                .marks()
                .map(|mark| Mark {
                    place: mark.place,
                    says: mark.says,
                })
                .collect(),
        }
    };
    object(&Judging {
        axes: StageId::ALL.iter().map(axis).collect(),
        bars: [bars(0.75), bars(1.0)],
        skin: skin_line(),
    })
}

#[derive(Serialize)]
struct Curve {
    across: Vec<f64>,
    up: Vec<f64>,
}

/// What a stage makes of greys: of the intake over the file's code in percent, of all others over stops
/// of scene light from mid-grey; in the unit of the stage's axis.
///
/// # Errors
/// Names the stages if there is none of that id.
#[wasm_bindgen(unchecked_return_type = "import('../../types.js').StageCurve")]
pub fn grey_curve(settings: &RenderSettings, stage: &str) -> Result<JsValue, JsError> {
    let stage = self::stage(stage).map_err(problem)?;
    let path = LightPath::new(settings.look(), settings.frame(), settings.delivery());
    let curve = stage_curve(&path, stage, SAMPLES);
    object(&Curve {
        across: curve.across,
        up: curve.up,
    })
}
