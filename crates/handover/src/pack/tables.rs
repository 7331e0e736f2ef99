//! A pack's tables, and what the note says of them.

use lookwright_colour::Result;
use lookwright_film::look::Options;
use lookwright_table::Interpolation;
use lookwright_table::health::{Health, Recommendation, Severity, halton};

use sha2::{Digest, Sha256};

use super::findings::Equal;
use super::work::Made;
use super::{Pack, PackLook, manifest};
use crate::baked::{Read, error_of, input_words, output_words, setting};
use crate::chart;
use crate::difference::Difference;
use crate::{Baked, Format, Mapping, Recipe, Split, name, reduce};

/// Grids among which the note recommends one.
const TRIED: [usize; 3] = [17, 33, 65];
/// Colours that tables are held against.
pub(super) const SAMPLE: usize = 1500;

/// A recipe in every format, its picture and health.
pub(super) fn table(pack: &Pack, entry: &PackLook, recipe: &Recipe, made: &mut Made) -> Result<()> {
    let stem = format!("{}/{}", entry.folder(), name::table(&entry.slug, recipe));
    let baked = Baked::new(recipe.clone())?;
    // Ids in order are the endings in order, as they are the same.
    for &format in &pack.formats {
        let path = format!("{stem}.{}", format.id());
        let about = manifest::lattice(recipe, format.id(), baked.accuracy()?);
        made.add(&path, &baked.write(format)?, about)?;
    }
    held(entry, &stem, &baked, made);
    reduction(entry, &stem, &baked, made)?;
    if pack.is_told(recipe) {
        differences(entry, &baked, made)?;
    }
    if pack.is_judged(recipe) {
        health(pack, entry, &baked, made)?;
    }
    Ok(())
}

/// What the table holds, so that equal ones are found.
fn held(entry: &PackLook, stem: &str, baked: &Baked, made: &mut Made) {
    let recipe = baked.recipe();
    let part = format!("{} to {}", name::input(recipe), name::output(recipe));
    let mut hash = Sha256::new();
    hash.update([u8::from(baked.mapping().shaper().is_some())]);
    for value in baked.grid().nodes().iter().flatten() {
        hash.update(value.to_le_bytes());
    }
    made.findings.held.push(Equal {
        held: hash.finalize().into(),
        words: format!("{}, {}, {part}", entry.name(), entry.stock_label()),
        stem: stem.to_owned(),
    });
}

/// What the table is off.
fn differences(entry: &PackLook, baked: &Baked, made: &mut Made) -> Result<()> {
    let recipe = baked.recipe();
    let part = format!("{} to {}", name::input(recipe), name::output(recipe));
    let accuracy = baked.accuracy()?;
    let mut row = |part: &str, how: &str, off: &Difference| {
        made.findings.differences.push(vec![
            entry.name().to_owned(),
            entry.stock_label(),
            part.to_owned(),
            how.to_owned(),
            format!("{:.2}", off.mean),
            format!("{:.2}", off.p99),
            format!("{:.1}", off.mean_codes),
            format!("{:.1}", off.p99_codes),
        ]);
    };
    let mut both = |part: &str, read: &Read| {
        row(part, "by tetrahedra", &read.tetrahedral);
        row(part, "trilinearly", &read.trilinear);
    };
    both(&part, &accuracy.alone);
    if let Some(read) = &accuracy.in_a_row {
        let part = format!("{} to film-scan, then to the screen", name::input(recipe));
        both(&part, read);
    }
    Ok(())
}

/// The ASC CDL, where the table is one.
fn reduction(entry: &PackLook, stem: &str, baked: &Baked, made: &mut Made) -> Result<()> {
    if baked.mapping().shaper().is_some() || baked.recipe().scene.is_some() {
        return Ok(());
    }
    let nearest = reduce::nearest(|code| baked.mapping().exact(code))?;
    if !nearest.is_exact() {
        made.findings.nearest_codes = Some(nearest.largest * 1023.0);
        return Ok(());
    }
    let path = format!("{stem}.cc");
    let recipe = baked.recipe();
    made.add(
        &path,
        &baked.write(Format::Cdl)?,
        manifest::table(recipe, "cdl"),
    )?;
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
        format!("{} to {}", name::input(recipe), name::output(recipe)),
        format!("{:.2}", baked.error(&ordinary)?.p99),
        format!(
            "{:.2}",
            baked.error_read(Interpolation::Trilinear, &ordinary)?.p99
        ),
        match pack.frames.is_empty() || recipe.split == Split::ScanToScreen {
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
    let about = manifest::table(recipe, "health");
    made.add(&path, baked.picture(&health)?.as_bytes(), about)?;
    let words = format!(
        "{}, {}, {} to {}",
        entry.name(),
        entry.stock_label(),
        input_words(recipe),
        output_words(recipe)
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
