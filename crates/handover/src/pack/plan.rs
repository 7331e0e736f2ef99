//! What a pack will be, before it is made: how many tables, about how large, how healthy.

use lookwright_colour::Result;
use lookwright_colour::encoding::EncodingId;
use lookwright_film::look::StockChoice;
use lookwright_table::health::{Health, halton};

use super::tables::SAMPLE;
use super::{Pack, config, is_light};
use crate::{Baked, Format, Recipe, Split};

/// Bytes in the zip for each point of a lattice as text, as measured on packs of starting looks at
/// grids 17, 33 and 65 (11.7 to 12.8).
const TEXT_POINT: f64 = 12.2;
/// The same for a lattice picture, which is stored as it is.
const LATTICE_POINT: f64 = 5.5;
/// The same for a `.spi3d`, whose rows begin with their place, and for a device link, as measured at
/// grid 33.
const SPI3D_POINT: f64 = 14.4;
const LINK_POINT: f64 = 5.2;
/// The curves that stand before the lattice of scene light in a `.csp` file, measured.
const CSP_SHAPER: f64 = 17_000.0;
/// The 1D table that stands before the lattice of scene light in a `.cube` file, measured.
const CUBE_SHAPER: f64 = 282_000.0;
/// A test chart in codes, or what should come of one, measured.
const CHART: f64 = 6_400.0;
/// A test chart in scene light, measured.
const LIGHT_CHART: f64 = 1_846_000.0;
/// The picture of a table's health, measured.
const HEALTH: f64 = 21_000.0;
/// A curve of the OpenColorIO configuration, measured.
const CONFIG_CURVE: f64 = 19_000.0;
/// Note, check-sums and the OpenColorIO configuration, measured.
const NOTE: f64 = 12_000.0;

/// What a pack will be.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Tables in it.
    pub tables: usize,
    /// About how many bytes the zip will have, without frames and plates.
    pub bytes: u64,
    /// Whether there is an OpenColorIO configuration.
    pub has_config: bool,
    /// Its tables' kinds, for [`Pack::examine`]: the stock and the encoding of each.
    pub kinds: Vec<(StockChoice, EncodingId)>,
}

impl Pack {
    /// Plans the pack.
    ///
    /// # Errors
    /// As for [`Pack::write`].
    pub fn plan(&self) -> Result<Plan> {
        let pack = self.checked()?;
        let recipes = pack.kinds();
        Ok(Plan {
            tables: pack.table_count(),
            bytes: pack.estimate_bytes(),
            has_config: config::files(&pack) > 0,
            kinds: recipes
                .iter()
                .map(|recipe| {
                    (
                        StockChoice::of(&recipe.look.negative.stock),
                        recipe.encoding,
                    )
                })
                .collect(),
        })
    }

    /// The health of one of [`Plan::kinds`], the difference to the exact path included; none if
    /// there is no such kind. A whole table is examined wherever the pack has whole tables.
    ///
    /// # Errors
    /// As for [`Pack::write`].
    pub fn examine(&self, kind: usize) -> Result<Option<Health>> {
        let mut recipes = self.checked()?.kinds();
        if kind >= recipes.len() {
            return Ok(None);
        }
        let baked = Baked::new(recipes.swap_remove(kind))?;
        baked.health(&halton(SAMPLE)).map(Some)
    }

    /// One recipe for each look, stock and encoding. One range says it for all.
    fn kinds(&self) -> Vec<Recipe> {
        let split = match self.splits.contains(&Split::Whole) {
            true => Split::Whole,
            false => self.splits[0],
        };
        let mut kinds = Vec::new();
        for entry in self.entries() {
            for &encoding in &self.encodings {
                kinds.push(Recipe {
                    look: entry.look.clone(),
                    encoding,
                    range: self.ranges_of(encoding)[0],
                    delivery: self.delivery(self.out_ranges[0]),
                    split,
                    scene: None,
                    grid: self.grid,
                });
                if split == Split::ScanToScreen {
                    break;
                }
            }
        }
        kinds
    }

    fn estimate_bytes(&self) -> u64 {
        let points = (self.grid * self.grid * self.grid) as f64;
        let inputs = self.encodings.len() as f64;
        let lights = self.encodings.iter().filter(|e| is_light(**e)).count() as f64;
        let table = |format: &Format| match format {
            Format::Cube => points * TEXT_POINT + CUBE_SHAPER * lights / inputs,
            Format::Clf => points * TEXT_POINT,
            Format::Csp => points * TEXT_POINT + CSP_SHAPER * lights / inputs,
            Format::Spi3d => points * SPI3D_POINT,
            Format::Icc => points * LINK_POINT,
            Format::Lattice => points * LATTICE_POINT,
            Format::Spi1d | Format::Cdl => 0.0,
        };
        let each = self.table_count() as f64 / self.formats.len() as f64;
        let tables = each * self.formats.iter().map(table).sum::<f64>();
        let expected = self.entries().len() * self.out_ranges.len();
        let curves = match self.splits.contains(&Split::Whole) {
            true => config::curves(self).count() as f64 * CONFIG_CURVE,
            false => 0.0,
        };
        let charts = inputs * (1.0 + expected as f64) * CHART + lights * LIGHT_CHART;
        let halves = self.splits.iter().map(|split| match split {
            Split::Whole | Split::CameraToScan => inputs,
            Split::ScanToScreen => 1.0,
        });
        let judged = self.entries().len() as f64 * halves.sum::<f64>();
        (tables + charts + judged * HEALTH + curves + NOTE) as u64
    }
}

#[cfg(test)]
mod tests {
    use std::io::Cursor;

    use super::*;
    use lookwright_film::look::Look;
    use lookwright_table::health::{Check, Severity};

    fn pack() -> Pack {
        let looks = vec![Look::starting(
            lookwright_film::look::StartingStock::Overcast,
        )];
        Pack {
            grid: 17,
            stocks: vec![
                lookwright_film::look::StartingStock::Overcast.into(),
                lookwright_film::look::StartingStock::Evening.into(),
            ],
            ..Pack::new(looks, vec![EncodingId::LogC3, EncodingId::AcesCg])
        }
    }

    #[test]
    fn the_plan_is_what_the_pack_becomes() {
        let pack = pack();
        let plan = pack.plan().unwrap();
        assert_eq!(plan.tables, 8, "two stocks, two encodings, two formats");
        assert_eq!(plan.kinds.len(), 4);
        for grid in [17, 33] {
            let pack = Pack {
                grid,
                ..pack.clone()
            };
            let zip = pack.write(Cursor::new(Vec::new()), |_| true).unwrap();
            let bytes = zip.into_inner().len() as f64;
            let share = pack.plan().unwrap().bytes as f64 / bytes;
            assert!(
                (0.7..1.4).contains(&share),
                "grid {grid}: {share} of {bytes}"
            );
        }
    }

    #[test]
    fn the_health_is_that_of_the_table_in_the_pack() {
        let mut pack = pack();
        let health = pack.examine(0).unwrap().unwrap();
        let recipe = pack.checked().unwrap().kinds().swap_remove(0);
        let file = Baked::new(recipe).unwrap().write(Format::Clf).unwrap();
        let checked = crate::check(&file, "x.clf", Default::default()).unwrap();
        // The file's numbers are rounded, so words are compared, and the file knows no exact path.
        let words = |health: &Health| -> Vec<String> {
            let known = health
                .findings
                .iter()
                .filter(|f| f.check != Check::GridError);
            let mut words: Vec<_> = known.map(|f| f.what.clone()).collect();
            words.sort();
            words
        };
        assert_eq!(words(&health), words(&checked.health));
        assert!(pack.examine(4).unwrap().is_none());
        // Two points along each axis make no film curve: the difference has to be told.
        pack.grid = 2;
        assert_eq!(pack.examine(0).unwrap().unwrap().worst(), Severity::Serious);
    }
}
