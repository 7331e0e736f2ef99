//! A pack's test charts, what has to come of them, and what the note says of them.

use lookwright_colour::Result;
use lookwright_colour::encoding::{EncodingId, Range};
use serde_json::json;

use super::work::Made;
use super::{Pack, PackLook, is_light, manifest};
use crate::baked::{input_words, output_words};
use crate::chart::{Chart, Expected, codes_per_stop};
use crate::{Baked, Mapping, Recipe, Split, name};

/// Columns of the greys in whole stops.
const GREYS: usize = 12;

/// A test chart and what has to come of it.
pub(super) fn chart(
    pack: &Pack,
    entries: &[PackLook],
    encoding: EncodingId,
    range: Range,
    made: &mut Made,
) -> Result<()> {
    let chart = Chart::new(encoding, range)?;
    let folder = format!("test-charts/{}-{}", encoding.id(), range.id());
    let (ending, bytes) = chart.file()?;
    let input = json!({ "encoding": encoding.id(), "range": range.id() });
    let about = |role: &str| json!({ "role": role, "input": input });
    let file = format!("chart.{ending}");
    made.add(&format!("{folder}/{file}"), &bytes, about("chart"))?;
    let mut all = Vec::new();
    for entry in entries {
        for &out_range in &pack.out_ranges {
            let recipe = Recipe {
                look: entry.look.clone(),
                encoding,
                range,
                delivery: pack.delivery(out_range),
                split: Split::Whole,
                scene: None,
                grid: pack.grid,
            };
            let picture = format!(
                "expected_{}_{}_{}.png",
                entry.slug,
                entry.folder(),
                name::output(&recipe)
            );
            let mapping = Mapping::new(&recipe)?;
            let mut about = manifest::table(&recipe, "expected");
            let (row, off) = told(entry, &chart, &recipe)?;
            let grey = chart.mid_grey();
            let told = |values: [f32; 3]| values.map(|v| manifest::rounded(f64::from(v), 6));
            about["mid_grey"] = json!({ "in": told(grey), "out": told(mapping.exact(grey)) });
            about["largest_off_codes"] = manifest::rounded(f64::from(off), 2);
            let bytes = chart.expected(&mapping, &recipe)?;
            made.add(&format!("{folder}/{picture}"), &bytes, about.clone())?;
            made.findings.charts.push(row);
            let codes = chart.patches().iter().map(|&patch| mapping.exact(patch));
            all.push(Expected {
                file: picture,
                about,
                codes: codes.collect(),
            });
        }
    }
    let values = format!("{:#}\n", chart.to_json(&file, &all)?);
    let path = format!("{folder}/chart.json");
    made.add(&path, values.as_bytes(), about("chart-values"))?;
    let text = chart.to_text(&all)?;
    let path = format!("{folder}/chart.txt");
    made.add(&path, text.as_bytes(), about("chart-values"))?;
    made.findings.greys.push(greys(&chart, encoding, range)?);
    Ok(())
}

/// The greys in whole stops in an encoding's own codes, and how many a stop is.
fn greys(chart: &Chart, encoding: EncodingId, range: Range) -> Result<Vec<String>> {
    let mut row = vec![
        format!("{}-{}", encoding.id(), range.id()),
        match codes_per_stop(encoding, range)? {
            Some(codes) => format!("{codes:.1}"),
            None => "x 2".to_owned(),
        },
    ];
    row.extend(
        chart.patches()[..GREYS]
            .iter()
            .map(|patch| match is_light(encoding) {
                true => format!("{:.4}", patch[1]),
                false => format!("{:.1}", patch[1] * 1023.0),
            }),
    );
    Ok(row)
}

/// A chart's row in the note: mid-grey, and how far the table is off at most.
fn told(entry: &PackLook, chart: &Chart, recipe: &Recipe) -> Result<(Vec<String>, f32)> {
    let is_light = recipe.takes_scene_light();
    let (input, output) = (input_words(recipe), output_words(recipe));
    let baked = Baked::new(recipe.clone())?;
    let mut largest = 0.0_f32;
    for &patch in chart.patches() {
        let (table, exact) = (baked.apply(patch), baked.mapping().exact(patch));
        for channel in 0..3 {
            largest = largest.max((table[channel] - exact[channel]).abs());
        }
    }
    let grey = chart.mid_grey();
    let out = baked.mapping().exact(grey);
    let largest = largest * 1023.0;
    let row = vec![
        entry.name().to_owned(),
        entry.stock_label(),
        input,
        output,
        if is_light {
            format!("{:.3}", grey[1])
        } else {
            format!("{:.1} of 1023", grey[1] * 1023.0)
        },
        out.map(|v| format!("{:.1}", v * 1023.0)).join(" "),
        format!("{largest:.1}"),
    ];
    Ok((row, largest))
}
