//! The five stocks, by class: what each one's layers see, how they develop, and how they grain.
//!
//! Common practice and memory, no source, except where a line says otherwise: the figures were
//! fitted so that the 24-patch chart keeps its hues, and then tuned on pictures.

use crate::look::{ContrastFilter, StockClass};
use lookwright_colour::Mat3;

/// What a stock is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StockData {
    /// Colour temperature at which grey exposes the three layers alike; none for black and white.
    pub balance_kelvin: Option<f64>,
    /// AP1 scene light to layer exposure, rows sum to 1.
    pub layers: Mat3,
    /// Layer densities to densities after the layers held back each other, rows sum to 1.
    pub interimage: Mat3,
    /// Slope of the straight line: density per log10 exposure.
    pub gamma: f64,
    /// Width of the toe's bend in log10 exposure.
    pub toe_log_e: f64,
    /// Width of the shoulder's bend in log10 exposure.
    pub shoulder_log_e: f64,
    /// Length of the straight line from base to where the shoulder ends it, in log10 exposure.
    pub span_log_e: f64,
    /// RMS granularity x1000, 48 um aperture, at density 1.0, per layer.
    pub rms_x1000: [f64; 3],
    /// Correlation length of the grain per layer in um.
    pub grain_um: [f64; 3],
    /// Frequency at half contrast per layer in cycles per mm.
    pub mtf50_per_mm: [f64; 3],
}

/// Layer exposure that keeps the chart's hues when its scan is shown channel by channel.
const LAYERS: [[f64; 3]; 3] = [
    [1.525, -0.648, 0.123],
    [-0.056, 0.945, 0.111],
    [0.065, -0.123, 1.058],
];
/// The interimage matrix that was fitted together with [`LAYERS`].
const INTERIMAGE: [[f64; 3]; 3] = [
    [1.109, -0.043, -0.066],
    [0.012, 0.970, 0.019],
    [-0.013, -0.075, 1.087],
];
/// A direction of more separation: reds dense, whites clean.
const SEPARATION: [[f64; 3]; 3] = [
    [0.25, -0.13, -0.12],
    [-0.10, 0.22, -0.12],
    [-0.08, -0.17, 0.25],
];

impl StockData {
    /// The stock of a class, with a contrast filter for the black-and-white one.
    pub fn of(class: StockClass, filter: ContrastFilter) -> Self {
        match class {
            StockClass::Tungsten500 => Self {
                rms_x1000: [7.0, 6.0, 11.0],
                grain_um: [7.5, 6.5, 9.0],
                mtf50_per_mm: [38.0, 50.0, 60.0],
                toe_log_e: 0.42,
                shoulder_log_e: 0.75,
                ..Self::colour(3200.0, 0.58, 0.15)
            },
            StockClass::Tungsten200 => Self {
                rms_x1000: [5.0, 4.5, 8.0],
                grain_um: [6.0, 5.5, 7.5],
                mtf50_per_mm: [44.0, 56.0, 66.0],
                ..Self::colour(3200.0, 0.60, 0.25)
            },
            StockClass::Daylight250 => Self {
                rms_x1000: [5.5, 5.0, 9.0],
                grain_um: [6.5, 6.0, 8.0],
                mtf50_per_mm: [44.0, 56.0, 66.0],
                ..Self::colour(5500.0, 0.60, 0.35)
            },
            StockClass::Daylight50 => Self {
                rms_x1000: [3.5, 3.0, 5.0],
                grain_um: [4.5, 4.0, 5.5],
                mtf50_per_mm: [52.0, 65.0, 75.0],
                toe_log_e: 0.30,
                shoulder_log_e: 0.55,
                ..Self::colour(5500.0, 0.62, 0.6)
            },
            StockClass::Panchromatic250 => Self {
                balance_kelvin: None,
                layers: Mat3([panchromatic_weights(filter); 3]),
                interimage: Mat3::IDENTITY,
                gamma: 0.65,
                rms_x1000: [7.0; 3],
                grain_um: [7.0; 3],
                mtf50_per_mm: [50.0; 3],
                ..Self::colour(5500.0, 0.65, 0.0)
            },
        }
    }

    /// What the colour stocks share; `separation` adds to the fitted interimage.
    fn colour(balance_kelvin: f64, gamma: f64, separation: f64) -> Self {
        let mut interimage = INTERIMAGE;
        for (row, more) in interimage.iter_mut().zip(SEPARATION) {
            for (cell, more) in row.iter_mut().zip(more) {
                *cell += more * separation;
            }
        }
        Self {
            balance_kelvin: Some(balance_kelvin),
            layers: rows_to_one(LAYERS),
            interimage: rows_to_one(interimage),
            gamma,
            toe_log_e: 0.36,
            shoulder_log_e: 0.65,
            span_log_e: 3.45,
            rms_x1000: [5.0; 3],
            grain_um: [6.0; 3],
            mtf50_per_mm: [45.0; 3],
        }
    }
}

/// What a panchromatic emulsion sees of AP1 red, green and blue, and what each contrast filter
/// leaves of it (a light red one darkens skies, a green one lightens leaves).
fn panchromatic_weights(filter: ContrastFilter) -> [f64; 3] {
    let weights = match filter {
        ContrastFilter::None => [0.30, 0.48, 0.22],
        ContrastFilter::LightRed => [0.80, 0.20, 0.00],
        ContrastFilter::Yellow => [0.42, 0.54, 0.04],
        ContrastFilter::Green => [0.12, 0.80, 0.08],
    };
    rows_to_one([weights; 3]).0[0]
}

/// Divides each row by its sum, so that grey stays grey to the last digit.
fn rows_to_one(rows: [[f64; 3]; 3]) -> Mat3 {
    Mat3(rows.map(|row| {
        let sum: f64 = row.iter().sum();
        row.map(|cell| cell / sum)
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::Options;

    #[test]
    fn grey_exposes_and_develops_all_layers_alike() {
        for class in StockClass::ALL {
            for filter in ContrastFilter::ALL {
                let stock = StockData::of(*class, *filter);
                for matrix in [stock.layers, stock.interimage] {
                    for row in matrix.0 {
                        assert!((row.iter().sum::<f64>() - 1.0).abs() < 1e-12);
                    }
                }
            }
        }
    }
}
