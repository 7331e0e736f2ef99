//! `lookwright encodings`: what pictures may come in and be shown in.

use anyhow::Result;
use lookwright_colour::encoding::{EncodingClass, EncodingId, ScreenId};
use lookwright_colour::space::Primaries;
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
    }
    text.push_str("\nScreens, for --to:\n");
    for entry in &screens {
        text.push_str(&line(entry));
    }
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

fn encoding(id: EncodingId) -> Value {
    let info = id.info();
    let class = match info.class {
        EncodingClass::Log => "log",
        EncodingClass::SceneLinear => "scene-linear",
        EncodingClass::Display => "display",
        EncodingClass::Scan => "scan",
    };
    let mut entry = entry(info.id, info.label, &info.primaries, info.source);
    entry["class"] = class.into();
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
