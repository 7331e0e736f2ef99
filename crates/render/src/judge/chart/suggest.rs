//! The trim that a chart's greys ask for.

use lookwright_film::path::lens::{light_balance, light_of};

use super::published::{FIRST_GREY, PATCHES, luminance, scene_lin};
use super::read::Reading;

/// A grey's reading that lies farther from the others' counts less, in stops (Huber, Robust Statistics,
/// 1981): whites of charts differ by half of that as they age.
const HUBER: f64 = 0.03;
/// Flare lifts black most, so it counts little. *Chosen.*
const OF_BLACK: f64 = 0.1;
/// Ends of the trim's exposure, in stops.
const MOST_STOPS: f64 = 6.0;

/// Exposure and light that bring a chart's greys to their published reflectances.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChartTrim {
    /// Stops, for the trim's exposure.
    pub exposure: f64,
    /// Kelvin, for the trim's light.
    pub kelvin: f64,
    /// Duv, for the trim's tint.
    pub tint: f64,
    /// How many of the six greys told it: those that are not clipped.
    pub greys: usize,
}

/// Of readings without a trim; none if all greys but black are clipped or dark.
pub(super) fn trim(readings: &[Reading; PATCHES]) -> Option<ChartTrim> {
    let greys: Vec<usize> = (FIRST_GREY..PATCHES)
        .filter(|i| !readings[*i].clipped && readings[*i].scene_lin.iter().all(|v| *v > 1e-5))
        .collect();
    if greys.iter().all(|i| *i == PATCHES - 1) {
        return None;
    }
    let light = [0, 1, 2].map(|c| {
        let stops: Vec<(f64, f64)> = greys
            .iter()
            .map(|i| {
                let weight = if *i == PATCHES - 1 { OF_BLACK } else { 1.0 };
                (
                    libm::log2(readings[*i].scene_lin[c] / scene_lin(*i)[c]),
                    weight,
                )
            })
            .collect();
        libm::exp2(settled(&stops))
    });
    let (kelvin, tint) = light_of(light);
    // Adding zero takes the sign off a zero, which would be another setting in a file.
    let (kelvin, tint) = (
        libm::round(kelvin / 5.0) * 5.0,
        libm::round(tint * 1e4) / 1e4 + 0.0,
    );
    let grey = luminance(light_balance(kelvin, tint, 1.0).apply(light));
    let exposure = -libm::log2(grey);
    Some(ChartTrim {
        exposure: libm::round(exposure.clamp(-MOST_STOPS, MOST_STOPS) * 100.0) / 100.0,
        kelvin,
        tint,
        greys: greys.len(),
    })
}

/// Huber's mean of values with weights, by reweighting from their median on.
fn settled(values: &[(f64, f64)]) -> f64 {
    let mut sorted: Vec<f64> = values.iter().map(|v| v.0).collect();
    sorted.sort_unstable_by(f64::total_cmp);
    let half = sorted.len() / 2;
    let mut at = (sorted[half] + sorted[(sorted.len() - 1) / 2]) / 2.0;
    for _ in 0..20 {
        let weighed = |(value, weight): &(f64, f64)| {
            let near = (HUBER / (value - at).abs().max(1e-9)).min(1.0);
            (value * weight * near, weight * near)
        };
        let sums = values.iter().map(weighed);
        let (sum, weight) = sums.fold((0.0, 0.0), |a, b| (a.0 + b.0, a.1 + b.1));
        at = sum / weight;
    }
    at
}
