//! A pack's tables and charts, and what the note says of them.

use lookwright_colour::Result;
use lookwright_colour::encoding::{EncodingId, Range};
use lookwright_film::look::Options;
use lookwright_table::Interpolation;
use lookwright_table::health::{Health, Recommendation, Severity, halton};

use super::work::Made;
use super::{Pack, PackLook};
use crate::baked::{error_of, input_words, output_words, setting};
use crate::chart::{self, Chart};
use crate::{Baked, Format, Mapping, Recipe, Split, name, reduce};

/// Grids among which the note recommends one.
const TRIED: [usize; 3] = [17, 33, 65];
/// Colours that tables are held against.
pub(super) const SAMPLE: usize = 1500;

/// A recipe in every format, its picture and health.
pub(super) fn table(pack: &Pack, entry: &PackLook, recipe: &Recipe, made: &mut Made) -> Result<()> {
    let stem = format!("{}/{}", entry.folder(), name::table(&entry.slug, recipe));
    let baked = Baked::new(recipe.clone())?;
    // Ids in order are the endings in order: clf, cube, png.
    for &format in &pack.formats {
        let path = format!("{stem}.{}", format.id());
        made.archive.add(&path, &baked.write(format)?)?;
    }
    reduction(entry, &stem, &baked, made)?;
    if pack.is_judged(recipe) {
        health(pack, entry, &baked, made)?;
    }
    Ok(())
}

/// The ASC CDL, where the table is one.
fn reduction(entry: &PackLook, stem: &str, baked: &Baked, made: &mut Made) -> Result<()> {
    if baked.mapping().shaper().is_some() {
        return Ok(());
    }
    let nearest = reduce::nearest(|code| baked.mapping().exact(code))?;
    if !nearest.is_exact() {
        made.findings.nearest_codes = Some(nearest.largest * 1023.0);
        return Ok(());
    }
    let path = format!("{stem}.cc");
    made.archive.add(&path, &baked.write(Format::Cdl)?)?;
    let recipe = baked.recipe();
    made.findings.reductions.push(vec![
        entry.name().to_owned(),
        entry.stock_label(),
        format!("{} to {}", name::input(recipe), name::output(recipe)),
        path,
    ]);
    Ok(())
}

/// How a whole table stands to its look.
fn health(pack: &Pack, entry: &PackLook, baked: &Baked, made: &mut Made) -> Result<()> {
    let recipe = baked.recipe();
    let mapping = baked.mapping();
    let ordinary = baked.ordinary(SAMPLE)?;
    let choice = recommended(baked, &ordinary)?;
    let health = baked.health(&halton(SAMPLE))?;
    made.findings.health.push(vec![
        entry.name().to_owned(),
        entry.stock_label(),
        name::input(recipe),
        format!("{:.2}", baked.error(&ordinary)?.p99),
        format!(
            "{:.2}",
            baked.error_read(Interpolation::Trilinear, &ordinary)?.p99
        ),
        match pack.frames.is_empty() {
            true => "-".to_owned(),
            false => format!(
                "{:.2}",
                baked.error(&of_frames(pack, mapping, recipe)?)?.p99
            ),
        },
        format!("{:.2}", health.error.map_or(0.0, |error| error.p99)),
        match choice.good {
            true => choice.size.to_string(),
            false => format!("{} (best)", choice.size),
        },
        worst_words(&health),
    ]);
    let path = format!("health/{}.svg", name::table(&entry.slug, recipe));
    made.archive
        .add(&path, baked.picture(&health)?.as_bytes())?;
    let words = format!(
        "{}, {}, {}",
        entry.name(),
        entry.stock_label(),
        input_words(recipe)
    );
    made.findings.health_pictures.push((path, words));
    Ok(())
}

/// The smallest grid that will do; larger ones are not tried then.
fn recommended(baked: &Baked, places: &[[f32; 3]]) -> Result<Recommendation> {
    let (mapping, how) = (baked.mapping(), Interpolation::Tetrahedral);
    let setting = setting(baked.recipe());
    let mut choice = Recommendation::of(Vec::new());
    for size in TRIED {
        let error = match size == baked.grid().size() {
            true => baked.error(places)?,
            false => error_of(&mapping.fitted(size)?, how, mapping, setting, places)?,
        };
        choice.tried.push((size, error));
        choice = Recommendation::of(choice.tried);
        if choice.good {
            break;
        }
    }
    Ok(choice)
}

fn worst_words(health: &Health) -> String {
    match (health.worst(), health.findings.first()) {
        (Severity::Info, _) | (_, None) => "none".to_owned(),
        (severity, Some(finding)) => format!("{}: {}", severity.id(), finding.what),
    }
}

/// Where the colours of the pack's frames stand on a recipe's lattice, had they been recorded in
/// its encoding.
fn of_frames(pack: &Pack, mapping: &Mapping, recipe: &Recipe) -> Result<Vec<[f32; 3]>> {
    let mut inputs = Vec::new();
    for frame in &pack.frames {
        let scene = frame.scene_light();
        inputs.extend(chart::encoded(&scene, recipe.encoding, recipe.range)?);
    }
    Ok(mapping.places(inputs))
}

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
    made.archive
        .add(&format!("{folder}/chart.{ending}"), &bytes)?;
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
            let path = format!(
                "{folder}/expected_{}_{}_{}.png",
                entry.slug,
                entry.folder(),
                name::output(&recipe)
            );
            let expected = chart.expected(&Mapping::new(&recipe)?, &recipe)?;
            made.archive.add(&path, &expected)?;
            made.findings.charts.push(told(entry, &chart, recipe)?);
        }
    }
    Ok(())
}

/// A chart's row in the note: mid-grey, and how far the table is off at most.
fn told(entry: &PackLook, chart: &Chart, recipe: Recipe) -> Result<Vec<String>> {
    let is_light = recipe.takes_scene_light();
    let (input, output) = (input_words(&recipe), output_words(&recipe));
    let baked = Baked::new(recipe)?;
    let mut largest = 0.0_f32;
    for &patch in chart.patches() {
        let (table, exact) = (baked.apply(patch), baked.mapping().exact(patch));
        for channel in 0..3 {
            largest = largest.max((table[channel] - exact[channel]).abs());
        }
    }
    let grey = chart.mid_grey();
    let out = baked.mapping().exact(grey);
    Ok(vec![
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
        format!("{:.1}", largest * 1023.0),
    ])
}
