//! Looks, frames and deliveries as JSON: a strict reader and one canonical form.
//!
//! The reader takes no unknown key, no value of another kind and none out of range; its sentence
//! begins with the path of the key. The canonical form leaves defaults out and is RFC 8785 JSON
//! (JCS): sorted keys, the shortest numbers that read back the same, no white space. The fingerprint
//! is the SHA-256 of such JSON, too.

use serde_json::{Map, Value as Json, json};
use sha2::{Digest, Sha256};

use super::canonical::{canonical_json, write_pretty, write_stage};
use super::describe::{AMOUNT_MAX, check_number};
use super::stock_choice::rename_class;
use super::{
    Control, Delivery, Frame, Kind, Lens, Look, Negative, Print, Scan, Stage, Step, Value, old,
};
use lookwright_colour::error::{Error, Result, nearest};

/// The version of the look format. Files of older versions are read too; see [`super::old`].
pub const LOOK_VERSION: u64 = 3;

/// The version of the film model: raised whenever a release changes the pixels of any look, so that
/// one fingerprint never stands for two pictures.
pub const MODEL_VERSION: u32 = 1;

/// Longest name and note, in characters, so that a link stays a link.
const NAME_MAX: usize = 200;
const NOTE_MAX: usize = 2000;

impl Look {
    /// Reads a look from JSON.
    ///
    /// # Errors
    /// One sentence that begins with the line and column, or with the path of the key.
    pub fn read(json: &str) -> Result<Self> {
        Self::read_with_notes(json).map(|(look, _)| look)
    }

    /// Reads a look from JSON, and says in sentences what of an older file had to be changed.
    ///
    /// # Errors
    /// As for [`Look::read`].
    pub fn read_with_notes(json: &str) -> Result<(Self, Vec<String>)> {
        let mut root = parse_object(json, "a look")?;
        let version = match root.get("lookwright") {
            Some(Json::Number(version)) => version.as_u64(),
            Some(_) => None,
            None => {
                return Err(Error::new(format!(
                    "lookwright: a look file says \"lookwright\": {LOOK_VERSION}, and this one does not"
                )));
            }
        };
        let mut look = match version {
            Some(LOOK_VERSION) => Self::default(),
            Some(2) => old::defaults_of_version_2(),
            Some(1) => old::defaults_of_version_1(),
            _ => {
                return Err(Error::new(format!(
                    "lookwright: this file's version is {}; this program reads versions 1 to {LOOK_VERSION}",
                    root["lookwright"]
                )));
            }
        };
        let mut notes = Vec::new();
        if version == Some(1) {
            notes.extend(rename_class(&mut root)?);
        }
        for (key, value) in &root {
            match key.as_str() {
                "lookwright" => {}
                "name" => look.name = read_text(key, value, NAME_MAX)?,
                "note" => look.note = read_text(key, value, NOTE_MAX)?,
                Lens::ID => read_stage(&mut look.lens, value)?,
                Negative::ID => read_stage(&mut look.negative, value)?,
                Scan::ID => read_stage(&mut look.scan, value)?,
                Print::ID => read_stage(&mut look.print, value)?,
                _ => {
                    let known = [
                        "lookwright",
                        "name",
                        "note",
                        Lens::ID,
                        Negative::ID,
                        Scan::ID,
                        Print::ID,
                    ];
                    return Err(unknown_key("", key, &known));
                }
            }
        }
        if version == Some(1) {
            old::complete_version_1(&mut look);
        }
        if version < Some(LOOK_VERSION) {
            old::complete_version_2(&mut look);
        }
        Ok((look, notes))
    }

    /// The canonical JSON: defaults left out, keys sorted, shortest numbers, no white space.
    pub fn canonical(&self) -> String {
        canonical_json(&Json::Object(self.to_map()))
    }

    /// The same content with line breaks and indents, for people.
    pub fn pretty(&self) -> String {
        let mut out = String::new();
        write_pretty(&Json::Object(self.to_map()), 0, &mut out);
        out.push('\n');
        out
    }

    /// What tells this look's pixels from those of any other, as 64 lower-case hexadecimal digits:
    /// SHA-256 (FIPS 180-4) over the RFC 8785 JSON of `{"look": ..., "model": ...}`, with the look
    /// without its name and note, which change no pixel, and [`MODEL_VERSION`].
    pub fn fingerprint(&self) -> String {
        let mut look = self.to_map();
        look.retain(|key, _| key != "name" && key != "note");
        let model = MODEL_VERSION;
        Sha256::digest(canonical_json(&json!({ "look": look, "model": model })))
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect()
    }

    fn to_map(&self) -> Map<String, Json> {
        let mut root = Map::new();
        root.insert("lookwright".into(), LOOK_VERSION.into());
        for (key, text) in [("name", &self.name), ("note", &self.note)] {
            if !text.is_empty() {
                root.insert(key.into(), text.as_str().into());
            }
        }
        write_stage(&self.lens, &mut root);
        write_stage(&self.negative, &mut root);
        write_stage(&self.scan, &mut root);
        write_stage(&self.print, &mut root);
        root
    }
}

/// Reads one stage alone, `{"source": {...}, "trim": {...}}`: a frame's or a delivery's settings.
fn read_settings<S: Stage + Default>(json: &str) -> Result<S> {
    let mut stage = S::default();
    read_stage(&mut stage, &Json::Object(parse_object(json, S::ID)?))?;
    Ok(stage)
}

fn settings_json(stage: &impl Stage) -> String {
    let mut root = Map::new();
    write_stage(stage, &mut root);
    let content = root
        .into_iter()
        .next()
        .map_or_else(|| Json::Object(Map::new()), |(_, v)| v);
    canonical_json(&content)
}

impl Frame {
    /// Reads a frame's settings, `{"source": {...}, "trim": {...}}`.
    ///
    /// # Errors
    /// One sentence that begins with the path of the key.
    pub fn read(json: &str) -> Result<Self> {
        read_settings(json)
    }

    /// The settings in canonical form.
    pub fn canonical(&self) -> String {
        settings_json(self)
    }
}

impl Delivery {
    /// Reads a delivery's settings, `{"display": {...}}`.
    ///
    /// # Errors
    /// One sentence that begins with the path of the key.
    pub fn read(json: &str) -> Result<Self> {
        read_settings(json)
    }

    /// The settings in canonical form.
    pub fn canonical(&self) -> String {
        settings_json(self)
    }
}

fn parse_object(json: &str, what: &str) -> Result<Map<String, Json>> {
    match serde_json::from_str(json) {
        Ok(Json::Object(map)) => Ok(map),
        Ok(other) => Err(Error::new(format!(
            "expected {what}, an object in braces, but found {}",
            kind_of(&other)
        ))),
        Err(error) => Err(Error::new(format!("this is not valid JSON: {error}"))),
    }
}

fn read_text(key: &str, value: &Json, max: usize) -> Result<String> {
    let Json::String(text) = value else {
        return Err(Error::new(format!(
            "{key}: expected text, found {}",
            kind_of(value)
        )));
    };
    let length = text.chars().count();
    if length > max {
        return Err(Error::new(format!(
            "{key}: {length} characters long; at most {max} are allowed"
        )));
    }
    Ok(text.clone())
}

fn read_stage<S: Stage>(stage: &mut S, value: &Json) -> Result<()> {
    let Json::Object(map) = value else {
        return Err(Error::new(format!(
            "{}: expected an object of steps, found {}",
            S::ID,
            kind_of(value)
        )));
    };
    let mut steps = stage.steps_mut();
    for (key, value) in map {
        let known: Vec<_> = steps.iter().map(|step| step.spec().id).collect();
        let Some(place) = known.iter().position(|id| id == key) else {
            return Err(unknown_key(S::ID, key, &known));
        };
        read_step(steps[place], value).map_err(|e| prefix(e, S::ID))?;
    }
    Ok(())
}

fn prefix(error: Error, stage: &str) -> Error {
    Error::new(format!("{stage}.{}", error.message()))
}

fn read_step(step: &mut dyn Step, value: &Json) -> Result<()> {
    let spec = step.spec();
    let Json::Object(map) = value else {
        return Err(Error::new(format!(
            "expected an object of controls, found {}",
            kind_of(value)
        ))
        .at(spec.id));
    };
    for (key, value) in map {
        let path = format!("{}.{key}", spec.id);
        match key.as_str() {
            "on" => {
                let on = value.as_bool().ok_or_else(|| {
                    Error::new(format!("expected true or false, found {}", kind_of(value)))
                        .at(&path)
                })?;
                step.set_on(on);
            }
            "amount" => {
                let amount = read_number(value, "a number").map_err(|e| e.at(&path))?;
                check_number(amount, 0.0, AMOUNT_MAX, "").map_err(|e| e.at(&path))?;
                step.set_amount(amount);
            }
            _ => {
                let Some(index) = spec.controls.iter().position(|c| c.id == key) else {
                    let mut known: Vec<_> = spec.controls.iter().map(|c| c.id).collect();
                    known.extend(["on", "amount"]);
                    return Err(unknown_key(spec.id, key, &known));
                };
                let value = read_value(&spec.controls[index], value).map_err(|e| e.at(&path))?;
                step.set(index, &value);
            }
        }
    }
    Ok(())
}

fn read_number(value: &Json, expectation: &str) -> Result<f64> {
    value
        .as_f64()
        .ok_or_else(|| Error::new(format!("expected {expectation}, found {}", kind_of(value))))
}

fn read_value(control: &Control, json: &Json) -> Result<Value> {
    let mismatch = || {
        Error::new(format!(
            "expected {}, found {}",
            control.expectation(),
            kind_of(json)
        ))
    };
    let value = match control.kind {
        Kind::Number { .. } => Value::Number(read_number(json, &control.expectation())?),
        Kind::Switch { .. } => Value::Switch(json.as_bool().ok_or_else(mismatch)?),
        Kind::Choice { .. } => Value::Choice(control.option(json.as_str().ok_or_else(mismatch)?)?),
        Kind::Curve { .. } => {
            let points = json.as_array().ok_or_else(mismatch)?;
            let point = |p: &Json| match p.as_array().map(Vec::as_slice) {
                Some([x, y]) => Some([x.as_f64()?, y.as_f64()?]),
                _ => None,
            };
            Value::Curve(
                points
                    .iter()
                    .map(point)
                    .collect::<Option<_>>()
                    .ok_or_else(mismatch)?,
            )
        }
    };
    control.check(&value)?;
    Ok(value)
}

/// A value in a message: its kind, and itself if it is short.
fn kind_of(value: &Json) -> String {
    match value {
        Json::Null => "null".to_owned(),
        Json::Bool(_) | Json::Number(_) => value.to_string(),
        Json::String(text) if text.chars().count() <= 40 => format!("the text {value}"),
        Json::String(_) => "a long text".to_owned(),
        Json::Array(_) => "a list".to_owned(),
        Json::Object(_) => "an object".to_owned(),
    }
}

fn unknown_key(place: &str, key: &str, known: &[&str]) -> Error {
    let path = if place.is_empty() {
        key.to_owned()
    } else {
        format!("{place}.{key}")
    };
    let hint = match nearest(key, known) {
        Some(id) => format!("did you mean \"{id}\"?"),
        None => format!("known keys are {}", known.join(", ")),
    };
    Error::new(format!("{path}: unknown key; {hint}"))
}
