//! Plates in a pack: where they go, and what the note says of them. What a plate is: [`crate::plate`].
//!
//! They lie where an editor can reach: after the whole table, or between its two halves.

use std::sync::{Arc, OnceLock};

use lookwright_colour::{Error, Result};
use lookwright_film::look::Options;
use serde_json::{Value, json};

use super::findings::Findings;
use super::work::Made;
use super::{Pack, PackLook, manifest};
use crate::plate::{OverGrey, PlateKind, PlateOn, PlateRecipe, check_size};
use crate::{Split, name};

/// How the name of a gain's table ends.
const GAIN: &str = "_gain.cube";
/// Most plates of a sequence.
const FRAMES_MAX: u32 = 10_000;

/// Grain and dust plates: their size and number. Halation has the frames'.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Plates {
    /// Columns.
    pub width: u32,
    /// Rows.
    pub height: u32,
    /// How many of each.
    pub frames: u32,
}

impl Default for Plates {
    /// A second of 24 frames at 1920 x 1080.
    fn default() -> Self {
        Self {
            width: 1920,
            height: 1080,
            frames: 24,
        }
    }
}

impl Plates {
    pub(super) fn check(self) -> Result<()> {
        check_size((self.width, self.height), 0)?;
        if (1..=FRAMES_MAX).contains(&self.frames) {
            return Ok(());
        }
        Err(Error::new(format!(
            "a pack has 1 to {FRAMES_MAX} plates of a kind; asked for were {}",
            self.frames
        )))
    }
}

/// A file to be made.
pub(super) struct PlateTask {
    recipe: Arc<PlateRecipe>,
    what: What,
    stem: Arc<str>,
    path: String,
}

/// Plates of one look and kind, whose gain is measured once, by whoever comes first.
type Shared = Arc<OnceLock<Result<OverGrey>>>;

enum What {
    /// A grain or dust plate of a number, from 1.
    OverGrey(Shared, u32),
    /// Their gain as a table.
    Gain(Shared),
    /// How they are laid, in words.
    Note(Shared),
    /// Halation of one of the pack's frames.
    OverFrame(usize),
}

/// The plates of a look that has the steps.
pub(super) fn tasks(pack: &Pack, entry: &PackLook) -> Vec<PlateTask> {
    let Some(plates) = pack.plates else {
        return Vec::new();
    };
    let mut tasks = Vec::new();
    for recipe in recipes(pack, entry) {
        let stem: Arc<str> = stem(entry, &recipe).into();
        let recipe = Arc::new(recipe);
        let shared = Shared::default();
        let mut add = |what, ending: String| {
            tasks.push(PlateTask {
                recipe: Arc::clone(&recipe),
                what,
                stem: Arc::clone(&stem),
                path: format!("{stem}{ending}"),
            });
        };
        if recipe.kind == PlateKind::Halation {
            for (place, frame) in pack.frames.iter().enumerate() {
                let ending = format!("_{}-{}.png", place + 1, name::part(&frame.name));
                add(What::OverFrame(place), ending);
            }
            continue;
        }
        for number in 1..=plates.frames {
            let what = What::OverGrey(Arc::clone(&shared), number);
            add(what, format!(".{number:04}.png"));
        }
        add(What::Note(Arc::clone(&shared)), "_blend.txt".to_owned());
        add(What::Gain(shared), GAIN.to_owned());
    }
    tasks
}

/// The kinds of plates that a look has.
fn recipes(pack: &Pack, entry: &PackLook) -> Vec<PlateRecipe> {
    let has_halves = pack.splits.iter().any(|split| *split != Split::Whole);
    let recipe = |kind| PlateRecipe {
        look: entry.look.clone(),
        kind,
        on: match has_halves {
            true => PlateOn::FilmScan,
            false => PlateOn::Picture,
        },
        delivery: pack.delivery(pack.out_ranges[0]),
    };
    [PlateKind::Dust, PlateKind::Grain, PlateKind::Halation]
        .map(recipe)
        .into_iter()
        .filter(PlateRecipe::is_in_look)
        .collect()
}

fn stem(entry: &PackLook, recipe: &PlateRecipe) -> String {
    let folder = entry.folder();
    format!(
        "{folder}/plates/{}_{folder}_{}_on-{}",
        entry.slug,
        recipe.kind.id(),
        recipe.place()
    )
}

impl PlateTask {
    pub(super) fn run(&self, pack: &Pack, made: &mut Made) -> Result<()> {
        let bytes = match &self.what {
            What::OverGrey(shared, number) => self.over_grey(pack, shared)?.plate(*number)?,
            What::Gain(shared) => self.over_grey(pack, shared)?.gain_cube()?,
            What::Note(shared) => self.over_grey(pack, shared)?.note().into_bytes(),
            What::OverFrame(place) => {
                let sample = &pack.frames[*place];
                self.recipe.over_picture(&sample.picture, &sample.frame)?
            }
        };
        made.add(&self.path, &bytes, self.about(pack)?)
    }

    /// What the file is, for the manifest.
    fn about(&self, pack: &Pack) -> Result<Value> {
        let recipe = &self.recipe;
        let display = &recipe.delivery.display;
        let mut about = json!({
            "look": recipe.look.fingerprint(),
            "stock": name::stock(&recipe.look),
            "kind": recipe.kind.id(),
            "on": match recipe.on {
                PlateOn::Picture => manifest::screen(display.screen.id(), display.range),
                PlateOn::FilmScan => manifest::scan(),
            },
            "formula": recipe.formula(),
        });
        let numbers = |values: [f32; 3]| values.map(|v| manifest::rounded(f64::from(v), 6));
        match &self.what {
            What::OverGrey(_, number) => {
                let Plates { width, height, .. } = pack.plates.unwrap_or_default();
                about["role"] = "plate".into();
                about["number"] = (*number).into();
                about["size"] = json!([width, height]);
                about["gain"] = format!("{}{GAIN}", self.stem).into();
            }
            What::OverFrame(place) => {
                about["role"] = "plate".into();
                let frame = &pack.frames[*place];
                about["frame"] = frame.name.clone().into();
                about["size"] = json!([frame.picture.width, frame.picture.height]);
            }
            What::Note(_) => about["role"] = "plate-note".into(),
            What::Gain(shared) => {
                let gain = self.over_grey(pack, shared)?.gain();
                let ramps = gain.ramps();
                let points = gain.points().iter().map(|point| {
                    json!({
                        "stops": point.stops,
                        "code": numbers(point.code),
                        "gain": numbers(point.gain),
                    })
                });
                about["role"] = "plate-gain".into();
                about["points"] = points.collect();
                about["expression_off"] = manifest::rounded(f64::from(gain.most_off(&ramps)), 4);
                about["expression"] = ramps.map(|ramps| ramps.to_string()).to_vec().into();
            }
        }
        Ok(about)
    }

    fn over_grey<'a>(&self, pack: &Pack, shared: &'a Shared) -> Result<&'a OverGrey> {
        let Plates { width, height, .. } = pack.plates.unwrap_or_default();
        let measured = shared.get_or_init(|| OverGrey::new(&self.recipe, (width, height)));
        measured.as_ref().map_err(Error::clone)
    }
}

/// What the note says of the plates: a row for each look and step.
pub(super) fn tell(pack: &Pack, entries: &[PackLook], findings: &mut Findings) {
    let Some(plates) = pack.plates else {
        return;
    };
    for entry in entries {
        for recipe in recipes(pack, entry) {
            let stem = stem(entry, &recipe);
            let Plates {
                width,
                height,
                frames,
            } = plates;
            let is_halation = recipe.kind == PlateKind::Halation;
            if is_halation && pack.frames.is_empty() {
                continue;
            }
            let (path, what) = match is_halation {
                true => (
                    format!("{stem}_....png"),
                    format!(
                        "{}: each for the frame in its name and no other",
                        pack.frames.len()
                    ),
                ),
                false => (
                    format!("{stem}.0001.png ..."),
                    format!(
                        "{frames} of {width} x {height}, with _gain.cube and _blend.txt: run them \
                         at the clip's frame rate"
                    ),
                ),
            };
            let how = recipe.formula().to_owned();
            findings
                .plates
                .push(vec![path, what, recipe.place_words(), how]);
        }
    }
}

#[cfg(test)]
mod tests;
