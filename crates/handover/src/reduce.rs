//! The nearest ASC CDL of a function, and how far it is off.
//!
//! Ten numbers are fitted by damped least squares (Marquardt, J. SIAM 11, 1963) and then held
//! against the function where it was not fitted. Most looks do not reduce: a film's curve bends at
//! both ends and its layers mix colours, which slope, offset, power and saturation cannot.

use lookwright_colour::{Result, Rgb};
use lookwright_table::cdl::{Cdl, Clamp};
use lookwright_table::health::halton;

/// A function is an ASC CDL if no colour differs by more than one code of 10 bits.
pub const EXACT_WITHIN: f32 = 1.0 / 1023.0;

/// Points that are fitted, and points that are compared.
const FITTED: usize = 256;
const COMPARED: usize = 2048;
const ROUNDS: usize = 60;
const NUMBERS: usize = 10;
/// Step of the slopes, on numbers of about 1.
const STEP: f64 = 1e-3;

/// A fitted correction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    /// The correction, held to 0 ... 1.
    pub cdl: Cdl,
    /// Its largest difference to the function, in codes of 1.
    pub largest: f32,
    /// The input of the largest.
    pub worst_input: [f32; 3],
}

impl Nearest {
    /// Whether the function is this correction.
    #[must_use]
    pub fn is_exact(&self) -> bool {
        self.largest <= EXACT_WITHIN
    }

    /// How far off it is, in words.
    #[must_use]
    pub fn told(&self) -> String {
        let [r, g, b] = self.worst_input;
        format!(
            "the nearest one is {:.0} of 1023 codes off at code {r:.3} {g:.3} {b:.3}",
            self.largest * 1023.0
        )
    }
}

/// The nearest correction of a function over codes 0 ... 1. What the function gives beyond 0 ... 1
/// counts as its ends.
///
/// # Errors
/// None for a function that gives finite numbers.
pub fn nearest(exact: impl Fn([f32; 3]) -> [f32; 3]) -> Result<Nearest> {
    let held = |input: [f32; 3]| exact(input).map(|v| v.clamp(0.0, 1.0));
    let mut inputs = halton(FITTED);
    inputs.extend((0..33).map(|i| [i as f32 / 32.0; 3]));
    let wanted: Vec<[f32; 3]> = inputs.iter().map(|&input| held(input)).collect();

    let mut numbers = [1.0, 1.0, 1.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0];
    let mut misses = differences(&numbers, &inputs, &wanted)?;
    let mut damping = 1e-2;
    for _ in 0..ROUNDS {
        let (curvature, slope) = normal_equations(&numbers, &inputs, &wanted, &misses)?;
        let mut damped = curvature;
        for (i, row) in damped.iter_mut().enumerate() {
            row[i] += damping * (row[i] + 1e-9);
        }
        let Some(change) = solved(damped, slope) else {
            break;
        };
        let tried = allowed(core::array::from_fn(|i| numbers[i] - change[i]));
        let now = differences(&tried, &inputs, &wanted)?;
        if squares(&now) < squares(&misses) {
            numbers = tried;
            misses = now;
            damping = (damping * 0.2).max(1e-9);
        } else {
            damping *= 8.0;
            if damping > 1e8 {
                break;
            }
        }
    }

    let cdl = cdl_of(&numbers)?;
    let mut worst = (0.0, [0.0; 3]);
    let corners = (0..8).map(|i| [i & 1, i >> 1 & 1, i >> 2].map(|bit| bit as f32));
    for input in halton(COMPARED).into_iter().chain(corners).chain(inputs) {
        let got = cdl.apply(Rgb::from_array(input), Clamp::On).to_array();
        let want = held(input);
        for channel in 0..3 {
            let apart = (got[channel] - want[channel]).abs();
            if apart > worst.0 {
                worst = (apart, input);
            }
        }
    }
    Ok(Nearest {
        cdl,
        largest: worst.0,
        worst_input: worst.1,
    })
}

/// Slopes, powers and saturation may not fall to zero or below.
fn allowed(mut numbers: [f64; NUMBERS]) -> [f64; NUMBERS] {
    for (i, number) in numbers.iter_mut().enumerate() {
        if !(3..6).contains(&i) {
            *number = number.max(0.01);
        }
        *number = number.clamp(-20.0, 20.0);
    }
    numbers
}

fn cdl_of(numbers: &[f64; NUMBERS]) -> Result<Cdl> {
    let three = |at: usize| core::array::from_fn(|c| numbers[at + c] as f32);
    Cdl::new(three(0), three(3), three(6), numbers[9] as f32)
}

fn differences(
    numbers: &[f64; NUMBERS],
    inputs: &[[f32; 3]],
    wanted: &[[f32; 3]],
) -> Result<Vec<f64>> {
    let cdl = cdl_of(numbers)?;
    let mut out = Vec::with_capacity(inputs.len() * 3);
    for (input, want) in inputs.iter().zip(wanted) {
        let got = cdl.apply(Rgb::from_array(*input), Clamp::On).to_array();
        out.extend((0..3).map(|c| f64::from(got[c]) - f64::from(want[c])));
    }
    Ok(out)
}

fn squares(differences: &[f64]) -> f64 {
    differences.iter().map(|d| d * d).sum()
}

type Matrix = [[f64; NUMBERS]; NUMBERS];

/// `J^T J` and `J^T r`, the slopes by central differences.
fn normal_equations(
    numbers: &[f64; NUMBERS],
    inputs: &[[f32; 3]],
    wanted: &[[f32; 3]],
    misses: &[f64],
) -> Result<(Matrix, [f64; NUMBERS])> {
    let mut slopes = Vec::with_capacity(NUMBERS);
    for i in 0..NUMBERS {
        let moved = |by: f64| {
            let mut moved = *numbers;
            moved[i] += by;
            differences(&moved, inputs, wanted)
        };
        let (up, down) = (moved(STEP)?, moved(-STEP)?);
        let slope: Vec<f64> = up
            .iter()
            .zip(down)
            .map(|(u, d)| (u - d) / (2.0 * STEP))
            .collect();
        slopes.push(slope);
    }
    let product = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>();
    let curvature =
        core::array::from_fn(|i| core::array::from_fn(|j| product(&slopes[i], &slopes[j])));
    let slope = core::array::from_fn(|i| product(&slopes[i], misses));
    Ok((curvature, slope))
}

/// Gaussian elimination with row exchange; `None` if the matrix is singular.
fn solved(mut matrix: Matrix, mut right: [f64; NUMBERS]) -> Option<[f64; NUMBERS]> {
    for column in 0..NUMBERS {
        let by_size = |a: &usize, b: &usize| {
            matrix[*a][column]
                .abs()
                .total_cmp(&matrix[*b][column].abs())
        };
        let pivot = (column..NUMBERS).max_by(by_size)?;
        if matrix[pivot][column].abs() < 1e-14 {
            return None;
        }
        matrix.swap(column, pivot);
        right.swap(column, pivot);
        for row in column + 1..NUMBERS {
            let factor = matrix[row][column] / matrix[column][column];
            let above = matrix[column];
            for (cell, upper) in matrix[row].iter_mut().zip(above).skip(column) {
                *cell -= factor * upper;
            }
            right[row] -= factor * right[column];
        }
    }
    let mut out = [0.0; NUMBERS];
    for row in (0..NUMBERS).rev() {
        let known: f64 = (row + 1..NUMBERS).map(|j| matrix[row][j] * out[j]).sum();
        out[row] = (right[row] - known) / matrix[row][row];
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The example of the ASC formula that the core's own tests check against OpenColorIO.
    #[test]
    fn a_correction_is_found_again() {
        for (slope, offset, power, saturation) in [
            (
                [1.1, 1.0, 0.9],
                [-0.03, -0.02, 0.04],
                [1.25, 1.0, 0.8],
                0.85,
            ),
            ([1.0; 3], [0.0; 3], [1.0; 3], 1.0),
            ([0.7, 0.8, 0.9], [0.1, 0.0, -0.05], [0.6, 1.5, 1.0], 1.3),
        ] {
            let cdl = Cdl::new(slope, offset, power, saturation).unwrap();
            let found = nearest(|v| cdl.apply(Rgb::from_array(v), Clamp::On).to_array()).unwrap();
            assert!(found.is_exact(), "{found:?}");
            for c in 0..3 {
                assert!((found.cdl.slope()[c] - slope[c]).abs() < 0.01, "{found:?}");
                assert!((found.cdl.power()[c] - power[c]).abs() < 0.01, "{found:?}");
            }
        }
    }

    #[test]
    fn a_bend_at_both_ends_and_mixed_layers_are_none() {
        let bent = nearest(|v| v.map(|x| x * x * (3.0 - 2.0 * x))).unwrap();
        assert!(!bent.is_exact(), "{bent:?}");
        let mixed = nearest(|[r, g, b]| [0.8 * r + 0.2 * b, g, b]).unwrap();
        assert!(!mixed.is_exact() && mixed.told().contains("of 1023 codes off"));
    }
}
