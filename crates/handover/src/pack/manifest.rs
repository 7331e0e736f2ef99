//! `manifest.json`: the pack for programs. Its JSON Schema is `pack.schema.json` beside the crate.
//!
//! It names every file that was there before it, the notes included, and with `SHA256SUMS` behind it nothing
//! is left out. Keys are in the order of the alphabet, numbers are rounded: the same pack is the same bytes.

use lookwright_colour::Result;
use lookwright_colour::encoding::EncodingId;
use lookwright_film::look::{CodeRange, MODEL_VERSION, Options, StockChoice};
use serde_json::{Map, Value, json};

use super::archive::Sum;
use super::findings::Findings;
use super::{Pack, PackLook, inputs};
use crate::difference::Difference;
use crate::{Accuracy, Recipe, Split, chart, name};

/// The manifest's own version: another one where a reader of this one would go wrong.
pub(super) const VERSION: u32 = 1;

/// The manifest's text.
pub(super) fn text(
    pack: &Pack,
    entries: &[PackLook],
    findings: &Findings,
    sums: &[Sum],
) -> Result<String> {
    let files = sums.iter().map(|sum| {
        let mut file = match findings.files.get(&sum.path) {
            Some(about) => about.clone(),
            None => json!({ "role": "note" }),
        };
        file["path"] = sum.path.clone().into();
        file["sha256"] = sum.sha256.clone().into();
        file["bytes"] = sum.bytes.into();
        file
    });
    let mut manifest = json!({
        "manifest": VERSION,
        "made_with": {
            "program": "Lookwright",
            "version": env!("CARGO_PKG_VERSION"),
            "model": MODEL_VERSION,
        },
        "looks": entries.iter().map(look).collect::<Vec<_>>(),
        "inputs": pack.encodings.iter().map(|e| input(pack, *e)).collect::<Result<Vec<_>>>()?,
        "equal_tables": findings.equal_tables(),
        "files": files.collect::<Vec<_>>(),
    });
    for (key, value) in [("date", &pack.date), ("licence", &pack.licence)] {
        if let Some(value) = value {
            manifest[key] = value.clone().into();
        }
    }
    Ok(format!("{manifest:#}\n"))
}

fn look(entry: &PackLook) -> Value {
    let stock = StockChoice::of(&entry.look.negative.stock);
    json!({
        "name": entry.look.name,
        "stock": { "id": stock.id(), "label": stock.label() },
        "folder": entry.folder(),
        "fingerprint": entry.look.fingerprint(),
    })
}

/// An encoding of the pack, and which table takes it.
fn input(pack: &Pack, encoding: EncodingId) -> Result<Value> {
    let info = encoding.info();
    let (recorded, source) = encoding.recorded();
    let answers = inputs::answers(pack, encoding)?;
    let which = answers.iter().map(|answer| {
        json!({
            "program": answer.handing.id(),
            "range": answer.range.id(),
            "in_pack": answer.in_pack,
            "black": rounded(answer.black, 4),
            "mid_grey": rounded(answer.grey, 4),
        })
    });
    let steps = pack.ranges_of(encoding).iter().map(|range| {
        let codes = chart::codes_per_stop(encoding, *range)?;
        Ok((
            range.id().to_owned(),
            codes.map_or(Value::Null, |v| rounded(v, 2)),
        ))
    });
    Ok(json!({
        "encoding": info.id,
        "label": info.label,
        "source": info.source,
        "recorded": { "how": recorded.id(), "source": source },
        "which_table": which.collect::<Vec<_>>(),
        "codes_per_stop": steps.collect::<Result<Map<_, _>>>()?,
    }))
}

/// What a table is: its look, what goes in and comes out, and how it is to be read.
pub(super) fn table(recipe: &Recipe, role: &str) -> Value {
    json!({
        "role": role,
        "look": recipe.look.fingerprint(),
        "stock": name::stock(&recipe.look),
        "part": recipe.split.id(),
        "input": input_of(recipe),
        "output": output_of(recipe),
    })
}

/// How a lattice is read, and what it is off.
pub(super) fn lattice(recipe: &Recipe, format: &str, accuracy: &Accuracy) -> Value {
    let mut about = table(recipe, "table");
    about["format"] = format.into();
    about["grid"] = recipe.grid.into();
    about["interpolation"] = "tetrahedral".into();
    let read = |read: &crate::baked::Read| json!({ "tetrahedral": off(&read.tetrahedral), "trilinear": off(&read.trilinear) });
    about["errors"] = read(&accuracy.alone);
    if let Some(both) = &accuracy.in_a_row {
        about["errors_in_a_row"] = read(both);
    }
    about
}

fn off(difference: &Difference) -> Value {
    json!({
        "de2000": {
            "mean": rounded(difference.mean, 3),
            "p99": rounded(difference.p99, 3),
            "max": rounded(difference.max, 3),
        },
        "codes": {
            "mean": rounded(difference.mean_codes, 2),
            "p99": rounded(difference.p99_codes, 2),
            "max": rounded(difference.max_codes, 2),
        },
    })
}

fn input_of(recipe: &Recipe) -> Value {
    match recipe.split {
        Split::ScanToScreen => scan(),
        Split::Whole | Split::CameraToScan => {
            json!({ "encoding": recipe.encoding.id(), "range": recipe.range.id() })
        }
    }
}

fn output_of(recipe: &Recipe) -> Value {
    match recipe.split {
        Split::CameraToScan => scan(),
        Split::Whole | Split::ScanToScreen => {
            if let Some(scene) = recipe.scene {
                let (encoding, undone) = (scene.encoding.id(), scene.rendering.id());
                return json!({ "encoding": encoding, "range": "full", "undone": undone });
            }
            let display = &recipe.delivery.display;
            screen(display.screen.id(), display.range)
        }
    }
}

/// A screen's code.
pub(super) fn screen(id: &str, range: CodeRange) -> Value {
    json!({ "screen": id, "range": range.id() })
}

/// The finished scan's code.
pub(super) fn scan() -> Value {
    json!({ "encoding": EncodingId::FilmScan.id(), "range": "full" })
}

/// A number as it is told.
pub(super) fn rounded(value: f64, digits: i32) -> Value {
    let scale = libm::exp10(f64::from(digits));
    ((value * scale).round() / scale).into()
}
