//! The Planckian locus: chromaticities of a glowing black body.
//!
//! Spectral radiance by Planck's law, `L(lambda) ~ lambda^-5 / (exp(c2 / (lambda T)) - 1)` with
//! `c2 = 1.4388e-2 m K` (CIE 15), summed against the CIE 1931 2 degree observer from 360 to
//! 830 nm. Replacing `c2` by CODATA's 1.438776877e-2 moves xy by less than 4e-6.

use super::cmf::{FIRST_NM, OBSERVER_1931, STEP_NM};
use super::{Uv, Xy};

/// Second radiation constant, m K.
const C2: f64 = 1.4388e-2;

/// A point of the locus with its direction.
#[derive(Clone, Copy, Debug)]
pub(super) struct LocusPoint {
    /// Where the black body lies.
    pub(super) uv: Uv,
    /// Where it moves as it gets colder: unit vector in uv.
    pub(super) toward_cold: [f64; 2],
}

impl LocusPoint {
    /// The point at a signed distance from the locus, at right angles to it: positive is above,
    /// greenish.
    pub(super) fn offset(&self, duv: f64) -> Uv {
        let [u, v] = self.toward_cold;
        Uv {
            u: self.uv.u - v * duv,
            v: self.uv.v + u * duv,
        }
    }
}

/// XYZ of a black body and its derivative by temperature, both in the same arbitrary unit.
fn xyz_and_slope(kelvin: f64) -> ([f64; 3], [f64; 3]) {
    let (mut xyz, mut slope) = ([0.0; 3], [0.0; 3]);
    // Relative to the radiance at 560 nm, so that neither cold nor hot bodies leave the range.
    let reference = 560e-9;
    let at_reference = libm::expm1(C2 / (reference * kelvin));
    for (i, observer) in OBSERVER_1931.iter().enumerate() {
        let metres = (FIRST_NM + STEP_NM * i as f64) * 1e-9;
        let exponent = C2 / (metres * kelvin);
        let excess = libm::expm1(exponent);
        let radiance = libm::pow(reference / metres, 5.0) * (at_reference / excess);
        // d ln L / dT = (x / T) e^x / (e^x - 1)
        let growth = exponent / kelvin * ((excess + 1.0) / excess);
        for k in 0..3 {
            xyz[k] += radiance * observer[k];
            slope[k] += radiance * growth * observer[k];
        }
    }
    (xyz, slope)
}

/// A black body's chromaticity at a temperature in kelvin, limited to 500 ..= 1,000,000.
pub fn planck(kelvin: f64) -> Xy {
    Xy::from_xyz(xyz_and_slope(kelvin.clamp(500.0, 1e6)).0)
}

/// The same in CIE 1960 uv, with its direction.
pub(super) fn locus(kelvin: f64) -> LocusPoint {
    let (xyz, slope) = xyz_and_slope(kelvin.clamp(500.0, 1e6));
    let weigh = |c: [f64; 3]| c[0] + 15.0 * c[1] + 3.0 * c[2];
    let (d, d_slope) = (weigh(xyz), weigh(slope));
    // Quotient rule on u = 4X/d, v = 6Y/d; a rising temperature is the way to the hot end.
    let du = 4.0 * (slope[0] * d - xyz[0] * d_slope) / (d * d);
    let dv = 6.0 * (slope[1] * d - xyz[1] * d_slope) / (d * d);
    let length = libm::hypot(du, dv);
    LocusPoint {
        uv: Uv {
            u: 4.0 * xyz[0] / d,
            v: 6.0 * xyz[1] / d,
        },
        toward_cold: [-du / length, -dv / length],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn black_bodies_lie_where_a_sum_over_every_nanometre_puts_them() {
        // colour-science 0.4.7, CIE 1931 2 degree observer, 360 to 830 nm.
        for (kelvin, x, y) in [
            (2856.0, 0.447538640, 0.407429301),
            (3200.0, 0.423362910, 0.398952994),
            (5500.0, 0.332436382, 0.341036938),
            (6504.0, 0.313465160, 0.323569155),
        ] {
            let ours = planck(kelvin);
            assert!(
                (ours.x - x).abs() < 3e-6 && (ours.y - y).abs() < 3e-6,
                "{kelvin}: {ours:?}"
            );
        }
    }

    #[test]
    fn black_bodies_have_the_printed_channel_ratios() {
        // Linear BT.709 with G = 1: red and blue of a black body, summed over every nanometre with
        // colour-science 0.4.7. Steps of 5 nm cost 2.4e-5 at most.
        const TOLERANCE: f64 = 3e-5;
        use crate::space::primaries::BT709;
        for (kelvin, red, blue) in [
            (3200.0, 1.939901844, 0.376251222),
            (4300.0, 1.431442271, 0.646230509),
            (5500.0, 1.178693374, 0.888044326),
            (10_000.0, 0.876703416, 1.438433231),
        ] {
            let [r, g, b] = BT709.xyz_to_rgb().apply(planck(kelvin).to_xyz());
            assert!((r / g - red).abs() < TOLERANCE, "{kelvin}: {}", r / g);
            assert!((b / g - blue).abs() < TOLERANCE, "{kelvin}: {}", b / g);
        }
    }

    #[test]
    fn the_direction_is_that_of_the_next_point() {
        for kelvin in [1500.0, 3200.0, 6504.0, 20_000.0] {
            let (here, colder) = (locus(kelvin), locus(kelvin * 0.9999));
            let step = [colder.uv.u - here.uv.u, colder.uv.v - here.uv.v];
            let length = libm::hypot(step[0], step[1]);
            for (a, b) in here.toward_cold.iter().zip(step) {
                assert!((a - b / length).abs() < 1e-3, "{kelvin}");
            }
        }
    }

    #[test]
    fn the_ends_are_defined() {
        for kelvin in [0.0, -5.0, 1e9, f64::INFINITY] {
            let end = planck(kelvin);
            assert!(end.x.is_finite() && end.y.is_finite(), "{kelvin}: {end:?}");
        }
    }
}
