//! How far a table is from the path that it stands for, in colour difference and in codes.

use lookwright_colour::Result;
use lookwright_table::health::{Setting, grid_error};

/// Differences over some colours: what programs that read a table one way are off by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// Mean, dE2000.
    pub mean: f64,
    /// 99 of 100 are below this, dE2000.
    pub p99: f64,
    /// Largest, dE2000.
    pub max: f64,
    /// Mean over all channels, in codes of 10 bits.
    pub mean_codes: f64,
    /// 99 of 100 colours are below this in their worst channel, in codes of 10 bits.
    pub p99_codes: f64,
    /// Largest of any channel, in codes of 10 bits.
    pub max_codes: f64,
}

impl Difference {
    /// Between what a table gives and `exact` at `inputs`; `seen` makes of a value what it is looked at as.
    ///
    /// # Errors
    /// If the setting cannot be judged.
    pub(crate) fn of(
        table: impl Fn([f32; 3]) -> [f32; 3],
        exact: impl Fn([f32; 3]) -> [f32; 3],
        seen: impl Fn([f32; 3]) -> [f32; 3],
        setting: Setting,
        inputs: &[[f32; 3]],
    ) -> Result<Self> {
        let looked = |value| seen(value);
        let error = grid_error(
            |input| looked(table(input)),
            setting,
            |input| looked(exact(input)),
            inputs,
        )?;
        let mut worst = Vec::with_capacity(inputs.len());
        let mut sum = 0.0;
        for &input in inputs {
            let (got, wanted) = (table(input), exact(input));
            let off = [0, 1, 2].map(|c| f64::from((got[c] - wanted[c]).abs()) * 1023.0);
            sum += off.iter().sum::<f64>();
            worst.push(off.into_iter().fold(0.0, f64::max));
        }
        worst.sort_by(f64::total_cmp);
        let count = inputs.len().max(1);
        let place = (count * 99).div_ceil(100) - 1;
        Ok(Self {
            mean: error.mean,
            p99: error.p99,
            max: error.max,
            mean_codes: sum / (3 * count) as f64,
            p99_codes: worst.get(place).copied().unwrap_or(0.0),
            max_codes: worst.last().copied().unwrap_or(0.0),
        })
    }

    /// In words: "mean 0.10, 99 % 0.64 dE2000 (0.4, 2.1 codes of 10 bits)".
    pub(crate) fn words(&self) -> String {
        format!(
            "mean {:.2}, 99 % {:.2} dE2000 ({:.1}, {:.1} codes of 10 bits)",
            self.mean, self.p99, self.mean_codes, self.p99_codes
        )
    }
}
