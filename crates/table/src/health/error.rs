//! What a grid costs: its difference to the exact path, and the smallest grid that will do.

use super::finding::{Check, Finding, Severity};
use super::judge::{Judge, Setting};
use crate::{Grid3, Interpolation};
use lookwright_colour::error::Result;
use lookwright_colour::space::delta_e_2000;

/// 99 of 100 colours below this difference (dE2000) cannot be told from the exact path side by
/// side. Common practice, no source: 1 is about the smallest difference that is seen.
pub const GOOD_P99: f64 = 1.0;
/// Above this difference at 99 of 100 colours the grid shows. Common practice, no source.
const SERIOUS_P99: f64 = 3.0;

/// Differences between a table and the exact path in CIEDE2000.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GridError {
    /// Mean over the sample.
    pub mean: f64,
    /// 99 of 100 are below this.
    pub p99: f64,
    /// Largest.
    pub max: f64,
    /// The input of the largest.
    pub worst_input: [f32; 3],
}

/// The differences at `inputs` between what a table gives and `exact`, both as they are looked at.
///
/// # Errors
/// If the setting cannot be judged.
pub fn grid_error(
    table: impl Fn([f32; 3]) -> [f32; 3],
    setting: Setting,
    exact: impl Fn([f32; 3]) -> [f32; 3],
    inputs: &[[f32; 3]],
) -> Result<GridError> {
    let judge = Judge::new(setting)?;
    let mut differences = Vec::with_capacity(inputs.len());
    let mut worst = (0.0, [0.0; 3]);
    for &input in inputs {
        let got = judge.lab(table(input));
        let difference = delta_e_2000(got, judge.lab(exact(input)));
        if difference > worst.0 {
            worst = (difference, input);
        }
        differences.push(difference);
    }
    differences.sort_by(f64::total_cmp);
    let count = differences.len().max(1);
    let place = (count * 99).div_ceil(100) - 1;
    Ok(GridError {
        mean: differences.iter().sum::<f64>() / count as f64,
        p99: differences.get(place).copied().unwrap_or(0.0),
        max: worst.0,
        worst_input: worst.1,
    })
}

/// What each grid size costs, and which is enough.
#[derive(Clone, Debug, PartialEq)]
pub struct Recommendation {
    /// Size and cost, in the order tried.
    pub tried: Vec<(usize, GridError)>,
    /// The smallest size tried whose 99 of 100 are below [`GOOD_P99`], or the best of those tried.
    pub size: usize,
    /// Whether that size is good, or only the best tried.
    pub good: bool,
}

/// Tries grid `sizes` against `exact`, sampled over the domain, at `inputs`. To judge by the
/// frames of a reel, add their pixels to the inputs.
///
/// # Errors
/// If a size is not 2 ... 129, the domain is empty, or `exact` gives a value that is not finite.
pub fn recommend(
    sizes: &[usize],
    (domain_min, domain_max): ([f32; 3], [f32; 3]),
    setting: Setting,
    exact: impl Fn([f32; 3]) -> [f32; 3],
    inputs: &[[f32; 3]],
) -> Result<Recommendation> {
    let mut tried = Vec::with_capacity(sizes.len());
    for &size in sizes {
        let grid = Grid3::sample(size, domain_min, domain_max, &exact)?;
        let table = |input| grid.apply(input, Interpolation::Tetrahedral);
        tried.push((size, grid_error(table, setting, &exact, inputs)?));
    }
    Ok(Recommendation::of(tried))
}

impl Recommendation {
    /// Chooses among sizes whose costs are known.
    #[must_use]
    pub fn of(tried: Vec<(usize, GridError)>) -> Self {
        let good = tried.iter().filter(|(_, error)| error.p99 <= GOOD_P99);
        let smallest = good.map(|(size, _)| *size).min();
        let by_error =
            |a: &&(usize, GridError), b: &&(usize, GridError)| a.1.p99.total_cmp(&b.1.p99);
        let best = tried.iter().min_by(by_error).map_or(0, |(size, _)| *size);
        Self {
            size: smallest.unwrap_or(best),
            good: smallest.is_some(),
            tried,
        }
    }
}

pub(super) fn finding(error: &GridError, size: usize) -> Finding {
    let severity = Severity::of(error.p99, GOOD_P99, SERIOUS_P99);
    let [r, g, b] = error.worst_input;
    Finding {
        check: Check::GridError,
        severity,
        what: match severity {
            Severity::Info => "The table stands for the look it was made from.",
            Severity::Minor => "The table differs a little from the look it was made from.",
            Severity::Serious => "The table differs visibly from the look it was made from.",
        }
        .to_owned(),
        place: format!("worst at code {r:.3} {g:.3} {b:.3}"),
        measure: format!(
            "difference at grid {size}: mean {:.2}, 99 of 100 below {:.2}, largest {:.2} dE2000",
            error.mean, error.p99, error.max
        ),
        advice: match severity {
            Severity::Info => String::new(),
            _ => "Use a larger grid, or bend highlights and strong colours more softly.".to_owned(),
        },
    }
}
