//! Writing JSON, defaults left out: in canonical form by RFC 8785, and for people.

use serde_json::{Map, Value as Json};

use super::{Stage, Step, Value};

/// Puts what a stage has set into `root`, under the stage's key.
pub(super) fn write_stage<S: Stage>(stage: &S, root: &mut Map<String, Json>) {
    let mut out = Map::new();
    for step in stage.steps() {
        let written = write_step(step);
        if !written.is_empty() {
            out.insert(step.spec().id.into(), Json::Object(written));
        }
    }
    if !out.is_empty() {
        root.insert(S::ID.into(), Json::Object(out));
    }
}

fn write_step(step: &dyn Step) -> Map<String, Json> {
    let spec = step.spec();
    let mut out = Map::new();
    if step.is_on() != spec.on {
        out.insert("on".into(), step.is_on().into());
    }
    if step.amount() != 1.0 {
        out.insert("amount".into(), step.amount().into());
    }
    for (index, control) in spec.controls.iter().enumerate() {
        let value = step.get(index);
        if value != control.default_value() {
            out.insert(control.id.into(), value_json(&value));
        }
    }
    out
}

pub(super) fn value_json(value: &Value) -> Json {
    match value {
        Value::Number(number) => (*number).into(),
        Value::Switch(on) => (*on).into(),
        Value::Choice(id) => (*id).into(),
        Value::Curve(points) => points.iter().map(|p| Json::from(p.to_vec())).collect(),
    }
}

/// RFC 8785 JSON. Only numbers that are not finite have none, and JSON values hold none.
pub(super) fn canonical_json(value: &Json) -> String {
    serde_json_canonicalizer::to_string(value).unwrap_or_default()
}

/// Rust prints the shortest decimal that reads back as the same `f64`, without an exponent; all
/// our numbers are small enough for that to be short. Minus zero is written as 0.
fn number_text(number: &serde_json::Number) -> String {
    match number.as_f64() {
        Some(0.0) => "0".to_owned(),
        Some(value) => value.to_string(),
        None => number.to_string(),
    }
}

/// Writes sorted JSON with line breaks, for people; objects are indented, lists stand in one line.
pub(super) fn write_pretty(value: &Json, depth: usize, out: &mut String) {
    let break_line = |out: &mut String, depth: usize| {
        out.push('\n');
        out.push_str(&"  ".repeat(depth));
    };
    match value {
        Json::Object(map) if map.is_empty() => out.push_str("{}"),
        Json::Object(map) => {
            out.push('{');
            let mut keys: Vec<_> = map.iter().collect();
            keys.sort_by_key(|(key, _)| key.as_str());
            for (i, (key, value)) in keys.into_iter().enumerate() {
                if i > 0 {
                    out.push(',');
                }
                break_line(out, depth + 1);
                out.push_str(&Json::from(key.as_str()).to_string());
                out.push_str(": ");
                write_pretty(value, depth + 1, out);
            }
            break_line(out, depth);
            out.push('}');
        }
        Json::Array(items) => {
            out.push('[');
            for (i, item) in items.iter().enumerate() {
                if i > 0 {
                    out.push_str(", ");
                }
                write_pretty(item, depth, out);
            }
            out.push(']');
        }
        Json::Number(number) => out.push_str(&number_text(number)),
        other => out.push_str(&other.to_string()),
    }
}
