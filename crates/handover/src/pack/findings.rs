//! What the tasks found out for the note and the manifest.

use std::collections::BTreeMap;

use serde_json::Value;

/// A table by what it holds.
pub(super) struct Equal {
    /// What the table holds: equal tables have equal ones.
    pub(super) held: [u8; 32],
    /// Look, stock, input and output.
    pub(super) words: String,
    /// Its files without their endings.
    pub(super) stem: String,
}

/// What was found while the pack was made.
#[derive(Default)]
pub(super) struct Findings {
    /// Look, stock, encoding, differences, recommended grid, worst finding.
    pub(super) health: Vec<Vec<String>>,
    /// Look, stock, encoding, mid-grey in and out, largest difference on the chart.
    pub(super) charts: Vec<Vec<String>>,
    /// Look, stock, part and file of every ASC CDL.
    pub(super) reductions: Vec<Vec<String>>,
    /// How far the nearest ASC CDL is off where a table is none, in codes of 10 bits: the least.
    pub(super) nearest_codes: Option<f32>,
    /// Path and words of the tables' pictures.
    pub(super) health_pictures: Vec<(String, String)>,
    /// Path and words of contact sheets.
    pub(super) sheets: Vec<(String, String)>,
    /// Look, stock, path and words of plates.
    pub(super) plates: Vec<Vec<String>>,
    /// Look, stock, table, way of reading, differences.
    pub(super) differences: Vec<Vec<String>>,
    /// The greys of each chart, by its input.
    pub(super) greys: Vec<Vec<String>>,
    /// What each table holds.
    pub(super) held: Vec<Equal>,
    /// What each file is, by its path.
    pub(super) files: BTreeMap<String, Value>,
}

impl Findings {
    /// Takes over what a later task found.
    pub(super) fn add(&mut self, later: Self) {
        self.health.extend(later.health);
        self.charts.extend(later.charts);
        self.reductions.extend(later.reductions);
        self.nearest_codes = match (self.nearest_codes, later.nearest_codes) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
        self.health_pictures.extend(later.health_pictures);
        self.sheets.extend(later.sheets);
        self.plates.extend(later.plates);
        self.differences.extend(later.differences);
        self.greys.extend(later.greys);
        self.held.extend(later.held);
        self.files.extend(later.files);
    }

    /// Tables that hold the same numbers, each group by its files without their endings.
    pub(super) fn equal_tables(&self) -> Vec<Vec<&str>> {
        let groups = self.equal_groups().into_iter();
        groups
            .map(|group| group.iter().map(|one| one.stem.as_str()).collect())
            .collect()
    }

    /// The same in words.
    pub(super) fn equal_words(&self) -> Vec<String> {
        let groups = self.equal_groups().into_iter();
        groups
            .map(|group| {
                let words: Vec<_> = group.iter().map(|one| one.words.as_str()).collect();
                words.join(" = ")
            })
            .collect()
    }

    fn equal_groups(&self) -> Vec<Vec<&Equal>> {
        let mut groups: Vec<Vec<&Equal>> = Vec::new();
        for one in &self.held {
            match groups.iter_mut().find(|group| group[0].held == one.held) {
                Some(group) => group.push(one),
                None => groups.push(vec![one]),
            }
        }
        groups.retain(|group| group.len() > 1);
        groups
    }
}
