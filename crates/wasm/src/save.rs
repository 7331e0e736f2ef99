//! The finished picture at full size, developed in parts: each worker does one, and is handed the
//! rows that it needs by whoever holds the picture.

use lookwright_film::look::{Options, StageId};
use lookwright_film::spatial::Window;
use lookwright_picture::{Limits, OutFormat, Part, Samples, Sizes, Version};
use lookwright_render::HaloPlane;
use lookwright_wasm_first::RenderSettings;
use lookwright_wasm_first::answer::problem;
use wasm_bindgen::prelude::*;

/// A part of a picture being saved; see [`Part`].
#[wasm_bindgen]
pub struct PicturePart {
    part: Part,
}

#[wasm_bindgen]
impl PicturePart {
    /// Part `index` of the `count` parts of a picture of `width x height`, in one of the
    /// formats of [`lookwright_wasm_first::hand_over_choices`]; none if it has fewer parts. `number` is the frame's; see
    /// [`lookwright_wasm_first::Picture::number`].
    ///
    /// # Errors
    /// One sentence if there is no such format.
    #[expect(clippy::too_many_arguments, reason = "a format, a size and a place")]
    pub fn begin(
        settings: &RenderSettings,
        format: &str,
        quality: u8,
        width: u32,
        height: u32,
        index: usize,
        count: u32,
        number: u32,
    ) -> Result<Option<Self>, JsError> {
        let format = OutFormat::from_id(format, quality).map_err(problem)?;
        let window = Window::whole(width as usize, height as usize);
        let job = settings
            .job(StageId::Screen.id(), window, number)
            .map_err(problem)?;
        let sizes = Sizes {
            size: (width, height),
            sample_bytes: 0,
            format,
        };
        sizes
            .strips(&job, Version::Styled, &Limits::default(), 1)
            .map_err(problem)?;
        let Some(rows) = Part::divide(height, format, count).into_iter().nth(index) else {
            return Ok(None);
        };
        let part =
            Part::new((width, height), &job, Version::Styled, format, rows).map_err(problem)?;
        Ok(Some(Self { part }))
    }

    /// The rows that each strip of its round is made from: first and end, first and end, ...
    #[must_use]
    pub fn needs(&self) -> Vec<u32> {
        let needs = self.part.needs().into_iter();
        needs.flat_map(|rows| [rows.start, rows.end]).collect()
    }

    /// Does the next strip of its round, from the samples of its rows. Gives the next bytes of the
    /// file, if there are any yet.
    ///
    /// # Errors
    /// If these are not those rows, or one sentence if the format can't be written.
    #[wasm_bindgen(unchecked_return_type = "Uint8Array<ArrayBuffer>")]
    pub fn step(&mut self, bits: u8, bytes: Vec<u8>) -> Result<Vec<u8>, JsError> {
        let samples = Samples::from_bytes(bits, bytes).map_err(problem)?;
        self.part.step(samples).map_err(problem)?;
        Ok(self.part.written())
    }

    /// How much of its work is done, 0 to 1.
    #[must_use]
    pub fn done(&self) -> f64 {
        self.part.done()
    }

    /// Whether its round ends with a halo exchange, layer by layer.
    #[must_use]
    pub fn gathers(&self) -> bool {
        self.part.gathers()
    }

    /// Whether its round is the last, which makes the file.
    #[must_use]
    pub fn is_last(&self) -> bool {
        self.part.is_last()
    }

    /// What it has of one level of one layer, and what it needs: first row and end of both, and how
    /// many numbers a row has. See [`Part::halo_ranges`].
    ///
    /// # Errors
    /// If there is no such plane.
    pub fn halo_ranges(&mut self, layer: usize, level: usize) -> Result<Vec<u32>, JsError> {
        let halo_ranges = self
            .part
            .halo_ranges(HaloPlane { layer, level })
            .map_err(problem)?;
        let (own, wanted) = (halo_ranges.own, halo_ranges.wanted);
        let numbers = [
            own.start,
            own.end,
            wanted.start,
            wanted.end,
            halo_ranges.columns,
        ];
        Ok(numbers.map(|n| n as u32).to_vec())
    }

    /// Rows of a plane for the other part.
    ///
    /// # Errors
    /// If these are not rows of its own.
    #[wasm_bindgen(unchecked_return_type = "Float32Array<ArrayBuffer>")]
    pub fn read_halo(
        &self,
        layer: usize,
        level: usize,
        first: usize,
        end: usize,
    ) -> Result<Vec<f32>, JsError> {
        let plane = HaloPlane { layer, level };
        self.part.read_halo(plane, first..end).map_err(problem)
    }

    /// Takes in rows of a plane from the other part.
    ///
    /// # Errors
    /// If these are not rows that it wants.
    pub fn write_halo(
        &mut self,
        layer: usize,
        level: usize,
        first: usize,
        values: &[f32],
    ) -> Result<(), JsError> {
        let plane = HaloPlane { layer, level };
        self.part.write_halo(plane, first, values).map_err(problem)
    }

    /// Closes a layer.
    ///
    /// # Errors
    /// If there is no such layer.
    pub fn close_halo(&mut self, layer: usize) -> Result<(), JsError> {
        self.part.close_halo(layer).map_err(problem)
    }

    /// Goes on to its next round; `false` if there is none.
    pub fn next_round(&mut self) -> bool {
        self.part.next_round()
    }

    /// The rest of the file's bytes.
    ///
    /// # Errors
    /// If the format can't be written.
    #[wasm_bindgen(unchecked_return_type = "Uint8Array<ArrayBuffer>")]
    pub fn finish(self) -> Result<Vec<u8>, JsError> {
        self.part.finish().map_err(problem)
    }
}
