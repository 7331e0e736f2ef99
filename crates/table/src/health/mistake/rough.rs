//! Nodes that are rounded or noisy.

use super::nodes::Nodes;
use super::{Diagnosis, Found};
use crate::health::finding::Severity;

/// A value is a code of 8 bits if it is this near to one: six decimals are within 0.0001, a lattice picture's
/// codes within 0.002.
const ON_CODE: f32 = 0.004;
/// Standard deviation of the nodes' noise that is told, in codes of 8 bits of what is white, and from which
/// it will show; rounding to 8 bits has 0.29.
const NOISE_MINOR: f64 = 0.4;
const NOISE_SERIOUS: f64 = 1.0;
/// Least share of neighbours whose residues differ in sign. Of white noise 0.73 do (1/2 + asin(2/3) / pi for
/// second differences), of smooth curves hardly any.
const ALTERNATES: f64 = 0.6;
/// Standard deviation of a second difference along each of three axes, in those of a node: (1 + 4 + 1)^(3/2).
const SPREAD: f64 = 14.696_938_456_699_07;
/// Median of the size of a normal quantity, in its standard deviations.
const MEDIAN: f64 = 0.674_489_750_196_081_7;

/// Every value a code of 8 bits, and not because the lattice itself stands on those.
pub(super) fn eight_bits(nodes: &Nodes<'_>) -> Option<Found> {
    let on = |value: f32, steps: f32| (value * steps - (value * steps).round()).abs() < ON_CODE;
    let values = || nodes.grid.nodes().iter().flatten().copied();
    if nodes.most() > 1.001 || !values().all(|v| on(v, 255.0)) {
        return None;
    }
    let own = (nodes.size() - 1) as f32;
    let all = (nodes.grid.nodes().len() * 3) as f64;
    let off_lattice = values().filter(|&v| !on(v, own)).count() as f64 / all;
    (off_lattice > 0.05).then(|| Found {
        severity: Severity::Minor,
        ..Found::serious(
            Diagnosis::EightBits,
            "The values are rounded to codes of 8 bits, so gradients may band.".to_owned(),
            String::new(),
            "Write the table with six decimals, or a lattice picture of 16 bits.".to_owned(),
        )
    })
}

/// The second difference along all three axes at once: next to nothing where a table is smooth, or a sum or
/// product of curves.
fn residue(nodes: &Nodes<'_>, [r, g, b]: [usize; 3], channel: usize) -> f64 {
    const WEIGHT: [f64; 3] = [1.0, -2.0, 1.0];
    let mut sum = 0.0;
    for (k, wk) in WEIGHT.into_iter().enumerate() {
        for (j, wj) in WEIGHT.into_iter().enumerate() {
            for (i, wi) in WEIGHT.into_iter().enumerate() {
                let node = nodes.grid.node([r + i - 1, g + j - 1, b + k - 1]);
                sum += wi * wj * wk * f64::from(node[channel]);
            }
        }
    }
    sum
}

pub(super) fn noise(nodes: &Nodes<'_>) -> Option<Found> {
    let size = nodes.size();
    if size < 7 {
        return None;
    }
    let (mut sizes, mut pairs, mut differ) = (Vec::new(), 0_u32, 0_u32);
    for channel in 0..3 {
        for b in 1..size - 1 {
            for g in 1..size - 1 {
                let mut before = 0.0;
                for r in 1..size - 1 {
                    let here = residue(nodes, [r, g, b], channel);
                    // Where it is held at an end there is no noise to see.
                    if here.abs() > 1e-7 {
                        sizes.push(here.abs());
                        if before != 0.0 {
                            pairs += 1;
                            differ += u32::from(here * before < 0.0);
                        }
                    }
                    before = if here.abs() > 1e-7 { here } else { 0.0 };
                }
            }
        }
    }
    // Of a few nodes nothing can be said.
    if sizes.len() < 300 || f64::from(differ) < ALTERNATES * f64::from(pairs) {
        return None;
    }
    let middle = sizes.len() / 2;
    let (_, median, _) = sizes.select_nth_unstable_by(middle, f64::total_cmp);
    let codes = *median / (MEDIAN * SPREAD) * 255.0 / f64::from(nodes.white()).max(1e-6);
    let severity = Severity::of(codes, NOISE_MINOR, NOISE_SERIOUS);
    (severity > Severity::Info).then(|| Found {
        severity,
        ..Found::serious(
            Diagnosis::Noise,
            "The nodes are noisy: each is a little off what those around it say.".to_owned(),
            format!("noise of {codes:.2} codes of 8 bits (standard deviation)"),
            "Make the table from formulas or from a clean lattice, not from a photographed, noisy or \
             compressed one."
                .to_owned(),
        )
    })
}
