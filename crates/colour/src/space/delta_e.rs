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

#[cfg(test)]
mod tests {
    use super::*;

    /// Sharma, Wu and Dalal, Color Res. Appl. 30(1), 2005, table 1: two colours in L*a*b* and
    /// their difference, printed to four decimals.
    #[rustfmt::skip]
    const PAIRS: [([f64; 3], [f64; 3], f64); 34] = [
        ([50.0000, 2.6772, -79.7751], [50.0000, 0.0000, -82.7485], 2.0425),
        ([50.0000, 3.1571, -77.2803], [50.0000, 0.0000, -82.7485], 2.8615),
        ([50.0000, 2.8361, -74.0200], [50.0000, 0.0000, -82.7485], 3.4412),
        ([50.0000, -1.3802, -84.2814], [50.0000, 0.0000, -82.7485], 1.0000),
        ([50.0000, -1.1848, -84.8006], [50.0000, 0.0000, -82.7485], 1.0000),
        ([50.0000, -0.9009, -85.5211], [50.0000, 0.0000, -82.7485], 1.0000),
        ([50.0000, 0.0000, 0.0000], [50.0000, -1.0000, 2.0000], 2.3669),
        ([50.0000, -1.0000, 2.0000], [50.0000, 0.0000, 0.0000], 2.3669),
        ([50.0000, 2.4900, -0.0010], [50.0000, -2.4900, 0.0009], 7.1792),
        ([50.0000, 2.4900, -0.0010], [50.0000, -2.4900, 0.0010], 7.1792),
        ([50.0000, 2.4900, -0.0010], [50.0000, -2.4900, 0.0011], 7.2195),
        ([50.0000, 2.4900, -0.0010], [50.0000, -2.4900, 0.0012], 7.2195),
        ([50.0000, -0.0010, 2.4900], [50.0000, 0.0009, -2.4900], 4.8045),
        ([50.0000, -0.0010, 2.4900], [50.0000, 0.0010, -2.4900], 4.8045),
        ([50.0000, -0.0010, 2.4900], [50.0000, 0.0011, -2.4900], 4.7461),
        ([50.0000, 2.5000, 0.0000], [50.0000, 0.0000, -2.5000], 4.3065),
        ([50.0000, 2.5000, 0.0000], [73.0000, 25.0000, -18.0000], 27.1492),
        ([50.0000, 2.5000, 0.0000], [61.0000, -5.0000, 29.0000], 22.8977),
        ([50.0000, 2.5000, 0.0000], [56.0000, -27.0000, -3.0000], 31.9030),
        ([50.0000, 2.5000, 0.0000], [58.0000, 24.0000, 15.0000], 19.4535),
        ([50.0000, 2.5000, 0.0000], [50.0000, 3.1736, 0.5854], 1.0000),
        ([50.0000, 2.5000, 0.0000], [50.0000, 3.2972, 0.0000], 1.0000),
        ([50.0000, 2.5000, 0.0000], [50.0000, 1.8634, 0.5757], 1.0000),
        ([50.0000, 2.5000, 0.0000], [50.0000, 3.2592, 0.3350], 1.0000),
        ([60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644),
        ([63.0109, -31.0961, -5.8663], [62.8187, -29.7946, -4.0864], 1.2630),
        ([61.2901, 3.7196, -5.3901], [61.4292, 2.2480, -4.9620], 1.8731),
        ([35.0831, -44.1164, 3.7933], [35.0232, -40.0716, 1.5901], 1.8645),
        ([22.7233, 20.0904, -46.6940], [23.0331, 14.9730, -42.5619], 2.0373),
        ([36.4612, 47.8580, 18.3852], [36.2715, 50.5065, 21.2231], 1.4146),
        ([90.8027, -2.0831, 1.4410], [91.1528, -1.6435, 0.0447], 1.4441),
        ([90.9257, -0.5406, -0.9208], [88.6381, -0.8985, -0.7239], 1.5381),
        ([6.7747, -0.2908, -2.4247], [5.8714, -0.0985, -2.2286], 0.6377),
        ([2.0776, 0.0795, -1.1350], [0.9033, -0.0636, -0.5514], 0.9082),
    ];

    fn lab([l, a, b]: [f64; 3]) -> Lab {
        Lab { l, a, b }
    }

    #[test]
    fn all_published_pairs_come_out_to_their_last_digit() {
        for (i, (first, second, difference)) in PAIRS.into_iter().enumerate() {
            let ours = delta_e_2000(lab(first), lab(second));
            assert!(
                (ours - difference).abs() < 5.1e-5,
                "pair {}: {ours} for {difference}",
                i + 1
            );
        }
    }

    #[test]
    fn it_is_the_same_both_ways_and_nothing_to_itself() {
        for (first, second, _) in PAIRS {
            let (a, b) = (lab(first), lab(second));
            assert!((delta_e_2000(a, b) - delta_e_2000(b, a)).abs() < 1e-12);
            assert_eq!(delta_e_2000(a, a), 0.0);
        }
    }
}
