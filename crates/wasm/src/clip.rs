//! Clips: their frames while they play.

use lookwright_colour::Error;
use lookwright_film::spatial::{Planes, Window};
use lookwright_render::judge::quick_view;
use lookwright_render::{ClipRenderer, Job, Renderer, to_rgba8};
use lookwright_wasm_first::RenderSettings;
use lookwright_wasm_first::answer::problem;
use wasm_bindgen::Clamped;
use wasm_bindgen::prelude::*;

/// Renders the frames of clips while they play, for one side of the wipe.
#[wasm_bindgen]
#[derive(Default)]
pub struct ClipPlayer {
    renderer: Option<ClipRenderer>,
}

#[wasm_bindgen]
impl ClipPlayer {
    /// With nothing to play yet.
    #[wasm_bindgen(constructor)]
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Frame `number` of a clip as it leaves a stage: `rgba` is the frame at `width x height`,
    /// reduced from `full_width x full_height`; the answer is RGBA for a canvas.
    ///
    /// # Errors
    /// One sentence if there is no such stage or there are not as many pixels.
    #[expect(clippy::too_many_arguments, reason = "what is shown, and two sizes")]
    #[wasm_bindgen(unchecked_return_type = "Uint8ClampedArray<ArrayBuffer>")]
    pub fn frame(
        &mut self,
        settings: &RenderSettings,
        stage: &str,
        rgba: Clamped<Vec<u8>>,
        width: usize,
        height: usize,
        full_width: u32,
        full_height: u32,
        number: u32,
    ) -> Result<Clamped<Vec<u8>>, JsError> {
        let mut rgba = rgba.0;
        if rgba.is_empty() || rgba.len() != 4 * width * height {
            let (found, size) = (rgba.len(), format!("{width} x {height}"));
            return Err(problem(Error::new(format!(
                "{found} bytes for a frame of {size}"
            ))));
        }
        let window = Window {
            scale: width as f64 / f64::from(full_width.max(1)),
            ..Window::whole(full_width as usize, full_height as usize)
        };
        let job = settings.job(stage, window, number).map_err(problem)?;
        let job = &job.on_canvas();
        if !ClipRenderer::shows(job.stage) {
            return Ok(Clamped(exactly(&rgba, width, height, job)));
        }
        let kept = self.renderer.take();
        let mut renderer = match kept {
            Some(kept) if kept.suits(job, width, height) => kept,
            before => ClipRenderer::new(job, width, height, before).map_err(problem)?,
        };
        renderer.render(&mut rgba, number);
        self.renderer = Some(renderer);
        Ok(Clamped(rgba))
    }
}

/// A frame in the way of pictures: the stages that a clip's own way does not show.
fn exactly(rgba: &[u8], width: usize, height: usize, job: &Job) -> Vec<u8> {
    let pixels = rgba.as_chunks::<4>().0;
    let planes = [0, 1, 2].map(|c| pixels.iter().map(|p| f32::from(p[c]) / 255.0).collect());
    let mut renderer = Renderer::new(Planes {
        width,
        height,
        planes,
    });
    to_rgba8(&quick_view(&mut renderer, job))
}
