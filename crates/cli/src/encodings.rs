//! `lookwright encodings`: what pictures may come in and be shown in.

use anyhow::Result;
use lookwright_colour::encoding::{Encoding, EncodingClass, EncodingId, ScreenId};
use lookwright_colour::space::Primaries;
use lookwright_handover::SAME_CODES;
use serde_json::{Value, json};

use crate::args::EncodingsArgs;
use crate::files::print;

pub(crate) fn run(args: &EncodingsArgs) -> Result<()> {
    let encodings: Vec<Value> = EncodingId::ALL.iter().map(|id| encoding(*id)).collect();
    let screens: Vec<Value> = ScreenId::ALL.iter().map(|id| screen(*id)).collect();
    if args.json {
        let both = json!({ "encodings": encodings, "screens": screens });
        return print(&format!("{}\n", serde_json::to_string_pretty(&both)?));
    }
    let mut text = String::from("Encodings, for --from\n");
    for (class, what) in [
        ("log", "Scene light on a curve: camera log, ACES log, HDR"),
        ("scene-linear", "Scene light as it is"),
        ("display", "Pictures made for a screen"),
        (
            "scan",
            "Film scans: printing density, which enters the look at the scan",
        ),
    ] {
        text.push_str(&format!("\n{what}:\n"));
        for entry in encodings.iter().filter(|entry| entry["class"] == class) {
            text.push_str(&line(entry));
        }
        text.push_str(&alike(class));
    }
    text.push_str("\nScreens, for --to:\n");
    for entry in &screens {
        text.push_str(&line(entry));
    }
    text.push_str(&format!("  {SAME_CODES}\n"));
    print(&text)
}

fn line(entry: &Value) -> String {
    let word = |key: &str| entry[key].as_str().unwrap_or_default().to_owned();
    let white = &entry["white"];
    format!(
        "  {:<24} {:<50} white {:.5}, {:.5}   {}\n",
        word("id"),
        word("label"),
        white[0].as_f64().unwrap_or_default(),
        white[1].as_f64().unwrap_or_default(),
        word("source")
    )
}

/// Which of a class share a curve, and so differ in gamut alone.
fn alike(class: &str) -> String {
    let of_class = |id: &&EncodingId| class_id(id.info().class) == class;
    let mut groups: Vec<Vec<&Encoding>> = Vec::new();
    for id in EncodingId::ALL.iter().filter(of_class) {
        let info = id.info();
        match groups.iter_mut().find(|group| group[0].curve == info.curve) {
            Some(group) => group.push(info),
            None => groups.push(vec![info]),
        }
    }
    let mut text = String::new();
    for group in groups.iter().filter(|group| group.len() > 1) {
        let ids: Vec<_> = group.iter().map(|info| info.id).collect();
        text.push_str(&format!(
            "  One curve, and so the same greys; they differ in gamut or how its white is adapted: {}.\n",
            ids.join(", ")
        ));
    }
    text
}

fn class_id(class: EncodingClass) -> &'static str {
    match class {
        EncodingClass::Log => "log",
        EncodingClass::SceneLinear => "scene-linear",
        EncodingClass::Display => "display",
        EncodingClass::Scan => "scan",
    }
}

fn encoding(id: EncodingId) -> Value {
    let info = id.info();
    let (recorded, source) = id.recorded();
    let mut entry = entry(info.id, info.label, &info.primaries, info.source);
    entry["class"] = class_id(info.class).into();
    entry["recorded"] = json!({ "how": recorded.id(), "source": source });
    entry
}

fn screen(id: ScreenId) -> Value {
    let info = id.info();
    entry(info.id, info.label, &info.primaries, info.source)
}

fn entry(id: &str, label: &str, primaries: &Primaries, source: &str) -> Value {
    let gamut: Vec<_> = primaries.rgb().iter().map(|p| [p.x, p.y]).collect();
    let white = primaries.white();
    json!({
        "id": id, "label": label, "gamut": gamut, "white": [white.x, white.y], "source": source,
    })
}
