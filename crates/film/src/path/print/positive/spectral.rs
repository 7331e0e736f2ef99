//! The positive's dyes as spectra, in double precision: what the closed form stands for.
//!
//! Each dye is a skewed bell with unwanted bands beside it. *Chosen*: no dye spectra with a licence
//! could be found; placed so that a grey of visual density 1.00 reads 1.09, 1.06, 1.03 through status
//! A (Kodak H-61's aim). Neutral density `D` means amounts of all three that together are visually
//! neutral at `D`, as a positive's own greys are.

use serde_json::Value;

/// A bell: height, peak and widths to the left and right in nm.
struct Bell(f64, f64, f64, f64);

const CYAN: [Bell; 3] = [
    Bell(1.0, 654.4, 54.5, 60.6),
    Bell(0.074, 540.0, 70.0, 50.0),
    Bell(0.097, 430.0, 45.0, 45.0),
];
const MAGENTA: [Bell; 3] = [
    Bell(1.0, 542.3, 28.7, 29.1),
    Bell(0.135, 430.0, 40.0, 45.0),
    Bell(0.03, 660.0, 60.0, 60.0),
];
const YELLOW: [Bell; 2] = [Bell(1.0, 456.0, 41.3, 37.5), Bell(0.041, 530.0, 40.0, 40.0)];

fn absorbed(bells: &[Bell], nm: f64) -> f64 {
    let one = |Bell(height, peak, left, right): &Bell| {
        let t = (nm - peak) / if nm < *peak { left } else { right };
        height * libm::exp(-0.5 * t * t)
    };
    bells.iter().map(one).sum()
}

/// The observer, the light and the densitometer, every 5 nm from 380 to 730.
pub(super) struct Bench {
    /// Densities of the three dyes at each wavelength.
    dyes: Vec<[f64; 3]>,
    /// The observer in D55, whose white has Y = 1.
    seen: Vec<[f64; 3]>,
    status_a: [Vec<f64>; 3],
    pub(super) reference: Value,
}

impl Bench {
    pub(super) fn new() -> Self {
        let text = include_str!(concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/../../tests/reference/positive.json"
        ));
        let reference: Value = serde_json::from_str(text).unwrap();
        let d55 = numbers(&reference["d55"]);
        let mut seen: Vec<[f64; 3]> = reference["observer"]
            .as_array()
            .unwrap()
            .iter()
            .zip(&d55)
            .map(|(row, light)| [0, 1, 2].map(|i| row[i].as_f64().unwrap() * light))
            .collect();
        let whole: f64 = seen.iter().map(|row| row[1]).sum();
        for value in seen.iter_mut().flatten() {
            *value /= whole;
        }
        Self {
            dyes: numbers(&reference["nm"])
                .into_iter()
                .map(|nm| [&CYAN[..], &MAGENTA, &YELLOW].map(|dye| absorbed(dye, nm)))
                .collect(),
            seen,
            status_a: [0, 1, 2].map(|i| numbers(&reference["status_a"][i])),
            reference,
        }
    }

    fn transmitted(&self, amounts: [f64; 3]) -> impl Iterator<Item = f64> {
        self.dyes
            .iter()
            .map(move |dye| libm::pow(10.0, -(0..3).map(|i| dye[i] * amounts[i]).sum::<f64>()))
    }

    /// XYZ of D55 through these amounts, the clear base having Y = 1.
    pub(super) fn xyz(&self, amounts: [f64; 3]) -> [f64; 3] {
        let mut sum = [0.0; 3];
        for (t, seen) in self.transmitted(amounts).zip(&self.seen) {
            for i in 0..3 {
                sum[i] += t * seen[i];
            }
        }
        sum
    }

    /// Status A densities.
    pub(super) fn status_a(&self, amounts: [f64; 3]) -> [f64; 3] {
        [0, 1, 2].map(|i| {
            let response = &self.status_a[i];
            let through: f64 = self
                .transmitted(amounts)
                .zip(response)
                .map(|(t, w)| t * w)
                .sum();
            -libm::log10(through / response.iter().sum::<f64>())
        })
    }

    /// The amounts that together are neutral at this density (Newton's method).
    pub(super) fn neutral(&self, density: f64) -> [f64; 3] {
        let white = self.xyz([0.0; 3]);
        let off = |amounts: [f64; 3]| {
            let xyz = self.xyz(amounts);
            [0, 1, 2].map(|i| -libm::log10(xyz[i] / white[i]) - density)
        };
        let mut amounts = [0.9 * density; 3];
        for _ in 0..14 {
            let here = off(amounts);
            let mut slopes = [[0.0; 3]; 3];
            for j in 0..3 {
                let mut moved = amounts;
                moved[j] += 1e-4;
                let there = off(moved);
                for i in 0..3 {
                    slopes[i][j] = (there[i] - here[i]) / 1e-4;
                }
            }
            let step = lookwright_colour::Mat3(slopes)
                .inverse()
                .unwrap()
                .apply(here);
            for i in 0..3 {
                amounts[i] -= step[i];
            }
        }
        amounts
    }

    /// The amounts of a patch whose layers have these neutral densities.
    pub(super) fn amounts(&self, density: [f64; 3]) -> [f64; 3] {
        [0, 1, 2].map(|i| self.neutral(density[i])[i])
    }
}

/// An array of numbers.
pub(super) fn numbers(value: &Value) -> Vec<f64> {
    let array = value.as_array().unwrap();
    array.iter().map(|v| v.as_f64().unwrap()).collect()
}
