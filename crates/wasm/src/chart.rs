//! Chart check: a 24-patch chart in a frame.

use lookwright_colour::Error;
use lookwright_colour::space::Lab;
use lookwright_film::spatial::Planes;
use lookwright_render::judge::{ChartCheck, ChartCorners, ChartPatch, ChartTrim};
use lookwright_wasm_first::RenderSettings;
use lookwright_wasm_first::answer::{object, problem};
use serde::Serialize;
use wasm_bindgen::prelude::*;

/// Finds the chart in a small copy of a frame (`Picture::small_copy`), or takes it where its `marks` are,
/// and reads it, or says in one sentence why there is none: see `lookwright_render::judge::check_chart`.
/// `marks`: across and down of four corners.
///
/// # Errors
/// If copy or marks are not whole.
#[wasm_bindgen(unchecked_return_type = "import('../../types.js').ChartAnswer")]
pub fn check_chart(
    code: &[f32],
    width: usize,
    height: usize,
    settings: &RenderSettings,
    marks: Option<Vec<f64>>,
) -> Result<JsValue, JsError> {
    let whole = |what| move || problem(Error::new(format!("{what} of the frame came in part")));
    let pixels = width * height;
    if code.len() != 3 * pixels {
        return Err(whole("a copy")());
    }
    let planes = [0, 1, 2].map(|channel| code[channel * pixels..(channel + 1) * pixels].to_vec());
    let code = Planes {
        width,
        height,
        planes,
    };
    let marks = marks
        .map(|marks| corners(&marks).ok_or_else(whole("the marks")))
        .transpose()?;
    let (frame, look) = (settings.frame(), settings.look());
    let screen = settings.delivery().display.screen;
    let found = lookwright_render::judge::check_chart(&code, frame, look, screen, marks.as_ref());
    object(&match found {
        Ok(check) => Answer::Check(Check::from(check)),
        Err(error) => Answer::Says(error.message().to_owned()),
    })
}

fn corners(marks: &[f64]) -> Option<ChartCorners> {
    let marks: &[f64; 8] = marks.try_into().ok()?;
    Some(core::array::from_fn(|i| [marks[2 * i], marks[2 * i + 1]]))
}

/// What a chart says, as the page takes it, or why there is none.
#[derive(Serialize)]
#[serde(rename_all = "lowercase")]
enum Answer {
    Check(Check),
    Says(String),
}

#[derive(Serialize)]
struct Check {
    corners: ChartCorners,
    patches: Vec<Patch>,
    trim: Option<Trim>,
    remarks: Vec<String>,
}

#[derive(Serialize)]
struct Patch {
    name: &'static str,
    outline: ChartCorners,
    stops: f64,
    spread: f64,
    clipped: bool,
    /// Published, without the look, through it: L, a, b.
    colours: [[f64; 3]; 3],
    differences: [f64; 2],
}

#[derive(Serialize)]
struct Trim {
    exposure: f64,
    kelvin: f64,
    tint: f64,
    greys: usize,
}

impl From<ChartCheck> for Check {
    fn from(found: ChartCheck) -> Self {
        Self {
            corners: found.corners,
            patches: found.patches.into_iter().map(Patch::from).collect(),
            trim: found.trim.map(Trim::from),
            remarks: found.remarks,
        }
    }
}

impl From<ChartPatch> for Patch {
    fn from(patch: ChartPatch) -> Self {
        Self {
            name: patch.name,
            outline: patch.outline,
            stops: patch.stops,
            spread: patch.spread,
            clipped: patch.clipped,
            colours: patch.colours.map(|Lab { l, a, b }| [l, a, b]),
            differences: patch.differences,
        }
    }
}

impl From<ChartTrim> for Trim {
    fn from(trim: ChartTrim) -> Self {
        Self {
            exposure: trim.exposure,
            kelvin: trim.kelvin,
            tint: trim.tint,
            greys: trim.greys,
        }
    }
}
