//! One opened picture and its renderings.

mod scopes;

use lookwright_colour::Error;
use lookwright_film::look::{Options, StageId};
use lookwright_film::path::LightPath;
use lookwright_film::spatial::{Planes, Reducer, Window, reduce};
use lookwright_picture::{
    Confidence, Decoded, Header, Limits, check_developing, decode_common, frame_number,
    probe_common, sniff, suggest,
};
use lookwright_render::judge::{DetailView, StageAxis, first_look, quick_view, trace_area, view};
use lookwright_render::{Job, Renderer, to_rgba8};
use wasm_bindgen::Clamped;
use wasm_bindgen::prelude::*;

use crate::answer::{Info, Suggested, Suggests, TraceRow, object, problem};
use crate::examine::examine;
use crate::settings::RenderSettings;

/// Renderings of different sizes that are kept: full and coarse.
const KEPT: usize = 2;
/// Side of the largest square that is averaged, in pixels.
const MOST_TRACED: u32 = 65;
/// Sides of the wipe, each of which may show its own detail.
const SIDES: usize = 2;

/// A picture in its frame's code, and what is kept of its renderings.
#[wasm_bindgen]
pub struct Picture {
    /// The picture at full size; a small copy has none.
    pub(crate) decoded: Option<Decoded>,
    pub(crate) name: String,
    /// Of the frame in its clip: grain and dust follow it.
    pub(crate) number: u32,
    width: u32,
    height: u32,
    /// The whole picture at preview sizes, the one used last in front.
    previews: Vec<Renderer>,
    /// Parts of it at full size, the one used last in front.
    details: Vec<DetailView>,
}

#[wasm_bindgen]
impl Picture {
    /// Whether the whole core is needed to open a file whose first bytes are `head`: this part of it
    /// reads JPEG and PNG. What is no picture at all needs nothing more to be refused.
    #[must_use]
    pub fn needs_whole(head: &[u8]) -> bool {
        sniff(head).is_ok_and(|kind| !kind.is_common())
    }

    /// Decodes the file of a JPEG or PNG. None if only the whole core can: its colour profile is a
    /// table.
    ///
    /// # Errors
    /// One sentence if it is no such picture that can be read.
    pub fn open(bytes: &[u8], name: &str) -> Result<Option<Self>, JsError> {
        let limits = Limits::default();
        let accept = |header: &Header| check_developing(header, &limits);
        let decoded = decode_common(bytes, &limits, accept).map_err(problem)?;
        Ok(decoded.map(|decoded| Self::of(decoded, name)))
    }

    /// Whether a file of `file_bytes` whose first bytes are `head` may be a JPEG or PNG that can be
    /// opened: so that what can't be is not read whole.
    ///
    /// # Errors
    /// One sentence if it can't.
    pub fn examine(head: &[u8], file_bytes: f64) -> Result<(), JsError> {
        examine(head, file_bytes, probe_common)
    }

    /// A picture from a small copy of it: `width * height` values for red, then green, then blue.
    ///
    /// # Errors
    /// If there are not as many values as the size says.
    pub fn from_copy(
        code: &[f32],
        width: usize,
        height: usize,
        full_width: u32,
        full_height: u32,
    ) -> Result<Self, JsError> {
        let pixels = width * height;
        if pixels == 0 || code.len() != 3 * pixels {
            let (found, size) = (code.len(), format!("{width} x {height}"));
            return Err(problem(Error::new(format!(
                "{found} values for a copy of {size}"
            ))));
        }
        let planes =
            [0, 1, 2].map(|channel| code[channel * pixels..(channel + 1) * pixels].to_vec());
        Ok(Self {
            decoded: None,
            name: String::new(),
            number: 0,
            width: full_width,
            height: full_height,
            previews: vec![Renderer::new(Planes {
                width,
                height,
                planes,
            })],
            details: Vec::new(),
        })
    }

    /// What the file says of itself, and how it should be read.
    ///
    /// # Errors
    /// If this is a small copy, which has no file.
    #[wasm_bindgen(unchecked_return_type = "import('../../types.js').PictureInfo")]
    pub fn info(&self) -> Result<JsValue, JsError> {
        let decoded = self.full()?;
        let suggestion = suggest(decoded, &self.name);
        object(&Info {
            width: decoded.width,
            height: decoded.height,
            format: format!("{}-bit {}", decoded.file_bits, decoded.kind.name()),
            notes: decoded.notes.clone(),
            suggestion: Suggested {
                encoding: suggestion.encoding.id(),
                reason: suggestion.reason,
                sure: suggestion.confidence >= Confidence::Medium,
                legal: suggestion.legal_range,
            },
        })
    }

    /// A copy of `width x height`, as [`Picture::from_copy`] takes it.
    ///
    /// # Errors
    /// If this is a small copy itself.
    #[wasm_bindgen(unchecked_return_type = "Float32Array<ArrayBuffer>")]
    pub fn small_copy(&self, width: usize, height: usize) -> Result<Vec<f32>, JsError> {
        Ok(self.reduced(width, height)?.planes.concat())
    }

    /// The whole picture as it leaves a stage, about `width x height`, as RGBA for a canvas;
    /// `quick`ly within one step of 8 bits in nearly all pixels, for while a control moves.
    ///
    /// # Errors
    /// One sentence if there is no such stage.
    #[wasm_bindgen(unchecked_return_type = "Uint8ClampedArray<ArrayBuffer>")]
    pub fn preview(
        &mut self,
        settings: &RenderSettings,
        stage: &str,
        width: usize,
        height: usize,
        quick: bool,
    ) -> Result<Clamped<Vec<u8>>, JsError> {
        let window = self.preview_window(width);
        let job = self.job(settings, stage, window)?.on_canvas();
        let renderer = self.renderer(width, height)?;
        let view = if quick { quick_view } else { view };
        Ok(Clamped(to_rgba8(&view(renderer, &job))))
    }

    /// A part of the picture as it leaves a stage, at full size, as RGBA for a canvas: as a saved
    /// file has it, but for screens that another stands for there ([`Job::on_canvas`]). Nothing while more of the picture has to be gone through for it; then it is to
    /// be asked for again, unless something else is wanted meanwhile.
    ///
    /// # Errors
    /// One sentence if there is no such stage or the part lies outside the picture.
    #[wasm_bindgen(unchecked_return_type = "Uint8ClampedArray<ArrayBuffer> | undefined")]
    pub fn detail(
        &mut self,
        settings: &RenderSettings,
        stage: &str,
        x: u32,
        y: u32,
        width: u32,
        height: u32,
    ) -> Result<Option<js_sys::Uint8ClampedArray>, JsError> {
        let size = (self.width as usize, self.height as usize);
        let whole = Window::whole(size.0, size.1);
        let job = self.job(settings, stage, whole)?.on_canvas();
        let span = |from: u32, length: u32, whole: u32| {
            let end = from.checked_add(length).filter(|end| *end <= whole);
            end.filter(|end| *end > from)
                .map(|end| from as usize..end as usize)
        };
        let spans = span(x, width, self.width).zip(span(y, height, self.height));
        let Some((columns, rows)) = spans else {
            return Err(problem(Error::new("that part lies outside the picture")));
        };
        let mut details = core::mem::take(&mut self.details);
        let mut view = DetailView::new(size, &job, &mut details);
        let decoded = self.full()?;
        let shown = view.part(decoded, columns, rows);
        details.insert(0, view);
        details.truncate(SIDES);
        self.details = details;
        let bytes = |part: &Planes| js_sys::Uint8ClampedArray::from(&to_rgba8(part)[..]);
        Ok(shown.as_ref().map(bytes))
    }

    /// The numbers of a square of `side x side` pixels about one at every stage, without texture: what of
    /// it lies in the picture, averaged.
    ///
    /// # Errors
    /// If this is a small copy, or one sentence if the pixel lies outside the picture.
    #[wasm_bindgen(unchecked_return_type = "import('../../types.js').TraceRow[]")]
    pub fn trace(
        &self,
        settings: &RenderSettings,
        x: u32,
        y: u32,
        side: u32,
    ) -> Result<JsValue, JsError> {
        let decoded = self.full()?;
        if x >= decoded.width || y >= decoded.height {
            return Err(problem(Error::new(format!(
                "there is no pixel at {x}, {y}"
            ))));
        }
        let window = Window::whole(self.width as usize, self.height as usize);
        let job = self.job(settings, StageId::Screen.id(), window)?;
        let path = LightPath::new(&job.look, &job.frame, &job.delivery);
        let reach = side.clamp(1, MOST_TRACED) / 2;
        let span = |at: u32, length: u32| {
            at.saturating_sub(reach)..at.saturating_add(reach + 1).min(length)
        };
        let codes: Vec<_> = span(y, decoded.height)
            .flat_map(|y| span(x, decoded.width).map(move |x| decoded.pixel(x, y)))
            .collect();
        let rows: Vec<_> = trace_area(&path, &codes)
            .into_iter()
            .map(|point| TraceRow {
                stage: point.stage.id(),
                label: StageId::OPTIONS[point.stage as usize].label,
                unit: point.unit,
                values: point.values,
                readings: point
                    .values
                    .map(|value| StageAxis::of(point.stage).reading(value)),
            })
            .collect();
        object(&rows)
    }

    /// What the picture suggests for its trim, and what kind of scene it seems to be.
    ///
    /// # Errors
    /// If this is a small copy.
    #[wasm_bindgen(unchecked_return_type = "import('../../types.js').Suggests")]
    pub fn first_look(&self, settings: &RenderSettings) -> Result<JsValue, JsError> {
        object(&Suggests::from(first_look(
            &self.small()?,
            settings.frame(),
        )))
    }

    /// Number of the frame in its clip, or in its name; 0 else.
    #[must_use]
    pub fn number(&self) -> u32 {
        self.number
    }

    /// Bits of each sample of [`Picture::rows`].
    ///
    /// # Errors
    /// If this is a small copy.
    pub fn sample_bits(&self) -> Result<u8, JsError> {
        Ok(self.full()?.samples.bits())
    }

    /// The samples of rows `first` to `end` at full size, as a part being saved takes
    /// them: in `room` if that is large enough, which spares the collector's memory.
    ///
    /// # Errors
    /// If this is a small copy or has no such rows.
    #[wasm_bindgen(unchecked_return_type = "Uint8Array<ArrayBuffer>")]
    pub fn rows(
        &self,
        first: u32,
        end: u32,
        room: Option<js_sys::Uint8Array>,
    ) -> Result<js_sys::Uint8Array, JsError> {
        let bytes = self.full()?.row_bytes(first..end).map_err(problem)?;
        let length = bytes.len() as u32;
        let rows = match room.filter(|room| room.length() >= length) {
            Some(room) => room.subarray(0, length),
            None => js_sys::Uint8Array::new_with_length(length),
        };
        rows.copy_from(bytes);
        Ok(rows)
    }
}

impl Picture {
    /// A picture that has been decoded.
    #[must_use]
    pub fn of(decoded: Decoded, name: &str) -> Self {
        Self {
            number: frame_number(name).unwrap_or(0),
            name: name.to_owned(),
            width: decoded.width,
            height: decoded.height,
            decoded: Some(decoded),
            previews: Vec::new(),
            details: Vec::new(),
        }
    }

    /// The rendering of a stage of this frame.
    fn job(&self, settings: &RenderSettings, stage: &str, window: Window) -> Result<Job, JsError> {
        settings.job(stage, window, self.number).map_err(problem)
    }

    /// A copy that is enough to judge by.
    ///
    /// # Errors
    /// If this is a small copy itself.
    pub fn small(&self) -> Result<Planes, JsError> {
        Ok(self.full()?.small())
    }

    /// The numbers of what leaves a stage at a preview's size, or, `viewed`, of what is looked at there, in
    /// screen code.
    ///
    /// # Errors
    /// If this is a small copy of another size, or one sentence if there is no such stage.
    pub fn rendered(
        &mut self,
        settings: &RenderSettings,
        stage: &str,
        viewed: bool,
        width: usize,
        height: usize,
    ) -> Result<Planes, JsError> {
        let window = self.preview_window(width);
        let job = self.job(settings, stage, window)?;
        let renderer = self.renderer(width, height)?;
        Ok(if viewed {
            view(renderer, &job)
        } else {
            renderer.render(&job)
        })
    }

    /// The picture at full size.
    ///
    /// # Errors
    /// If this is a small copy.
    pub fn full(&self) -> Result<&Decoded, JsError> {
        let message = "this is a small copy; only the picture itself can do that";
        self.decoded
            .as_ref()
            .ok_or_else(|| problem(Error::new(message)))
    }

    fn preview_window(&self, width: usize) -> Window {
        let whole = Window::whole(self.width as usize, self.height as usize);
        Window {
            scale: width as f64 / f64::from(self.width),
            ..whole
        }
    }

    /// The renderer of a preview size, in front of those kept.
    fn renderer(&mut self, width: usize, height: usize) -> Result<&mut Renderer, JsError> {
        let is = |r: &Renderer| (r.code().width, r.code().height) == (width, height);
        let kept = self.previews.iter().position(is);
        let renderer = match kept {
            Some(place) => self.previews.remove(place),
            None => Renderer::new(self.reduced(width, height)?),
        };
        self.previews.insert(0, renderer);
        self.previews.truncate(KEPT);
        Ok(&mut self.previews[0])
    }

    /// The picture's code at a smaller size, made from the smallest copy at hand that will do.
    fn reduced(&self, width: usize, height: usize) -> Result<Planes, JsError> {
        let enough = |r: &&Renderer| r.code().width >= 2 * width && r.code().height >= 2 * height;
        if let Some(renderer) = self.previews.iter().find(enough) {
            return Ok(reduce(renderer.code(), width, height));
        }
        let decoded = self.full()?;
        let mut reducer = Reducer::new(
            decoded.width as usize,
            decoded.height as usize,
            width,
            height,
        );
        let mut row = [0, 1, 2].map(|_| vec![0.0; decoded.width as usize]);
        for y in 0..decoded.height {
            decoded.read_rows(y..y + 1, &mut row);
            reducer.push_row([&row[0], &row[1], &row[2]]);
        }
        Ok(reducer.finish())
    }
}
