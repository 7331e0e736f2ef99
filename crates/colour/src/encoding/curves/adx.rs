//! ADX: the Academy's density encoding of film scans (SMPTE ST 2065-3), read as light.
//!
//! Codes count printing density above the base (ST 2065-2): `(code - 95) / 500` with 10 bits,
//! `(code - 1520) / 8000` with 16. What each channel has of its neighbours' dyes is taken out first
//! ([`UNMIXING`]); then `log10 E = D 100/55 - 2.017454768` from a density of 0.6 on, and straight lines
//! between published points below. Source: the Academy's transforms from ADX10 and ADX16 to ACES.

use super::{FULL_10_BIT, TransferCurve};
use crate::lane::Lane;
use crate::{Mat3, encoding::ScanDensity};

/// Channel-dependent density to channel-independent. Its rows make 1, so it is the same on codes.
pub(in super::super) const UNMIXING: Mat3 = Mat3([
    [0.75573, 0.22197, 0.02230],
    [0.05901, 0.96928, -0.02829],
    [0.16134, 0.07406, 0.76460],
]);

/// Density of full scale and of the base's code, for each depth.
const TEN: [f64; 2] = [FULL_10_BIT / 500.0, 95.0 / 500.0];
const SIXTEEN: [f64; 2] = [65535.0 / 8000.0, 1520.0 / 8000.0];

const fn density([full_scale, base]: [f64; 2]) -> ScanDensity {
    ScanDensity {
        full_scale,
        base,
        gamma: 0.55,
        grey: 0.7,
    }
}

pub(in super::super) const DENSITY_10: ScanDensity = density(TEN);
pub(in super::super) const DENSITY_16: ScanDensity = density(SIXTEEN);

pub(in super::super) const CURVE_10: Adx = Adx(TEN);
pub(in super::super) const CURVE_16: Adx = Adx(SIXTEEN);

/// Density and log10 exposure of the points.
const POINTS: [[f64; 2]; 11] = [
    [-0.19, -6.0],
    [0.01, -2.721_718_645],
    [0.028, -2.521_718_645],
    [0.054, -2.321_718_645],
    [0.095, -2.121_718_645],
    [0.145, -1.921_718_645],
    [0.22, -1.721_718_645],
    [0.3, -1.521_718_645],
    [0.4, -1.321_718_645],
    [0.5, -1.121_718_645],
    [0.6, -0.926_545_676_714_876],
];

/// Exposure per density of the line from `POINTS[i]` on.
const fn slope(i: usize) -> f64 {
    if i + 1 == POINTS.len() {
        return 100.0 / 55.0;
    }
    (POINTS[i + 1][1] - POINTS[i][1]) / (POINTS[i + 1][0] - POINTS[i][0])
}

/// Density of full scale and of the base.
#[derive(Clone, Copy)]
pub(in super::super) struct Adx([f64; 2]);

impl TransferCurve for Adx {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        let [full_scale, base] = self.0;
        let density = (code * full_scale as f32 - base as f32).max(code.of(POINTS[0][0] as f32));
        on_lines(density, 0, 1, slope).exp10()
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        let [full_scale, base] = self.0;
        let darkest = lin.of(libm::exp10(POINTS[0][1]) as f32);
        let density = on_lines(lin.max(darkest).log10(), 1, 0, |i| 1.0 / slope(i));
        (density + base as f32) * (1.0 / full_scale) as f32
    }
}

/// The lines between the points, `x` and `y` being which of their numbers; the last one goes on.
#[inline(always)]
fn on_lines<L: Lane>(value: L, x: usize, y: usize, slope: impl Fn(usize) -> f64) -> L {
    let line = |i: usize| (value - POINTS[i][x] as f32) * slope(i) as f32 + POINTS[i][y] as f32;
    let last = POINTS.len() - 1;
    (0..last).rev().fold(line(last), |above, i| {
        value.below(POINTS[i + 1][x] as f32, line(i), above)
    })
}
