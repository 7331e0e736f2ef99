//! A still that a look is matched to.

use lookwright_colour::encoding::Range;
use lookwright_film::look::{Frame, Options};
use lookwright_picture::suggest;
use lookwright_render::judge::{StillMatch, match_still};
use lookwright_wasm_first::answer::{object, problem};
use lookwright_wasm_first::{Picture, RenderSettings};
use serde::Serialize;
use wasm_bindgen::prelude::*;

use crate::open::open_picture;

/// The moves that bring a picture, with these settings, to what a still looks like: the bytes of its
/// file. `closely`, 0 to 1: see [`match_still`].
///
/// # Errors
/// One sentence if the still can't be read or is no finished picture, or if the picture is a small copy.
#[wasm_bindgen(unchecked_return_type = "import('../../types.js').Matched")]
pub fn match_picture(
    picture: &Picture,
    settings: &RenderSettings,
    still: &[u8],
    name: &str,
    closely: f64,
) -> Result<JsValue, JsError> {
    let still = open_picture(still, name)?;
    let mut of_still = Frame::default();
    let read_as = suggest(still.full()?, name);
    of_still.source.encoding = read_as.encoding;
    if read_as.legal_range {
        of_still.source.range = Range::Legal;
    }
    let (code, still) = (picture.small()?, still.small()?);
    let (frame, look) = (settings.frame(), settings.look());
    let found = match_still(&code, frame, look, &still, &of_still, closely).map_err(problem)?;
    object(&Matched::from(found))
}

/// What a still asks of a look, as the page takes it.
#[derive(Serialize)]
struct Matched {
    look: String,
    moves: Vec<Moved>,
    #[serde(rename = "samePicture")]
    same_picture: bool,
    distance: [f64; 2],
    sure: f64,
    left: Vec<String>,
}

#[derive(Serialize)]
struct Moved {
    stage: &'static str,
    step: &'static str,
    control: &'static str,
    values: [f64; 2],
    error: Option<f64>,
}

impl From<StillMatch> for Matched {
    fn from(found: StillMatch) -> Self {
        let moves = found.moves.into_iter().map(|moved| Moved {
            stage: moved.stage.id(),
            step: moved.step,
            control: moved.control,
            values: moved.values,
            error: moved.error,
        });
        Self {
            look: found.look.canonical(),
            moves: moves.collect(),
            same_picture: found.same_picture,
            distance: found.distance,
            sure: found.sure,
            left: found.left,
        }
    }
}
