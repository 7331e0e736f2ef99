//! The hand-over pack: a zip that an editor can use without asking anything.
//!
//! ```text
//! STOCK/                      tables and look files of one stock
//! STOCK/plates/               grain, dust and halation plates, if wished
//! test-charts/INPUT/          a test chart and what has to come of it, as pictures and as numbers
//! health/                     a picture of each table
//! contact-sheet.jpg           before and after, if frames were given
//! config.ocio, ocio/          an OpenColorIO configuration of whole tables, and its curves
//! README.html, README.txt     the note
//! manifest.json               the same for programs
//! SHA256SUMS                  check-sums of all of it, as sha256sum takes them
//! ```

pub(crate) mod archive;
mod charts;
mod config;
mod document;
mod findings;
mod inputs;
mod manifest;
mod note;
mod plan;
mod plates;
mod sample;
mod sheet;
mod tables;
mod work;

use std::io::{Seek, Write};

use lookwright_colour::encoding::{EncodingClass, EncodingId, Range, ScreenId};
use lookwright_colour::{Error, Result};
use lookwright_film::look::{CodeRange, Delivery, Look, Options, StockChoice};
use lookwright_film::path::scene_out::SceneCode;
use lookwright_render::{OneThread, Workers};
use lookwright_table::Grid3;

use crate::{Format, Split, name};
pub use plan::Plan;
pub use plates::Plates;
pub use sample::SampleFrame;

/// Most tables in one pack.
const TABLES_MAX: usize = 5000;
/// Longest licence line.
const LICENCE_MAX: usize = 200;

/// What a pack is made of. Lists are sorted and freed of doubles before use, so their order does
/// not change the pack.
#[derive(Clone, Debug)]
pub struct Pack {
    /// The looks.
    pub looks: Vec<Look>,
    /// The stocks that each look is put on; none keeps each look's own.
    pub stocks: Vec<StockChoice>,
    /// The encodings that go in.
    pub encodings: Vec<EncodingId>,
    /// How their codes fill the scale; scene light is always full.
    pub ranges: Vec<Range>,
    /// The screen.
    pub screen: ScreenId,
    /// How the screen's codes fill the scale.
    pub out_ranges: Vec<CodeRange>,
    /// The parts of the light path.
    pub splits: Vec<Split>,
    /// Scene code that whole tables give besides, for pipelines that render for the display themselves; none by
    /// default.
    pub scene: Vec<SceneCode>,
    /// The formats: all but those that a look has to reduce to; the lattice picture for grids that
    /// are squares.
    pub formats: Vec<Format>,
    /// Points along each axis.
    pub grid: usize,
    /// The day to state, as YYYY-MM-DD.
    pub date: Option<String>,
    /// The licence to state.
    pub licence: Option<String>,
    /// Frames for the contact sheet, and for halation plates.
    pub frames: Vec<SampleFrame>,
    /// Plates of the texture that tables leave out; none by default.
    pub plates: Option<Plates>,
}

/// How far a pack is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step<'a> {
    /// Files done.
    pub done: usize,
    /// Files in all, without the note.
    pub total: usize,
    /// The file that is made next.
    pub path: &'a str,
}

impl Pack {
    /// A pack of looks on their own stocks for one encoding: whole tables at grid 33, `.cube` and
    /// CLF, for Rec.709 in full range.
    #[must_use]
    pub fn new(looks: Vec<Look>, encodings: Vec<EncodingId>) -> Self {
        Self {
            looks,
            stocks: Vec::new(),
            encodings,
            ranges: vec![Range::Full],
            screen: ScreenId::Rec709,
            out_ranges: vec![CodeRange::Full],
            splits: vec![Split::Whole],
            scene: Vec::new(),
            formats: vec![Format::Cube, Format::Clf],
            grid: 33,
            date: None,
            licence: None,
            frames: Vec::new(),
            plates: None,
        }
    }

    /// Writes the zip and gives `out` back. `step` is told before each file goes into the zip; when
    /// it gives false, the pack is given up. Memory: one table and its text, or one plate.
    ///
    /// # Errors
    /// One sentence if something is missing or out of range, `out` can't be written, or the pack
    /// was given up. What stands in `out` is then no pack.
    pub fn write<W: Write + Seek>(&self, out: W, step: impl FnMut(Step<'_>) -> bool) -> Result<W> {
        self.write_with(&OneThread, out, step)
    }

    /// As [`Pack::write`], on the caller's workers. The same bytes whoever works; memory as there
    /// for each worker.
    ///
    /// # Errors
    /// As for [`Pack::write`].
    pub fn write_with<W: Write + Seek>(
        &self,
        workers: &impl Workers,
        out: W,
        step: impl FnMut(Step<'_>) -> bool,
    ) -> Result<W> {
        let pack = self.checked()?;
        work::run(&pack, workers, out, step)
    }

    /// How many tables the pack holds.
    ///
    /// # Errors
    /// As for [`Pack::write`].
    pub fn count_tables(&self) -> Result<usize> {
        let pack = self.checked()?;
        Ok(pack.table_count())
    }

    /// Whether the formats can hold what the pack is made of.
    fn check_formats(&self) -> Result<()> {
        for (format, name) in [(Format::Cdl, "ASC CDL"), (Format::Spi1d, ".spi1d")] {
            if self.formats.contains(&format) {
                return Err(Error::new(format!(
                    "{name} holds no whole look, and a pack tries the ASC CDL by itself; choose \
                     cube, clf, csp, spi3d, icc or png"
                )));
            }
        }
        let gives_light = self.scene.iter().find(|code| is_light(code.encoding));
        if let Some(code) = gives_light
            && self.formats != [Format::Clf]
        {
            return Err(Error::new(format!(
                "{} is light, which only .clf can make of what a lattice holds: choose the format clf \
                 alone, or acescct",
                code.encoding.id()
            )));
        }
        let light = self.encodings.iter().any(|e| is_light(*e));
        let square = (2..=11).any(|level| level * level == self.grid);
        if self.formats.contains(&Format::Lattice) && (light || !square) {
            return Err(Error::new(
                "lattice pictures need a grid that is a square, such as 25, 36 or 64, and \
                 encodings of codes, not of light",
            ));
        }
        match self.formats.iter().find(|format| !format.takes_light()) {
            Some(format) if light => Err(Error::new(format!(
                "{} takes encodings of codes, not of light: leave it out, or make a pack of its own",
                format.id()
            ))),
            _ => Ok(()),
        }
    }

    /// The same pack, in order and without doubles.
    fn checked(&self) -> Result<Self> {
        let mut pack = self.clone();
        pack.stocks.sort_by_key(StockChoice::id);
        pack.stocks.dedup_by_key(|stock| stock.id());
        sort_by_id(&mut pack.encodings);
        sort_by_id(&mut pack.ranges);
        sort_by_id(&mut pack.out_ranges);
        sort_by_id(&mut pack.splits);
        pack.scene
            .sort_by_key(|code| (code.encoding.id(), code.rendering.id()));
        pack.scene.dedup();
        sort_by_id(&mut pack.formats);
        for (what, missing) in [
            ("look", pack.looks.is_empty()),
            ("encoding", pack.encodings.is_empty()),
            (
                "range",
                pack.ranges.is_empty() || pack.out_ranges.is_empty(),
            ),
            ("split", pack.splits.is_empty()),
            ("format", pack.formats.is_empty()),
        ] {
            if missing {
                return Err(Error::new(format!("a pack needs at least one {what}")));
            }
        }
        Grid3::check_size(pack.grid)?;
        pack.check_formats()?;
        if let Some(date) = pack.date.as_deref()
            && !is_date(date)
        {
            return Err(Error::new(format!(
                "date \"{date}\" is not a day; write it as 2024-05-31"
            )));
        }
        if let Some(licence) = &pack.licence
            && (licence.trim().is_empty()
                || licence.len() > LICENCE_MAX
                || licence.chars().any(char::is_control))
        {
            return Err(Error::new(format!(
                "the licence has to be one line of at most {LICENCE_MAX} bytes"
            )));
        }
        if let Some(plates) = &pack.plates {
            plates.check()?;
        }
        let count = pack.table_count();
        if count > TABLES_MAX {
            return Err(Error::new(format!(
                "this pack would hold {count} tables; {TABLES_MAX} is the most, so make several"
            )));
        }
        Ok(pack)
    }

    /// The looks on their stocks, by folder and name.
    fn entries(&self) -> Vec<PackLook> {
        let mut looks = self.looks.clone();
        looks.sort_by_cached_key(|look| (name::part(&look.name), look.fingerprint()));
        looks.dedup();
        let mut used: Vec<String> = Vec::new();
        let mut entries = Vec::new();
        for look in looks {
            let wanted = name::part(&look.name);
            let mut slug = wanted.clone();
            let mut number = 2;
            while used.contains(&slug) {
                slug = format!("{wanted}-{number}");
                number += 1;
            }
            used.push(slug.clone());
            let own = [StockChoice::of(&look.negative.stock)];
            let stocks = if self.stocks.is_empty() {
                &own[..]
            } else {
                &self.stocks
            };
            for stock in stocks {
                let mut look = look.clone();
                look.negative.stock.balance = stock.balance;
                look.negative.stock.speed = stock.speed;
                let slug = slug.clone();
                entries.push(PackLook { look, slug });
            }
        }
        entries.sort_by_key(|entry| (entry.folder(), entry.slug.clone()));
        entries
    }

    fn table_count(&self) -> usize {
        let looks = self.looks.len() * self.stocks.len().max(1);
        let inputs: usize = self
            .encodings
            .iter()
            .map(|e| self.ranges_of(*e).len())
            .sum();
        let tables: usize = self
            .splits
            .iter()
            .map(|split| match split {
                Split::Whole => inputs * self.out_ranges.len(),
                Split::CameraToScan => inputs,
                Split::ScanToScreen => self.out_ranges.len(),
            })
            .sum();
        looks
            .saturating_mul(tables + inputs * self.scene.len())
            .saturating_mul(self.formats.len())
    }

    fn ranges_of(&self, encoding: EncodingId) -> &[Range] {
        if is_light(encoding) {
            &[Range::Full]
        } else {
            &self.ranges
        }
    }

    fn delivery(&self, range: CodeRange) -> Delivery {
        let mut delivery = Delivery::default();
        delivery.display.screen = self.screen;
        delivery.display.range = range;
        delivery
    }
}

/// A look on a stock.
struct PackLook {
    look: Look,
    slug: String,
}

impl PackLook {
    fn name(&self) -> &str {
        if self.look.name.is_empty() {
            "look without a name"
        } else {
            &self.look.name
        }
    }

    fn folder(&self) -> String {
        name::stock(&self.look)
    }

    fn stock_label(&self) -> String {
        StockChoice::of(&self.look.negative.stock).label()
    }
}

fn is_light(encoding: EncodingId) -> bool {
    encoding.info().class == EncodingClass::SceneLinear
}

fn sort_by_id<T: Options>(list: &mut Vec<T>) {
    list.sort_by_key(|item| item.id());
    list.dedup_by_key(|item| item.id());
}

/// Year, month and day; the length of months is not looked at.
fn is_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts[..] else {
        return false;
    };
    let number = |part: &str, digits: usize| -> Option<u32> {
        let plain = part.len() == digits && part.bytes().all(|b| b.is_ascii_digit());
        plain.then(|| part.parse().ok()).flatten()
    };
    number(year, 4).is_some()
        && matches!(number(month, 2), Some(1..=12))
        && matches!(number(day, 2), Some(1..=31))
}

#[cfg(test)]
mod scene_tests;
#[cfg(test)]
pub(crate) mod tests;
