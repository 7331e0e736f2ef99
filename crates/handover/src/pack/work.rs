//! Making a pack, file after file in a fixed order.

use std::io::{Seek, Write};

use lookwright_core::encoding::{EncodingId, Range};
use lookwright_core::look::{CodeRange, Options};
use lookwright_core::table::health::{Recommendation, Severity, halton};
use lookwright_core::{Error, Result};
use lookwright_picture::Version;

use super::archive::Archive;
use super::note::{self, Findings};
use super::{Pack, PackLook, Step};
use crate::baked::{error_of, input_words, output_words, setting};
use crate::chart::{self, Chart};
use crate::{Baked, Format, Mapping, Recipe, Split, name, reduce};

/// Grids among which the note recommends one.
const TRIED: [usize; 3] = [17, 33, 65];
/// Colours that tables are held against.
const SAMPLE: usize = 1500;

pub(super) fn run<W: Write + Seek>(
    pack: &Pack,
    out: W,
    step: impl FnMut(Step<'_>) -> bool,
) -> Result<W> {
    let entries = pack.entries();
    let mut work = Work {
        pack,
        archive: Archive::new(out),
        findings: Findings::default(),
        step,
        done: 0,
        total: total(pack, &entries),
    };
    for entry in &entries {
        work.look(entry)?;
    }
    work.charts(&entries)?;
    work.contact_sheet(&entries)?;
    let page = note::document(pack, &entries, work.findings, work.archive.sums());
    work.archive.add("README.html", page.to_html().as_bytes())?;
    work.archive.add("README.txt", page.to_text().as_bytes())?;
    work.archive.finish()
}

fn total(pack: &Pack, entries: &[PackLook]) -> usize {
    let inputs: usize = pack
        .encodings
        .iter()
        .map(|e| pack.ranges_of(*e).len())
        .sum();
    let per_look = pack.recipes(&entries[0]).len() * pack.formats.len() + 1;
    let charts = inputs * (1 + entries.len() * pack.out_ranges.len());
    entries.len() * (per_look + pack.frames.len()) + charts + pack.frames.len()
}

impl Pack {
    /// What is baked for a look, in the order of the files' names.
    fn recipes(&self, entry: &PackLook) -> Vec<Recipe> {
        let recipe = |encoding, range, out_range, split| Recipe {
            look: entry.look.clone(),
            encoding,
            range,
            delivery: self.delivery(out_range),
            split,
            grid: self.grid,
        };
        let mut recipes = Vec::new();
        for &split in &self.splits {
            if split == Split::ScanToScreen {
                let one = |out: &CodeRange| recipe(self.encodings[0], Range::Full, *out, split);
                recipes.extend(self.out_ranges.iter().map(one));
                continue;
            }
            let out_ranges = match split {
                Split::Whole => &self.out_ranges[..],
                _ => &self.out_ranges[..1],
            };
            for &encoding in &self.encodings {
                for &range in self.ranges_of(encoding) {
                    let one = |out: &CodeRange| recipe(encoding, range, *out, split);
                    recipes.extend(out_ranges.iter().map(one));
                }
            }
        }
        recipes.sort_by_cached_key(|recipe| name::table(&entry.slug, recipe));
        recipes
    }
}

struct Work<'p, W: Write + Seek, F> {
    pack: &'p Pack,
    archive: Archive<W>,
    findings: Findings,
    step: F,
    done: usize,
    total: usize,
}

impl<W: Write + Seek, F: FnMut(Step<'_>) -> bool> Work<'_, W, F> {
    /// Tells that a file is next.
    fn next(&mut self, path: &str) -> Result<()> {
        let step = Step {
            done: self.done,
            total: self.total,
            path,
        };
        self.done += 1;
        if (self.step)(step) {
            Ok(())
        } else {
            Err(Error::new("the pack was given up"))
        }
    }

    /// A look file and all its tables.
    fn look(&mut self, entry: &PackLook) -> Result<()> {
        let folder = entry.folder();
        let path = format!("{folder}/{}_{folder}.json", entry.slug);
        self.next(&path)?;
        self.archive.add(&path, entry.look.pretty().as_bytes())?;
        for recipe in self.pack.recipes(entry) {
            let stem = format!("{folder}/{}", name::table(&entry.slug, &recipe));
            let baked = Baked::new(recipe)?;
            // Ids in order are the endings in order: clf, cube, png.
            for &format in &self.pack.formats {
                let path = format!("{stem}.{}", format.id());
                self.next(&path)?;
                self.archive.add(&path, &baked.write(format)?)?;
            }
            self.reduction(entry, &stem, &baked)?;
            self.health(entry, &baked)?;
        }
        Ok(())
    }

    /// The ASC CDL, where the table is one.
    fn reduction(&mut self, entry: &PackLook, stem: &str, baked: &Baked) -> Result<()> {
        if baked.mapping().shaper().is_some() {
            return Ok(());
        }
        let nearest = reduce::nearest(|code| baked.mapping().exact(code))?;
        if !nearest.is_exact() {
            let codes = nearest.largest * 1023.0;
            let least = self.findings.nearest_codes.map_or(codes, |c| c.min(codes));
            self.findings.nearest_codes = Some(least);
            return Ok(());
        }
        let path = format!("{stem}.cc");
        self.archive.add(&path, &baked.write(Format::Cdl)?)?;
        let recipe = baked.recipe();
        self.findings.reductions.push(vec![
            entry.name().to_owned(),
            entry.stock_label().to_owned(),
            format!("{} to {}", name::input(recipe), name::output(recipe)),
            path,
        ]);
        Ok(())
    }

    /// How a whole table stands to its look. One range says it for all.
    fn health(&mut self, entry: &PackLook, baked: &Baked) -> Result<()> {
        let recipe = baked.recipe();
        let first_range = self.pack.ranges_of(recipe.encoding)[0] == recipe.range
            && self.pack.out_ranges[0] == recipe.delivery.display.range;
        if recipe.split != Split::Whole || !first_range {
            return Ok(());
        }
        let mapping = baked.mapping();
        let any = halton(SAMPLE);
        let mut ordinary = chart::ordinary(SAMPLE, recipe.encoding, recipe.range)?;
        if let Some(shaper) = mapping.shaper() {
            for value in ordinary.iter_mut().flatten() {
                *value = shaper.encode(*value);
            }
        }
        let mut tried = Vec::new();
        for size in TRIED {
            let grid = mapping.sample(size)?;
            tried.push((size, error_of(&grid, mapping, setting(recipe), &ordinary)?));
        }
        let choice = Recommendation::of(tried);
        let health = baked.health(&any)?;
        let worst = match (health.worst(), health.findings.first()) {
            (Severity::Info, _) | (_, None) => "none".to_owned(),
            (severity, Some(finding)) => format!("{}: {}", severity.id(), finding.what),
        };
        self.findings.health.push(vec![
            entry.name().to_owned(),
            entry.stock_label().to_owned(),
            name::input(recipe),
            format!("{:.2}", baked.error(&ordinary)?.p99),
            format!("{:.2}", health.error.map_or(0.0, |error| error.p99)),
            match choice.good {
                true => choice.size.to_string(),
                false => format!("{} (best)", choice.size),
            },
            worst,
        ]);
        Ok(())
    }

    /// Test charts and what has to come of them.
    fn charts(&mut self, entries: &[PackLook]) -> Result<()> {
        for &encoding in &self.pack.encodings {
            for &range in self.pack.ranges_of(encoding) {
                self.chart(encoding, range, entries)?;
            }
        }
        Ok(())
    }

    fn chart(&mut self, encoding: EncodingId, range: Range, entries: &[PackLook]) -> Result<()> {
        let chart = Chart::new(encoding, range)?;
        let folder = format!("test-charts/{}-{}", encoding.id(), range.id());
        let (ending, bytes) = chart.file()?;
        let path = format!("{folder}/chart.{ending}");
        self.next(&path)?;
        self.archive.add(&path, &bytes)?;
        for entry in entries {
            for &out_range in &self.pack.out_ranges {
                let recipe = Recipe {
                    look: entry.look.clone(),
                    encoding,
                    range,
                    delivery: self.pack.delivery(out_range),
                    split: Split::Whole,
                    grid: self.pack.grid,
                };
                let path = format!(
                    "{folder}/expected_{}_{}_{}.png",
                    entry.slug,
                    entry.folder(),
                    name::output(&recipe)
                );
                self.next(&path)?;
                let expected = chart.expected(&Mapping::new(&recipe)?, &recipe)?;
                self.archive.add(&path, &expected)?;
                self.findings.charts.push(told(entry, &chart, recipe)?);
            }
        }
        Ok(())
    }

    /// Small pictures of the frames, as they were and through each look.
    fn contact_sheet(&mut self, entries: &[PackLook]) -> Result<()> {
        for (index, frame) in self.pack.frames.iter().enumerate() {
            let small = frame.small();
            let stem = format!("contact-sheet/{}-{}", index + 1, name::part(&frame.name));
            let path = format!("{stem}_before.jpg");
            self.next(&path)?;
            let before = small.shown(&entries[0].look, Version::Unstyled)?;
            self.archive.add(&path, &before)?;
            let words = format!("{}, as the camera saw it", frame.name);
            self.findings.pictures.push((path, words));
            for entry in entries {
                let path = format!("{stem}_{}_{}.jpg", entry.slug, entry.folder());
                self.next(&path)?;
                let after = small.shown(&entry.look, Version::Styled)?;
                self.archive.add(&path, &after)?;
                let words = format!("{}, {}, {}", frame.name, entry.name(), entry.stock_label());
                self.findings.pictures.push((path, words));
            }
        }
        Ok(())
    }
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
        entry.stock_label().to_owned(),
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
