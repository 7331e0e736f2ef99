//! Making a pack: tasks in a fixed order, done by whoever there is, put into the zip in that order.

use std::io::{Cursor, Seek, Write};

use lookwright_colour::encoding::{EncodingId, Range};
use lookwright_colour::{Error, Result};
use lookwright_film::look::CodeRange;
use lookwright_render::Workers;
use serde_json::{Value, json};

use super::archive::{Archive, Part};
use super::findings::Findings;
use super::plates::{self, PlateTask};
use super::sheet::{self, Sheet};
use super::{Pack, PackLook, Step, tables};
use super::{charts, config, manifest, note};
use crate::{Recipe, Split, name};

pub(super) fn run<W: Write + Seek>(
    pack: &Pack,
    workers: &impl Workers,
    out: W,
    mut step: impl FnMut(Step<'_>) -> bool,
) -> Result<W> {
    let entries = pack.entries();
    let tasks = tasks(pack, &entries);
    let total = tasks.iter().map(|task| task.files(pack, &entries)).sum();
    let mut archive = Archive::new(out);
    let mut findings = Findings::default();
    let mut done = 0;
    let work = |index: usize| -> Result<(Part, Findings)> {
        let mut made = Made::new();
        tasks[index].run(pack, &entries, &mut made)?;
        Ok((made.archive.into_part()?, made.findings))
    };
    workers.each(tasks.len(), work, |_, made| {
        let (part, found) = made?;
        // An ASC CDL is a bonus: whether there is one is not known before.
        for path in part.paths().filter(|path| !path.ends_with(".cc")) {
            if !step(Step { done, total, path }) {
                return Err(Error::new("the pack was given up"));
            }
            done += 1;
        }
        archive.absorb(part)?;
        findings.add(found);
        Ok(())
    })?;
    plates::tell(pack, &entries, &mut findings);
    let page = note::document(pack, &entries, &findings, archive.sums())?;
    archive.add("README.html", page.to_html().as_bytes())?;
    archive.add("README.txt", page.to_text().as_bytes())?;
    let manifest = manifest::text(pack, &entries, &findings, archive.sums())?;
    archive.add("manifest.json", manifest.as_bytes())?;
    let lines = archive.sums().iter();
    let sums: String = lines
        .map(|sum| format!("{}  {}\n", sum.sha256, sum.path))
        .collect();
    archive.add("SHA256SUMS", sums.as_bytes())?;
    archive.finish()
}

/// What a task makes.
pub(super) struct Made {
    pub(super) archive: Archive<Cursor<Vec<u8>>>,
    pub(super) findings: Findings,
}

impl Made {
    fn new() -> Self {
        Self {
            archive: Archive::new(Cursor::new(Vec::new())),
            findings: Findings::default(),
        }
    }

    /// Adds a file, and what it is.
    pub(super) fn add(&mut self, path: &str, bytes: &[u8], about: Value) -> Result<()> {
        self.findings.files.insert(path.to_owned(), about);
        self.archive.add(path, bytes)
    }
}

/// A piece of work that needs no other.
enum Task {
    /// A look file.
    Look(usize),
    /// A recipe in every format, its picture and health.
    Table { entry: usize, recipe: Box<Recipe> },
    /// A test chart and what has to come of it.
    Chart(EncodingId, Range),
    /// A grain, dust or halation plate, or what belongs to it.
    Plate(PlateTask),
    /// A contact sheet.
    Sheet(Sheet),
    /// The OpenColorIO configuration and its curves.
    Config,
}

/// The tasks, in the order of the files.
fn tasks(pack: &Pack, entries: &[PackLook]) -> Vec<Task> {
    let mut tasks = Vec::new();
    for (index, entry) in entries.iter().enumerate() {
        tasks.push(Task::Look(index));
        tasks.extend(pack.recipes(entry).into_iter().map(|recipe| Task::Table {
            entry: index,
            recipe: Box::new(recipe),
        }));
        let plates = plates::tasks(pack, entry);
        tasks.extend(plates.into_iter().map(Task::Plate));
    }
    for &encoding in &pack.encodings {
        let ranges = pack.ranges_of(encoding).iter();
        tasks.extend(ranges.map(|range| Task::Chart(encoding, *range)));
    }
    let sheets = sheet::sheets(pack.frames.len(), entries.len());
    tasks.extend(sheets.into_iter().map(Task::Sheet));
    tasks.push(Task::Config);
    tasks
}

impl Task {
    /// How many files it makes, an ASC CDL left out.
    fn files(&self, pack: &Pack, entries: &[PackLook]) -> usize {
        match self {
            Self::Look(_) | Self::Plate(_) | Self::Sheet(_) => 1,
            Self::Table { recipe, .. } => pack.formats.len() + usize::from(pack.is_judged(recipe)),
            Self::Config => config::files(pack),
            Self::Chart(..) => 3 + entries.len() * pack.out_ranges.len(),
        }
    }

    fn run(&self, pack: &Pack, entries: &[PackLook], made: &mut Made) -> Result<()> {
        match self {
            Self::Look(entry) => {
                let entry = &entries[*entry];
                let folder = entry.folder();
                let path = format!("{folder}/{}_{folder}.json", entry.slug);
                let about = json!({ "role": "look", "look": entry.look.fingerprint() });
                made.add(&path, entry.look.pretty().as_bytes(), about)
            }
            Self::Table { entry, recipe } => tables::table(pack, &entries[*entry], recipe, made),
            Self::Chart(encoding, range) => charts::chart(pack, entries, *encoding, *range, made),
            Self::Plate(task) => task.run(pack, made),
            Self::Sheet(sheet) => sheet.run(pack, entries, made),
            Self::Config => config::write(pack, entries, made),
        }
    }
}

impl Pack {
    /// What is baked for a look, in the order of the files' names.
    pub(super) fn recipes(&self, entry: &PackLook) -> Vec<Recipe> {
        let recipe = |encoding, range, out_range, split| Recipe {
            look: entry.look.clone(),
            encoding,
            range,
            delivery: self.delivery(out_range),
            split,
            scene: None,
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
        for &scene in &self.scene {
            for &encoding in &self.encodings {
                for &range in self.ranges_of(encoding) {
                    recipes.push(Recipe {
                        scene: Some(scene),
                        ..recipe(encoding, range, self.out_ranges[0], Split::Whole)
                    });
                }
            }
        }
        recipes.sort_by_cached_key(|recipe| name::table(&entry.slug, recipe));
        recipes
    }

    /// Whether a recipe is among those whose health the note tells: scene code is no picture to judge.
    pub(super) fn is_judged(&self, recipe: &Recipe) -> bool {
        recipe.scene.is_none() && self.is_told(recipe)
    }

    /// Whether a recipe is among those that the note tells the errors of: of several ranges the first, which
    /// says it for all.
    pub(super) fn is_told(&self, recipe: &Recipe) -> bool {
        let goes_in = recipe.split == Split::ScanToScreen
            || self.ranges_of(recipe.encoding)[0] == recipe.range;
        goes_in && self.out_ranges[0] == recipe.delivery.display.range
    }
}
