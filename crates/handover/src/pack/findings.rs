//! What the tasks found out for the note.

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
    }
}
