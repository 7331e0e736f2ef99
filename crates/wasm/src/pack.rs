//! What goes to an editor: hand-over packs, and the check of any table.

use std::io::Cursor;

use lookwright_colour::Error;
use lookwright_colour::encoding::{EncodingId, Range, ScreenId};
use lookwright_film::look::{CodeRange, Look, Options, StockChoice};
use lookwright_film::path::scene_out::{Rendering, SceneCode};
use lookwright_handover::{Asked, Format, Pack, SampleFrame, Split, check};
use lookwright_picture::decode;
use lookwright_table::health::Setting;
use lookwright_wasm_first::RenderSettings;
use lookwright_wasm_first::answer::{object, problem};
use serde::{Deserialize, Serialize};
use wasm_bindgen::prelude::*;

/// What a page asks for. Lists hold ids as the command line takes them; what is left out is as
/// there.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "camelCase")]
struct Request {
    looks: Vec<String>,
    encodings: Vec<String>,
    stocks: Option<Vec<String>>,
    ranges: Option<Vec<String>>,
    screen: Option<String>,
    out_ranges: Option<Vec<String>>,
    splits: Option<Vec<String>>,
    scene: Option<Vec<String>>,
    undo: Option<Vec<String>>,
    formats: Option<Vec<String>>,
    grid: Option<usize>,
    date: Option<String>,
    licence: Option<String>,
}

impl Request {
    fn pack(self) -> Result<Pack, Error> {
        let mut pack = Pack::new(
            parsed(&self.looks, Look::read)?,
            parsed(&self.encodings, EncodingId::parse)?,
        );
        if let Some(ids) = self.stocks {
            pack.stocks = parsed(&ids, StockChoice::parse)?;
        }
        if let Some(ids) = self.ranges {
            pack.ranges = parsed(&ids, Range::parse)?;
        }
        if let Some(id) = self.screen {
            pack.screen = ScreenId::parse(&id)?;
        }
        if let Some(ids) = self.out_ranges {
            pack.out_ranges = parsed(&ids, <CodeRange as Options>::parse)?;
        }
        if let Some(ids) = self.splits {
            pack.splits = parsed(&ids, <Split as Options>::parse)?;
        }
        let undone = match self.undo {
            Some(ids) => parsed(&ids, <Rendering as Options>::parse)?,
            None => vec![Rendering::Plain],
        };
        for encoding in parsed(&self.scene.unwrap_or_default(), EncodingId::parse)? {
            for rendering in &undone {
                pack.scene.push(SceneCode::new(encoding, *rendering)?);
            }
        }
        if let Some(ids) = self.formats {
            pack.formats = parsed(&ids, <Format as Options>::parse)?;
        }
        pack.grid = self.grid.unwrap_or(pack.grid);
        pack.date = self.date;
        pack.licence = self.licence;
        Ok(pack)
    }
}

fn parsed<T>(ids: &[String], parse: impl Fn(&str) -> Result<T, Error>) -> Result<Vec<T>, Error> {
    ids.iter().map(|id| parse(id)).collect()
}

fn request(request: JsValue) -> Result<Pack, JsError> {
    serde_wasm_bindgen::from_value::<Request>(request)
        .map_err(|error| JsError::new(&error.to_string()))?
        .pack()
        .map_err(problem)
}

#[derive(Serialize)]
struct PlannedKind {
    stock: String,
    label: String,
    encoding: &'static str,
}

#[derive(Serialize)]
struct Planned {
    tables: usize,
    zip_bytes: u64,
    has_config: bool,
    kinds: Vec<PlannedKind>,
}

/// What a pack would be: `{looks, encodings, stocks?, ranges?, screen?, outRanges?, splits?, scene?, undo?,
/// formats?, grid?, date?, licence?}`, looks as JSON texts, gives `{tables, zip_bytes, has_config, kinds}`:
/// whether it has an OpenColorIO configuration, and kinds as `[{stock, label, encoding}]`.
///
/// # Errors
/// One sentence if something is missing or wrong.
#[wasm_bindgen(unchecked_return_type = "import('../../types.js').PackPlan")]
pub fn pack_plan(
    #[wasm_bindgen(unchecked_param_type = "import('../../types.js').PackRequest")] pack: JsValue,
) -> Result<JsValue, JsError> {
    let plan = request(pack)?.plan().map_err(problem)?;
    object(&Planned {
        tables: plan.tables,
        zip_bytes: plan.bytes,
        has_config: plan.has_config,
        kinds: plan
            .kinds
            .iter()
            .map(|(stock, encoding)| PlannedKind {
                stock: stock.id(),
                label: stock.label(),
                encoding: encoding.id(),
            })
            .collect(),
    })
}

/// What hurts in one of a plan's kinds: `{worst, findings}`.
///
/// # Errors
/// One sentence if something is missing or wrong.
#[wasm_bindgen(unchecked_return_type = "import('../../types.js').Health")]
pub fn pack_health(
    #[wasm_bindgen(unchecked_param_type = "import('../../types.js').PackRequest")] pack: JsValue,
    kind: usize,
) -> Result<JsValue, JsError> {
    let health = request(pack)?.examine(kind).map_err(problem)?;
    let health = health
        .ok_or_else(|| problem(Error::new(format!("the pack has no tables of kind {kind}"))))?;
    object(&health.to_json())
}

/// Frames for a pack's contact sheet.
#[wasm_bindgen]
#[derive(Default)]
pub struct PackFrames(Vec<SampleFrame>);

#[wasm_bindgen]
impl PackFrames {
    /// None yet.
    #[wasm_bindgen(constructor)]
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a picture's file, to be read by its frame's settings.
    ///
    /// # Errors
    /// One sentence if it is no picture that can be read.
    pub fn add(
        &mut self,
        bytes: &[u8],
        name: &str,
        settings: &RenderSettings,
    ) -> Result<(), JsError> {
        self.0.push(SampleFrame {
            name: name.to_owned(),
            picture: decode(bytes).map_err(problem)?,
            frame: settings.frame().clone(),
        });
        Ok(())
    }
}

/// The pack as the bytes of a zip. `step(done, total, path)` is called before each file; when it
/// returns `false`, the pack is given up.
///
/// # Errors
/// One sentence if something is missing or wrong, or the pack was given up.
#[wasm_bindgen(unchecked_return_type = "Uint8Array<ArrayBuffer>")]
pub fn pack(
    #[wasm_bindgen(unchecked_param_type = "import('../../types.js').PackRequest")] pack: JsValue,
    frames: PackFrames,
    #[wasm_bindgen(
        unchecked_param_type = "(done: number, total: number, path: string) => boolean"
    )]
    step: &js_sys::Function,
) -> Result<Vec<u8>, JsError> {
    let told = |done: usize, total: usize, path: &str| {
        let answer = step.call3(
            &JsValue::NULL,
            &JsValue::from_f64(done as f64),
            &JsValue::from_f64(total as f64),
            &JsValue::from_str(path),
        );
        answer.is_ok_and(|go_on| go_on != JsValue::FALSE)
    };
    let pack = Pack {
        frames: frames.0,
        ..request(pack)?
    };
    pack.write(Cursor::new(Vec::new()), |s| told(s.done, s.total, s.path))
        .map(Cursor::into_inner)
        .map_err(problem)
}

/// What hurts in a table file: `{format, size, remarks, in, out, worst, diagnosis, findings}`.
///
/// # Errors
/// One sentence if the file is no table.
#[wasm_bindgen(unchecked_return_type = "import('../../types.js').TableHealth")]
pub fn check_table(
    bytes: &[u8],
    file_name: &str,
    settings: &RenderSettings,
) -> Result<JsValue, JsError> {
    let delivery = settings.delivery();
    // Its header goes before what the page shows.
    let likely = Setting {
        screen: delivery.display.screen,
        range: match delivery.display.range {
            CodeRange::Full => Range::Full,
            CodeRange::Legal => Range::Legal,
        },
        ..Setting::default()
    };
    let asked = Asked {
        likely,
        ..Asked::default()
    };
    let checked = check(bytes, file_name, asked).map_err(problem)?;
    object(&checked.to_json())
}
