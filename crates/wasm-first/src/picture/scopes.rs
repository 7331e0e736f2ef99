//! A picture's scopes, and what is marked on it.

use lookwright_colour::Error;
use lookwright_film::look::{Options, StageId};
use lookwright_render::judge::{Marking, Spread, StageAxis, VECTOR_SIDE, Vectorscope, view};
use wasm_bindgen::prelude::*;

use super::Picture;
use crate::answer::problem;
use crate::settings::RenderSettings;

#[wasm_bindgen]
impl Picture {
    /// The scopes at a preview's size: waveform and histogram of what leaves a stage, the vectorscope
    /// of the finished picture; or all three of the stage as it is looked at, in screen code (`viewed`). `[waveform RGBA, vectorscope RGBA, histogram, [darkest, brightest, share
    /// at the lower end, share at the upper end]]`.
    ///
    /// # Errors
    /// If this is a small copy of another size, or one sentence if there is no such stage.
    #[wasm_bindgen(
        unchecked_return_type = "[Uint8ClampedArray<ArrayBuffer>, Uint8ClampedArray<ArrayBuffer>, Uint32Array<ArrayBuffer>, [number, number, number, number]]"
    )]
    pub fn scopes(
        &mut self,
        settings: &RenderSettings,
        stage: &str,
        viewed: bool,
        width: usize,
        height: usize,
    ) -> Result<js_sys::Array, JsError> {
        let window = self.preview_window(width);
        let job = self.job(settings, stage, window)?;
        let axis = StageAxis::of(if viewed { StageId::Screen } else { job.stage });
        let finished = self.job(settings, StageId::Screen.id(), window)?;
        let renderer = self.renderer(width, height)?;
        let shown = if viewed {
            view(renderer, &job)
        } else {
            renderer.render(&finished)
        };
        let spread = if viewed || job.stage == StageId::Screen {
            Spread::of(&shown, axis)
        } else {
            Spread::of(&renderer.render(&job), axis)
        };
        let pixels = (width * height).max(1) as f64;
        let [darkest, brightest] = spread.between();
        let [below, above] = spread.at_ends.map(|count| count as f64 / pixels);
        let reading: js_sys::Array = [darkest, brightest, below, above]
            .into_iter()
            .map(JsValue::from_f64)
            .collect();
        Ok(js_sys::Array::of4(
            &js_sys::Uint8ClampedArray::from(&spread.waveform_rgba()[..]),
            &js_sys::Uint8ClampedArray::from(
                &Vectorscope::of(&shown, &finished.delivery.display).rgba()[..],
            ),
            &js_sys::Uint32Array::from(&spread.histogram[..]),
            &reading,
        ))
    }

    /// The picture at a preview's size with its marks, see `Marking`: `[RGBA, share of the picture under
    /// each sign of the key]`.
    ///
    /// # Errors
    /// If this is a small copy of another size, or one sentence if there is no such marking.
    #[wasm_bindgen(
        unchecked_return_type = "[Uint8ClampedArray<ArrayBuffer>, Float64Array<ArrayBuffer>]"
    )]
    pub fn marked(
        &mut self,
        settings: &RenderSettings,
        marking: &str,
        width: usize,
        height: usize,
    ) -> Result<js_sys::Array, JsError> {
        let found = Marking::ALL.into_iter().find(|it| it.id() == marking);
        let found = found.ok_or_else(|| {
            let ids = Marking::ALL.map(Marking::id).join(", ");
            problem(Error::new(format!(
                "there is no marking \"{marking}\": there are {ids}"
            )))
        })?;
        let window = self.preview_window(width);
        let job = self.job(settings, StageId::Screen.id(), window)?;
        let marked = found.render(self.renderer(width, height)?, &job);
        Ok(js_sys::Array::of2(
            &js_sys::Uint8ClampedArray::from(&marked.rgba[..]),
            &js_sys::Float64Array::from(&marked.shares[..]),
        ))
    }

    /// Side of the vectorscope's picture, in pixels.
    #[must_use]
    pub fn vector_side() -> usize {
        VECTOR_SIDE
    }
}
