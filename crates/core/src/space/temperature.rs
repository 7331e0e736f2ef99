//! Colour temperature and tint: from kelvin and Duv to a white, and back.
//!
//! Correlated colour temperature is that of the nearest black body in CIE 1960 uv, and Duv the
//! signed distance to it (Ohno, LEUKOS 10(1), 2014; ANSI C78.377): positive lies above the locus
//! and looks greenish, negative looks pinkish. Equal steps of a slider should be equal steps in
//! mired, `1e6 / kelvin`.

use super::daylight::daylight;
use super::planck::{LocusPoint, locus};
use super::{Uv, Xy};

/// Coldest and warmest light that [`white_of`] and [`planckian_white`] give, kelvin.
pub const KELVIN_MIN: f64 = 1500.0;
/// See [`KELVIN_MIN`].
pub const KELVIN_MAX: f64 = 25_000.0;
/// Largest distance from the locus that is still a white, either way (CIE 15: beyond 0.05 a
/// colour temperature has no meaning).
pub const DUV_MAX: f64 = 0.05;

/// Below this the page's lights are black bodies, kelvin.
const LAMPS_BELOW: f64 = 4000.0;
/// Above this they are daylight, kelvin.
const DAYLIGHT_ABOVE: f64 = 5000.0;

/// The white of a temperature and tint control.
///
/// Up to 4000 K a black body, from 5000 K on the CIE daylight locus, and between them a blend in
/// uv by a smooth step in mired; Duv is then added at right angles to the Planckian locus. The
/// path is continuous, its temperature rises with `kelvin`, and on the daylight side `duv` 0
/// means daylight as it is (about 0.003 above the Planckian locus).
///
/// `kelvin` is limited to [`KELVIN_MIN`] ..= [`KELVIN_MAX`], `duv` to +-[`DUV_MAX`].
pub fn white_of(kelvin: f64, duv: f64) -> Xy {
    let kelvin = kelvin.clamp(KELVIN_MIN, KELVIN_MAX);
    let black_body = locus(kelvin);
    let offset = black_body.offset(duv.clamp(-DUV_MAX, DUV_MAX));
    let day = daylight(kelvin).to_uv();
    let weight = daylight_weight(kelvin);
    Uv {
        u: offset.u + weight * (day.u - black_body.uv.u),
        v: offset.v + weight * (day.v - black_body.uv.v),
    }
    .to_xy()
}

/// Share of daylight in [`white_of`]: 0 for lamps, 1 for daylight, a smooth step in mired between.
fn daylight_weight(kelvin: f64) -> f64 {
    let mired = |k: f64| 1e6 / k;
    let t = (mired(LAMPS_BELOW) - mired(kelvin)) / (mired(LAMPS_BELOW) - mired(DAYLIGHT_ABOVE));
    let t = t.clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

/// The chromaticity at a distance from the Planckian locus, at right angles to it, at any
/// temperature: the inverse of [`temperature_of`]. Limits as in [`white_of`].
pub fn planckian_white(kelvin: f64, duv: f64) -> Xy {
    locus(kelvin.clamp(KELVIN_MIN, KELVIN_MAX))
        .offset(duv.clamp(-DUV_MAX, DUV_MAX))
        .to_xy()
}

/// A correlated colour temperature with its distance from the Planckian locus.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Temperature {
    /// Correlated colour temperature, kelvin.
    pub kelvin: f64,
    /// Distance from the Planckian locus in CIE 1960 uv: positive above (greenish).
    pub duv: f64,
}

/// The correlated colour temperature and Duv of a chromaticity, by bisection in mired between
/// 1000 K and 100,000 K for the point of the locus whose normal passes through it.
pub fn temperature_of(white: Xy) -> Temperature {
    let uv = white.to_uv();
    let along =
        |p: &LocusPoint| (uv.u - p.uv.u) * p.toward_cold[0] + (uv.v - p.uv.v) * p.toward_cold[1];
    let (mut hot, mut cold) = (10.0, 1000.0);
    // Each step halves 990 mired; 48 of them end far below the rounding of the sums.
    for _ in 0..48 {
        let middle = 0.5 * (hot + cold);
        if along(&locus(1e6 / middle)) > 0.0 {
            hot = middle;
        } else {
            cold = middle;
        }
    }
    let kelvin = 1e6 / (0.5 * (hot + cold));
    let nearest = locus(kelvin);
    let (du, dv) = (uv.u - nearest.uv.u, uv.v - nearest.uv.v);
    let [tu, tv] = nearest.toward_cold;
    Temperature {
        kelvin,
        duv: dv * tu - du * tv,
    }
}
