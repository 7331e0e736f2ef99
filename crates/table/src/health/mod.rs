//! Health: where a table will hurt, in plain words.
//!
//! Every check gives one [`Finding`]: what it is, where, how bad, what to do. Thresholds are
//! common practice where no source is named beside them. A table is judged by the lattice inside
//! it, which [`crate::Table::lattice`] gives.

mod ends;
mod error;
mod finding;
mod folds;
mod grey;
mod judge;
mod mistake;
mod ordinary;
mod said;
mod sample;
mod slices;
mod slopes;
mod surface;

pub use ends::Clipping;
pub use error::{GOOD_P99, GridError, Recommendation, grid_error, recommend};
pub use finding::{Check, Finding, Severity};
pub use grey::grey_curve;
pub use judge::Setting;
pub use mistake::Diagnosis;
pub use said::Said;
pub use sample::halton;
pub use slices::{Slice, slices};
pub(crate) use slopes::{FALL, FOLD, ORDERS, determinant};
pub use slopes::{Slopes, slopes};

use super::Grid3;
use judge::Judge;
use lookwright_colour::error::Result;

/// Everything that was found out about a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Health {
    /// One finding a check, worst first.
    pub findings: Vec<Finding>,
    /// Shares of clipped output.
    pub clipping: Clipping,
    /// Folds, reversals, flat parts.
    pub slopes: Slopes,
    /// Difference to the exact path, if that was known.
    pub error: Option<GridError>,
}

impl Health {
    /// The worst severity found.
    pub fn worst(&self) -> Severity {
        let severities = self.findings.iter().map(|f| f.severity);
        severities.max().unwrap_or(Severity::Info)
    }

    /// The mistake that was made with the whole table, if there is one.
    #[must_use]
    pub fn diagnosis(&self) -> Option<Diagnosis> {
        self.findings.iter().find_map(|f| f.check.diagnosis())
    }

    /// The findings as text, a few lines each, worst first.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = String::new();
        for finding in &self.findings {
            text.push_str(&format!(
                "{} {}: {}\n",
                finding.severity.id(),
                finding.check.id(),
                finding.what
            ));
            for line in [&finding.place, &finding.measure, &finding.advice] {
                if !line.is_empty() {
                    text.push_str(&format!("    {line}\n"));
                }
            }
        }
        text
    }

    /// The findings for machines: `{"worst": ..., "findings": [{"check", "severity", "what",
    /// "place", "measure", "advice"}], "diagnosis"}`; the diagnosis is the mistake's name, or null.
    #[must_use]
    pub fn to_json(&self) -> serde_json::Value {
        let findings: Vec<_> = self
            .findings
            .iter()
            .map(|f| {
                serde_json::json!({
                    "check": f.check.id(),
                    "severity": f.severity.id(),
                    "what": f.what,
                    "place": f.place,
                    "measure": f.measure,
                    "advice": f.advice,
                })
            })
            .collect();
        serde_json::json!({
            "worst": self.worst().id(),
            "findings": findings,
            "diagnosis": self.diagnosis().map(Diagnosis::id),
        })
    }
}

/// Examines a table for a delivery. With `error`, from [`grid_error`], the difference to the exact
/// path is among the findings.
///
/// # Errors
/// If the setting cannot be judged.
pub fn examine(grid: &Grid3, setting: Setting, error: Option<GridError>) -> Result<Health> {
    let judge = Judge::new(setting)?;
    let slopes = slopes(grid, setting)?;
    let clipping = ends::clipping(grid, &judge);
    let size = grid.size();
    // First, as the others only tell of what it brings.
    let mut findings: Vec<Finding> = mistake::finding(grid, &judge)?.into_iter().collect();
    findings.extend(error.iter().map(|e| error::finding(e, size)));
    findings.extend([
        folds::fold_finding(&slopes, size),
        folds::reversal_finding(&slopes, size),
        grey::kink_finding(grid, &judge),
        grey::stretch_finding(grid, &judge),
        grey::tint_finding(grid, &judge),
    ]);
    findings.extend(ends::clip_findings(&clipping));
    findings.extend([
        ends::range_finding(grid, &judge)?,
        ends::outside_finding(grid, &judge),
        folds::inverse_finding(&slopes),
    ]);
    // Stable, so checks of one severity keep their order.
    findings.sort_by_key(|finding| core::cmp::Reverse(finding.severity));
    Ok(Health {
        findings,
        clipping,
        slopes,
        error,
    })
}

#[cfg(test)]
mod tests;
