//! `lookwright match`: the moves that bring a picture to what a still looks like.

use anyhow::{Context, Result};
use lookwright_film::look::{Look, Options};
use lookwright_render::judge::{MatchedMove, StillMatch, match_still};
use serde_json::json;

use crate::args::{FrameArgs, MatchArgs};
use crate::output::one_place;
use crate::reading::Reading;
use crate::{files, settings};

pub(crate) fn run(args: &MatchArgs) -> Result<()> {
    let mut read = vec![args.picture.as_path(), args.still.as_path()];
    read.extend(args.look.as_deref());
    let place = args
        .output
        .as_ref()
        .map(|path| one_place(path, &read, &args.writing));
    let place = place.transpose()?;
    let look = match &args.look {
        Some(path) => files::read_look(path)?,
        None => Look::default(),
    };
    let picture = files::read_picture(&args.picture)?;
    let still = files::read_picture(&args.still)?;
    let of = |path: &std::path::Path| path.display().to_string();
    let frame = Reading::of_one(&args.frame, &picture, &of(&args.picture))?;
    let frame = settings::frame(&args.frame, frame)?;
    let plain = FrameArgs::of_encoding(args.still_from);
    let of_still = Reading::of_one(&plain, &still, &of(&args.still))?;
    let of_still = settings::frame(&plain, of_still)?;
    let found = match_still(
        &picture.small(),
        &frame,
        &look,
        &still.small(),
        &of_still,
        args.closely,
    )
    .with_context(|| of(&args.still))?;
    if let Some(place) = place {
        place.write(found.look.pretty().as_bytes())?;
    }
    if args.json {
        let text = serde_json::to_string_pretty(&as_json(&found))?;
        return files::print(&format!("{text}\n"));
    }
    files::print(&said(&found))
}

fn said(found: &StillMatch) -> String {
    let mut lines: Vec<String> = found.moves.iter().map(line).collect();
    if lines.is_empty() {
        lines.push("The still asks for no move that would be worth its place.".to_owned());
    }
    let [before, after] = found.distance;
    lines.push(if found.same_picture {
        format!("It shows the same picture: {before:.1} dE2000 apart before, {after:.1} after.")
    } else {
        format!("It shows another picture: tones and colours {before:.0} apart before, {after:.0} after.")
    });
    lines.push(format!(
        "{:.0} % of this is said by the pictures, the rest by what looks usually do.",
        100.0 * found.sure
    ));
    lines.extend(found.left.iter().cloned());
    lines.join("\n") + "\n"
}

fn line(moved: &MatchedMove) -> String {
    let [from, to] = moved.values.map(plain);
    let error = moved
        .error
        .map_or(String::new(), |error| format!(" (\u{b1} {})", plain(error)));
    let [step, control] = moved.labels;
    let label = if step == control {
        step.to_owned()
    } else {
        format!("{step}, {}", control.to_lowercase())
    };
    let unit = match moved.unit {
        "" => String::new(),
        unit => format!(" {unit}"),
    };
    format!("{label:32} {from} to {to}{unit}{error}")
}

/// Three figures at most.
fn plain(value: f64) -> String {
    let places = match value.abs() {
        size if size >= 100.0 => 0,
        size if size >= 10.0 => 1,
        size if size >= 0.1 || size == 0.0 => 2,
        _ => 4,
    };
    format!("{value:.places$}")
}

fn as_json(found: &StillMatch) -> serde_json::Value {
    let moves: Vec<_> = found
        .moves
        .iter()
        .map(|moved| {
            json!({
                "stage": moved.stage.id(),
                "step": moved.step,
                "control": moved.control,
                "unit": moved.unit,
                "from": moved.values[0],
                "to": moved.values[1],
                "error": moved.error,
            })
        })
        .collect();
    json!({
        "moves": moves,
        "same_picture": found.same_picture,
        "distance": { "before": found.distance[0], "after": found.distance[1] },
        "sure": found.sure,
        "left": found.left,
        "fingerprint": found.look.fingerprint(),
    })
}
