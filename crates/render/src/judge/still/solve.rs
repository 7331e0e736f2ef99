//! Robust least squares with a prior.
//!
//! Gauss-Newton steps, damped where they would not get better (Marquardt, An Algorithm for
//! Least-Squares Estimation of Nonlinear Parameters, SIAM J. Appl. Math. 11(2), 1963), on Huber's cost
//! by iterative reweighting (Holland and Welsch, Robust Regression Using Iteratively Reweighted
//! Least-Squares, Comm. Stat. A 6(9), 1977). How large the residuals are that are left is told by their
//! median absolute deviation (Huber, Robust Statistics, 1981).

/// Huber's bend, in standard deviations: 95 % as good as least squares where errors are normal.
const HUBER: f64 = 1.345;
/// From a median absolute deviation to a standard deviation, where errors are normal.
const MAD: f64 = 1.4826;
const ROUNDS: usize = 16;
const TRIES: usize = 6;
/// How far a parameter is moved to see what it does.
const NUDGE: f64 = 0.02;
/// A step shorter than this ends the search.
const STILL: f64 = 2e-3;
/// A residual that is smaller says nothing.
const SILENT: f64 = 1e-9;

/// What to minimise: residuals for parameters whose prior is 0, with standard deviation 1.
pub(super) struct Problem<'a> {
    /// Residuals, in standard deviations of what is expected; always as many.
    pub(super) residuals: &'a dyn Fn(&[f64]) -> Vec<f64>,
    /// Ends of each parameter.
    pub(super) limits: &'a [(f64, f64)],
    /// Which parameters may move.
    pub(super) active: &'a [bool],
    /// What residuals are taken for in the end, against what is expected: the smaller, the less the prior
    /// holds. The search comes down to it from 1.
    pub(super) scale: f64,
}

/// What was found.
pub(super) struct Solution {
    pub(super) at: Vec<f64>,
    /// Variance of each parameter, by Gauss-Newton's matrix and the residuals that are left; 1 where
    /// nothing was learned.
    pub(super) variance: Vec<f64>,
    /// Standard deviation of the residuals that are left, in what was expected.
    pub(super) left: f64,
}

impl Problem<'_> {
    pub(super) fn solve(&self, from: &[f64]) -> Solution {
        let mut at = from.to_vec();
        let mut residuals = (self.residuals)(&at);
        let mut scale = 1.0;
        let mut damping = 1e-2;
        let mut variance = vec![1.0; at.len()];
        let mut left = 1.0;
        for _ in 0..ROUNDS {
            let slopes = self.slopes(&at, &residuals);
            let (matrix, pull) = self.normal(&at, &slopes, &residuals, scale);
            let inverse = inverse(&matrix);
            for (i, v) in variance.iter_mut().enumerate() {
                *v = inverse[i][i];
            }
            let mut moved = 0.0_f64;
            for _ in 0..TRIES {
                let mut damped = matrix.clone();
                for (i, row) in damped.iter_mut().enumerate() {
                    row[i] *= 1.0 + damping;
                }
                let step = solved(&damped, &pull);
                let next: Vec<f64> = (0..at.len())
                    .map(|i| (at[i] - step[i]).clamp(self.limits[i].0, self.limits[i].1))
                    .collect();
                let there = (self.residuals)(&next);
                if cost(&next, &there, scale) < cost(&at, &residuals, scale) {
                    moved = at
                        .iter()
                        .zip(&next)
                        .fold(0.0, |m, (a, b)| m.max((a - b).abs()));
                    (at, residuals) = (next, there);
                    damping = (damping * 0.3).max(1e-6);
                    break;
                }
                damping *= 5.0;
            }
            // Parameters that the residuals hold: they make residuals small without proving anything.
            let held: f64 = (0..at.len())
                .filter(|i| self.active[*i])
                .map(|i| 1.0 - inverse[i][i].min(1.0))
                .sum();
            // What says nothing, such as a hue that is not there, would make all that is left look small.
            let heard: Vec<f64> = residuals
                .iter()
                .map(|r| r.abs())
                .filter(|r| *r > SILENT)
                .collect();
            let count = heard.len() as f64;
            let free = (count - held).max(0.2 * count);
            left = MAD * median(heard) * libm::sqrt(count / free.max(1.0));
            if moved < STILL && scale == self.scale {
                break;
            }
            scale = (scale * 0.5).max(self.scale);
        }
        let larger = (left / self.scale).max(1.0);
        for v in &mut variance {
            *v = (*v * larger * larger).min(1.0);
        }
        Solution { at, variance, left }
    }

    /// How each residual changes with each parameter: one list per parameter.
    fn slopes(&self, at: &[f64], here: &[f64]) -> Vec<Vec<f64>> {
        (0..at.len())
            .map(|i| {
                if !self.active[i] {
                    return vec![0.0; here.len()];
                }
                let mut next = at.to_vec();
                let up = at[i] + NUDGE <= self.limits[i].1;
                let nudge = if up { NUDGE } else { -NUDGE };
                next[i] += nudge;
                let there = (self.residuals)(&next);
                there
                    .iter()
                    .zip(here)
                    .map(|(t, h)| (t - h) / nudge)
                    .collect()
            })
            .collect()
    }

    /// Gauss-Newton's matrix and the slope of the cost.
    fn normal(
        &self,
        at: &[f64],
        slopes: &[Vec<f64>],
        residuals: &[f64],
        scale: f64,
    ) -> (Vec<Vec<f64>>, Vec<f64>) {
        let weights: Vec<f64> = residuals
            .iter()
            .map(|r| (HUBER * scale / r.abs().max(1e-12)).min(1.0) / (scale * scale))
            .collect();
        let product = |a: &[f64], b: &[f64]| -> f64 {
            let terms = a.iter().zip(b).zip(&weights);
            terms.map(|((a, b), w)| a * b * w).sum()
        };
        let matrix = (0..at.len()).map(|i| {
            let row = (0..at.len()).map(|j| {
                let prior = if i == j { 1.0 } else { 0.0 };
                product(&slopes[i], &slopes[j]) + prior
            });
            row.collect()
        });
        let pull = (0..at.len()).map(|i| {
            if self.active[i] {
                product(&slopes[i], residuals) + at[i]
            } else {
                0.0
            }
        });
        (matrix.collect(), pull.collect())
    }
}

/// Huber's cost of residuals, and the prior's.
fn cost(at: &[f64], residuals: &[f64], scale: f64) -> f64 {
    let seen: f64 = residuals
        .iter()
        .map(|r| {
            let r = r.abs() / scale;
            if r < HUBER {
                r * r / 2.0
            } else {
                HUBER * (r - HUBER / 2.0)
            }
        })
        .sum();
    seen + at.iter().map(|u| u * u / 2.0).sum::<f64>()
}

/// The middle one; 0 if there are none.
pub(in crate::judge) fn median(mut values: Vec<f64>) -> f64 {
    values.sort_unstable_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}

/// Cholesky's lower triangle of a symmetric matrix whose diagonal is 1 or more.
fn triangle(matrix: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let n = matrix.len();
    let mut lower = vec![vec![0.0; n]; n];
    for i in 0..n {
        for j in 0..=i {
            let known: f64 = (0..j).map(|k| lower[i][k] * lower[j][k]).sum();
            let rest = matrix[i][j] - known;
            lower[i][j] = if i == j {
                libm::sqrt(rest.max(1e-12))
            } else {
                rest / lower[j][j]
            };
        }
    }
    lower
}

pub(in crate::judge) fn solved(matrix: &[Vec<f64>], right: &[f64]) -> Vec<f64> {
    by_triangle(&triangle(matrix), right)
}

fn by_triangle(lower: &[Vec<f64>], right: &[f64]) -> Vec<f64> {
    let n = right.len();
    let mut out = right.to_vec();
    for i in 0..n {
        let known: f64 = (0..i).map(|k| lower[i][k] * out[k]).sum();
        out[i] = (out[i] - known) / lower[i][i];
    }
    for i in (0..n).rev() {
        let known: f64 = (i + 1..n).map(|k| lower[k][i] * out[k]).sum();
        out[i] = (out[i] - known) / lower[i][i];
    }
    out
}

fn inverse(matrix: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let lower = triangle(matrix);
    let unit = |i: usize| (0..matrix.len()).map(move |j| f64::from(u8::from(i == j)));
    (0..matrix.len())
        .map(|i| by_triangle(&lower, &unit(i).collect::<Vec<_>>()))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A line through points of which every fifth is far off: least squares alone would give slope
    /// 1.6 or more.
    #[test]
    fn a_line_is_found_through_outliers() {
        let points: Vec<(f64, f64)> = (0..40)
            .map(|i| {
                let x = f64::from(i) / 40.0;
                let noise = 0.02 * libm::sin(f64::from(i) * 12.9);
                let stray = if i % 5 == 0 { 3.0 * x } else { 0.0 };
                (x, 0.5 + 1.2 * x + noise + stray)
            })
            .collect();
        let residuals = |u: &[f64]| {
            let line = points.iter().map(|(x, y)| u[0] + u[1] * x - y);
            line.collect()
        };
        let problem = Problem {
            residuals: &residuals,
            limits: &[(-5.0, 5.0); 2],
            active: &[true; 2],
            scale: 0.02,
        };
        let found = problem.solve(&[0.0; 2]);
        assert!((found.at[0] - 0.5).abs() < 0.02, "{:?}", found.at);
        assert!((found.at[1] - 1.2).abs() < 0.06, "{:?}", found.at);
        assert!(found.left < 0.05 && found.variance[1] < 0.01);
    }

    #[test]
    fn what_nothing_speaks_of_stays() {
        let residuals = |u: &[f64]| vec![u[0] - 1.0; 9];
        let problem = Problem {
            residuals: &residuals,
            limits: &[(-5.0, 5.0); 3],
            active: &[true, true, false],
            scale: 0.1,
        };
        let found = problem.solve(&[0.0; 3]);
        assert!((found.at[0] - 1.0).abs() < 0.02);
        assert_eq!(found.at[1..], [0.0; 2]);
        assert!((found.variance[1] - 1.0).abs() < 1e-9);
    }
}
