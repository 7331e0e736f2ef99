//! The colour difference CIEDE2000, in double precision.
//!
//! ISO/CIE 11664-6, in the form of Sharma, Wu and Dalal, Color Res. Appl. 30(1), 2005, with
//! k_L = k_C = k_H = 1; about 1 is a just noticeable step between large patches.

use super::Lab;

/// CIEDE2000 between two colours.
pub fn delta_e_2000(first: Lab, second: Lab) -> f64 {
    let mean_chroma = 0.5 * (first.chroma() + second.chroma());
    let g = 0.5 * (1.0 - saturating_seventh_power(mean_chroma));
    let stretch = |c: Lab| Lab {
        a: c.a * (1.0 + g),
        ..c
    };
    let (p, q) = (stretch(first), stretch(second));
    let (c1, c2) = (p.chroma(), q.chroma());
    let (h1, h2) = (p.hue_degrees(), q.hue_degrees());
    let both_coloured = c1 * c2 != 0.0;

    let delta_l = q.l - p.l;
    let delta_c = c2 - c1;
    let delta_hue = if both_coloured { turn(h2 - h1) } else { 0.0 };
    let delta_h = 2.0 * (c1 * c2).sqrt() * libm::sin((0.5 * delta_hue).to_radians());

    let l = 0.5 * (p.l + q.l);
    let c = 0.5 * (c1 + c2);
    let h = if both_coloured {
        mean_hue(h1, h2)
    } else {
        h1 + h2
    };
    let cosine = |degrees: f64| libm::cos(degrees.to_radians());
    let t = 1.0 - 0.17 * cosine(h - 30.0) + 0.24 * cosine(2.0 * h) + 0.32 * cosine(3.0 * h + 6.0)
        - 0.20 * cosine(4.0 * h - 63.0);
    let l50 = (l - 50.0) * (l - 50.0);
    let s_l = 1.0 + 0.015 * l50 / (20.0 + l50).sqrt();
    let s_c = 1.0 + 0.045 * c;
    let s_h = 1.0 + 0.015 * c * t;
    let bump = (h - 275.0) / 25.0;
    let rotation = (60.0 * libm::exp(-bump * bump)).to_radians();
    let r_t = -2.0 * saturating_seventh_power(c) * libm::sin(rotation);

    let (dl, dc, dh) = (delta_l / s_l, delta_c / s_c, delta_h / s_h);
    (dl * dl + dc * dc + dh * dh + r_t * dc * dh).sqrt()
}

/// `sqrt(c^7 / (c^7 + 25^7))`.
fn saturating_seventh_power(chroma: f64) -> f64 {
    let c7 = libm::pow(chroma, 7.0);
    (c7 / (c7 + libm::pow(25.0, 7.0))).sqrt()
}

/// A difference of hues, the short way round.
fn turn(degrees: f64) -> f64 {
    if degrees > 180.0 {
        degrees - 360.0
    } else if degrees < -180.0 {
        degrees + 360.0
    } else {
        degrees
    }
}

/// The hue half-way between two, on the short way round.
fn mean_hue(h1: f64, h2: f64) -> f64 {
    let sum = h1 + h2;
    if (h1 - h2).abs() <= 180.0 {
        0.5 * sum
    } else if sum < 360.0 {
        0.5 * (sum + 360.0)
    } else {
        0.5 * (sum - 360.0)
    }
}
