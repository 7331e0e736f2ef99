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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::space::{planck, white};

    fn distance(a: Xy, b: Xy) -> f64 {
        libm::hypot(a.x - b.x, a.y - b.y)
    }

    #[test]
    fn known_whites_have_their_published_temperature_and_tint() {
        // Ohno's method (LEUKOS 10(1), 2014) by colour-science 0.4.7. Its table of the locus costs
        // it a few tenths of a kelvin.
        for (name, xy, kelvin, duv) in [
            ("D65", white::D65, 6504.3148, 0.003207),
            ("D55", white::D55, 5502.3683, 0.003255),
            ("D50", white::D50, 5000.6961, 0.003193),
            ("ACES", white::ACES, 6000.0403, 0.003237),
            ("A", Xy::new(0.44758, 0.40745), 2855.4903, 0.000003),
            ("E", Xy::new(1.0 / 3.0, 1.0 / 3.0), 5455.4612, -0.004424),
        ] {
            let ours = temperature_of(xy);
            assert!((ours.kelvin - kelvin).abs() < 0.3, "{name}: {ours:?}");
            assert!((ours.duv - duv).abs() < 1.5e-6, "{name}: {ours:?}");
        }
    }

    #[test]
    fn temperature_and_tint_have_their_published_chromaticity() {
        for (kelvin, duv, x, y) in [
            (3200.0, 0.0, 0.423361264, 0.398953701),
            (3200.0, 0.01, 0.436856929, 0.429721434),
            (3200.0, -0.01, 0.411076984, 0.370947712),
            (5500.0, 0.003, 0.332482318, 0.346979076),
            (6504.0, 0.003, 0.312754536, 0.328650820),
        ] {
            let error = distance(planckian_white(kelvin, duv), Xy::new(x, y));
            assert!(error < 1e-5, "{kelvin} K, {duv}: off by {error:e}");
        }
    }

    #[test]
    fn a_white_comes_back_from_its_temperature_and_tint() {
        for kelvin in [1600.0, 2856.0, 4500.0, 6504.0, 12_000.0, 24_000.0] {
            for duv in [-0.02, -0.003, 0.0, 0.01, 0.02] {
                let back = temperature_of(planckian_white(kelvin, duv));
                assert!(
                    (back.kelvin / kelvin - 1.0).abs() < 1e-6,
                    "{kelvin}, {duv}: {back:?}"
                );
                assert!((back.duv - duv).abs() < 1e-9, "{kelvin}, {duv}: {back:?}");
            }
        }
    }

    #[test]
    fn positive_tint_is_greenish() {
        use crate::space::primaries::BT709;
        let green_share = |duv| {
            let [r, g, b] = BT709.xyz_to_rgb().apply(white_of(5500.0, duv).to_xyz());
            g / (r + g + b)
        };
        assert!(green_share(0.01) > green_share(0.0));
        assert!(green_share(0.0) > green_share(-0.01));
    }

    #[test]
    fn lamps_are_black_bodies_and_days_are_daylight() {
        for kelvin in [1500.0, 2856.0, 3200.0, 4000.0] {
            assert!(distance(white_of(kelvin, 0.0), planck(kelvin)) < 1e-14);
        }
        for kelvin in [5000.0, 5500.0, 6504.0, 25_000.0] {
            assert!(distance(white_of(kelvin, 0.0), daylight(kelvin)) < 1e-14);
        }
    }

    #[test]
    fn the_way_from_lamp_to_daylight_has_no_step_and_never_turns_back() {
        for duv in [-0.01, 0.0, 0.01] {
            let mut previous = (white_of(1e6 / 39.0, duv), 1e9);
            for half in 80..=1333 {
                let mired = f64::from(half) / 2.0;
                let here = white_of(1e6 / mired, duv);
                let kelvin = temperature_of(here).kelvin;
                assert!(kelvin < previous.1, "{mired} mired, duv {duv}: {kelvin} K");
                // The locus itself moves by up to 6e-4 per half mired.
                let step = distance(here, previous.0);
                assert!(half == 80 || step < 1e-3, "{mired} mired: {step:e}");
                previous = (here, kelvin);
            }
        }
    }

    #[test]
    fn controls_beyond_their_ends_stay_there() {
        assert_eq!(white_of(0.0, 0.0), white_of(KELVIN_MIN, 0.0));
        assert_eq!(white_of(1e9, 1.0), white_of(KELVIN_MAX, DUV_MAX));
        assert_eq!(white_of(4000.0, -1.0), white_of(4000.0, -DUV_MAX));
    }

    #[test]
    fn colours_far_from_white_still_have_an_answer() {
        for xy in [
            Xy::new(0.64, 0.33),
            Xy::new(0.30, 0.60),
            Xy::new(0.15, 0.06),
        ] {
            let found = temperature_of(xy);
            assert!(
                (1000.0..=100_000.0).contains(&found.kelvin.round()),
                "{found:?}"
            );
            assert!(found.duv.is_finite());
        }
    }
}
