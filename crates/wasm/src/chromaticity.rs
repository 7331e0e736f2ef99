//! Chromaticities: the diagram, a picture's colours in it, and those of one pixel.

use lookwright_colour::Error;
use lookwright_film::look::{Options, StageId};
use lookwright_render::judge::{
    Chromaticities, Colorimetry, FIELD_SIDE, FIELD_SPAN, GAMUTS, diagram,
};
use lookwright_wasm_first::answer::{object, problem};
use lookwright_wasm_first::{Picture, RenderSettings};
use serde::Serialize;
use wasm_bindgen::prelude::*;

#[derive(Serialize)]
struct Gamut {
    label: &'static str,
    corners: [[f64; 2]; 3],
}

#[derive(Serialize)]
struct Diagram {
    side: usize,
    span: f64,
    locus: Vec<[f64; 3]>,
    gamuts: Vec<Gamut>,
    white: [f64; 2],
    lights: Vec<[f64; 3]>,
}

/// What is drawn around a picture's chromaticities.
///
/// # Errors
/// None that input could bring about.
#[wasm_bindgen(unchecked_return_type = "import('../../types.js').Diagram")]
pub fn chromaticity_diagram() -> Result<JsValue, JsError> {
    let drawn = diagram();
    object(&Diagram {
        side: FIELD_SIDE,
        span: FIELD_SPAN,
        locus: drawn.locus,
        gamuts: GAMUTS
            .iter()
            .zip(drawn.gamuts)
            .map(|((label, _), corners)| Gamut { label, corners })
            .collect(),
        white: drawn.white,
        lights: drawn.lights,
    })
}

/// A picture's chromaticities at a preview's size, of what leaves a stage or, `viewed`, of what is looked at
/// there: `[RGBA, shares outside of each gamut and of what is too dark]`.
///
/// # Errors
/// If this is a small copy of another size, or one sentence if a stage's numbers are no light.
#[wasm_bindgen(
    unchecked_return_type = "[Uint8ClampedArray<ArrayBuffer>, [number, number, number, number]]"
)]
pub fn picture_chromaticities(
    picture: &mut Picture,
    settings: &RenderSettings,
    stage: &str,
    viewed: bool,
    width: usize,
    height: usize,
) -> Result<js_sys::Array, JsError> {
    let colorimetry = colorimetry(settings, stage, viewed)?;
    let shown = picture.rendered(settings, stage, viewed, width, height)?;
    let found = Chromaticities::of(&shown, &colorimetry);
    Ok(js_sys::Array::of2(
        &js_sys::Uint8ClampedArray::from(&found.rgba()[..]),
        &found
            .shares()
            .into_iter()
            .map(JsValue::from_f64)
            .collect::<js_sys::Array>(),
    ))
}

/// The chromaticity of three numbers of a stage: u', v', x, y; nothing for what is too dark to have one.
///
/// # Errors
/// One sentence if the stage's numbers are no light.
#[wasm_bindgen(unchecked_return_type = "Float64Array<ArrayBuffer> | undefined")]
pub fn chromaticity_of(
    settings: &RenderSettings,
    stage: &str,
    r: f32,
    g: f32,
    b: f32,
) -> Result<Option<Vec<f64>>, JsError> {
    let found = colorimetry(settings, stage, false)?.chromaticity([r, g, b]);
    Ok(found.map(|xy| {
        let [u, v] = xy.to_uv_1976();
        vec![u, v, xy.x, xy.y]
    }))
}

fn colorimetry(
    settings: &RenderSettings,
    stage: &str,
    viewed: bool,
) -> Result<Colorimetry, JsError> {
    let of = if viewed { StageId::Screen.id() } else { stage };
    let found =
        StageId::from_id(of).and_then(|stage| Colorimetry::of(stage, &settings.delivery().display));
    found.ok_or_else(|| {
        problem(Error::new(format!(
            "what leaves \"{stage}\" is no light, so it has no chromaticity"
        )))
    })
}
