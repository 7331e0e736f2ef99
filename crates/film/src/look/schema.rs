//! What the descriptions are turned into: the catalogue for page and command line, and the JSON
//! Schema (draft 2020-12) of the look file.

use serde_json::{Map, Value as Json, json};

use super::canonical::value_json;
use super::json::LOOK_VERSION;
use super::{
    AMOUNT_MAX, Control, Delivery, Frame, Kind, Lens, Negative, Options, Print, Scan, Stage,
    StageId, StartingStock, Step,
};

/// Every stage, step and control with its words and limits, in the order of the light path.
pub fn catalogue() -> Json {
    json!({
        "stages": [
            stage_entry::<Frame>(StageId::Intake),
            stage_entry::<Lens>(StageId::Lens),
            stage_entry::<Negative>(StageId::Negative),
            stage_entry::<Scan>(StageId::Scan),
            stage_entry::<Print>(StageId::Print),
            stage_entry::<Delivery>(StageId::Screen),
        ],
        "amount": { "min": 0, "max": AMOUNT_MAX, "default": 1 },
        "startingStocks": StartingStock::OPTIONS
            .iter()
            .map(|o| json!({ "id": o.id, "label": o.label }))
            .collect::<Vec<_>>(),
    })
}

fn stage_entry<S: Stage + Default>(id: StageId) -> Json {
    let stage = S::default();
    let steps: Vec<_> = stage.steps().into_iter().map(step_entry).collect();
    json!({
        "id": id.id(), "label": S::LABEL, "about": S::ABOUT, "unit": id.unit(), "steps": steps,
    })
}

fn step_entry(step: &dyn Step) -> Json {
    let spec = step.spec();
    let controls: Vec<_> = spec.controls.iter().map(control_entry).collect();
    json!({
        "id": spec.id, "label": spec.label, "help": spec.help, "texture": spec.texture,
        "on": spec.on, "controls": controls,
    })
}

fn control_entry(control: &Control) -> Json {
    let mut entry = json!({
        "id": control.id, "label": control.label, "help": control.help,
        "default": value_json(&control.default_value()),
        "neutral": value_json(&control.neutral_value()),
    });
    let kind = match control.kind {
        Kind::Number {
            unit,
            min,
            max,
            step,
            whole,
            scale,
            ..
        } => json!({
            "kind": "number", "unit": unit, "min": min, "max": max, "step": step,
            "whole": whole, "scale": scale.id(),
        }),
        Kind::Switch { .. } => json!({ "kind": "switch" }),
        Kind::Choice { options, .. } => {
            let options: Vec<_> = options
                .iter()
                .map(|o| json!({ "id": o.id, "label": o.label }))
                .collect();
            json!({ "kind": "choice", "options": options })
        }
        Kind::Curve { max_points } => json!({ "kind": "curve", "max_points": max_points }),
    };
    if let (Json::Object(entry), Json::Object(kind)) = (&mut entry, kind) {
        entry.extend(kind);
    }
    entry
}

/// The JSON Schema of the look file.
pub fn json_schema() -> Json {
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Lookwright look",
        "type": "object",
        "required": ["lookwright"],
        "additionalProperties": false,
        "properties": {
            "lookwright": {
                "const": LOOK_VERSION,
                "description": "Version of this format. Files of version 1 are read too, but left out other defaults.",
            },
            "name": { "type": "string", "description": "The look's name." },
            "note": { "type": "string", "description": "What the look is for." },
            Lens::ID: stage_schema::<Lens>(),
            Negative::ID: stage_schema::<Negative>(),
            Scan::ID: stage_schema::<Scan>(),
            Print::ID: stage_schema::<Print>(),
        },
    })
}

fn closed_object(description: &str, properties: Map<String, Json>) -> Json {
    json!({
        "type": "object", "description": description, "additionalProperties": false,
        "properties": properties,
    })
}

fn stage_schema<S: Stage + Default>() -> Json {
    let stage = S::default();
    let steps = stage
        .steps()
        .into_iter()
        .map(|s| (s.spec().id.to_owned(), step_schema(s)));
    closed_object(S::ABOUT, steps.collect())
}

fn step_schema(step: &dyn Step) -> Json {
    let spec = step.spec();
    let mut properties = Map::new();
    properties.insert(
        "on".into(),
        json!({ "type": "boolean", "default": spec.on }),
    );
    properties.insert(
        "amount".into(),
        json!({ "type": "number", "minimum": 0, "maximum": AMOUNT_MAX, "default": 1 }),
    );
    for control in spec.controls {
        properties.insert(control.id.into(), control_schema(control));
    }
    closed_object(spec.help, properties)
}

fn control_schema(control: &Control) -> Json {
    let mut schema = match control.kind {
        Kind::Number {
            min, max, whole, ..
        } => json!({
            "type": if whole { "integer" } else { "number" }, "minimum": min, "maximum": max,
        }),
        Kind::Switch { .. } => json!({ "type": "boolean" }),
        Kind::Choice { options, .. } => {
            let ids: Vec<_> = options.iter().map(|o| o.id).collect();
            json!({ "enum": ids })
        }
        Kind::Curve { max_points } => json!({
            "type": "array", "maxItems": max_points,
            "items": {
                "type": "array", "minItems": 2, "maxItems": 2,
                "items": { "type": "number", "minimum": 0, "maximum": 1 },
            },
        }),
    };
    let unit = match control.kind {
        Kind::Number { unit, .. } if !unit.is_empty() => format!(" Unit: {unit}."),
        _ => String::new(),
    };
    schema["description"] = format!("{}{unit}", control.help).into();
    schema["default"] = value_json(&control.default_value());
    schema
}
