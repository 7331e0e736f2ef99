//! What the page draws around the instruments: each stage's axis, and where colours lie.

use lookwright_colour::encoding::ScreenId;
use lookwright_film::look::{Options, StageId};
use lookwright_film::path::LightPath;
use lookwright_render::judge::{ColourDifferences, Marking, StageAxis, skin_line, stage_curve};
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
struct Targets {
    screen: &'static str,
    /// Cb and Cr of colour bars at 75 and at 100 %: red, yellow, green, cyan, blue, magenta.
    bars: [[[f32; 2]; 6]; 2],
    /// Degrees on the vectorscope.
    skin: f64,
}

#[derive(Serialize)]
struct Judging {
    axes: Vec<Axis>,
    targets: Vec<Targets>,
    markings: Vec<MarkingEntry>,
}

#[derive(Serialize)]
struct MarkingEntry {
    id: &'static str,
    label: &'static str,
    key: Vec<Sign>,
}

#[derive(Serialize)]
struct Sign {
    says: String,
    colour: [u8; 3],
    hatch: &'static str,
}

/// The axes of all stages, each screen's targets and skin line on the vectorscope, and what can be marked
/// on the picture.
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
    let targets = |screen: ScreenId| {
        let differences = ColourDifferences::of(screen);
        Targets {
            screen: screen.info().id,
            bars: [0.75, 1.0].map(|share| differences.bars(share)),
            skin: skin_line(screen),
        }
    };
    let marking = |marking: Marking| MarkingEntry {
        id: marking.id(),
        label: marking.label(),
        key: marking
            .key()
            .into_iter()
            .map(|sign| Sign {
                says: sign.says,
                colour: sign.colour,
                hatch: sign.hatch.id(),
            })
            .collect(),
    };
    object(&Judging {
        axes: StageId::ALL.iter().map(axis).collect(),
        targets: ScreenId::ALL.map(targets).into(),
        markings: Marking::ALL.map(marking).into(),
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
