//! Colours that surfaces have.

use lookwright_colour::space::Lab;

/// The most chroma (CIELAB, illuminant C) of real surfaces: rows at lightness 15, 20 ... 90, in each the hues
/// 0, 10 ... 350 degrees. M. R. Pointer, "The gamut of real surface colours", Color Research and Application
/// 5 (1980), of 4089 samples: pigments, plastics, flowers, prints. Taken from colour-science 0.4.7.
const POINTER: [[u8; HUES]; 16] = [
    [
        10, 15, 14, 35, 27, 10, 4, 5, 6, 4, 9, 9, 4, 5, 7, 7, 8, 13, 10, 7, 5, 0, 2, 10, 8, 9, 12,
        14, 10, 20, 30, 62, 60, 20, 26, 15,
    ],
    [
        30, 30, 34, 48, 40, 21, 15, 15, 15, 12, 16, 18, 14, 18, 20, 21, 24, 25, 25, 19, 19, 12, 12,
        20, 16, 21, 24, 31, 29, 40, 55, 76, 71, 50, 49, 37,
    ],
    [
        43, 45, 49, 59, 53, 34, 26, 25, 24, 20, 23, 27, 23, 30, 32, 34, 36, 36, 38, 30, 29, 17, 20,
        29, 26, 32, 34, 42, 45, 60, 72, 85, 79, 72, 63, 52,
    ],
    [
        56, 56, 61, 68, 66, 45, 37, 36, 32, 28, 30, 35, 32, 40, 42, 45, 48, 47, 48, 40, 37, 26, 28,
        36, 34, 40, 41, 50, 55, 69, 81, 88, 84, 86, 73, 65,
    ],
    [
        68, 64, 69, 75, 79, 60, 48, 46, 40, 36, 37, 44, 41, 48, 52, 57, 58, 57, 57, 48, 42, 34, 35,
        42, 41, 49, 46, 55, 60, 71, 79, 85, 85, 89, 82, 73,
    ],
    [
        77, 70, 74, 82, 90, 75, 59, 56, 48, 44, 45, 52, 49, 56, 60, 68, 68, 65, 64, 55, 45, 43, 40,
        46, 47, 54, 51, 60, 61, 69, 72, 80, 86, 89, 87, 79,
    ],
    [
        79, 73, 76, 84, 94, 90, 70, 67, 55, 53, 51, 59, 57, 64, 69, 75, 76, 70, 69, 59, 46, 49, 45,
        49, 49, 55, 55, 60, 60, 65, 64, 71, 82, 86, 87, 82,
    ],
    [
        77, 73, 76, 83, 93, 100, 82, 76, 64, 60, 58, 66, 64, 70, 76, 81, 82, 75, 71, 62, 46, 51,
        48, 51, 50, 55, 56, 57, 57, 58, 57, 62, 74, 80, 83, 84,
    ],
    [
        72, 71, 74, 80, 88, 102, 93, 85, 72, 68, 65, 74, 71, 77, 82, 84, 85, 76, 72, 62, 45, 54,
        51, 52, 50, 52, 51, 50, 53, 50, 50, 55, 66, 72, 78, 79,
    ],
    [
        65, 65, 68, 75, 82, 99, 103, 94, 82, 75, 72, 82, 78, 82, 87, 84, 83, 75, 69, 60, 43, 50,
        49, 50, 47, 48, 46, 45, 46, 43, 42, 47, 57, 63, 71, 73,
    ],
    [
        57, 57, 61, 67, 72, 88, 106, 102, 94, 83, 80, 87, 84, 85, 89, 83, 78, 71, 64, 55, 39, 46,
        45, 45, 42, 43, 40, 39, 40, 36, 35, 41, 48, 54, 62, 63,
    ],
    [
        50, 48, 51, 56, 60, 75, 98, 108, 105, 90, 86, 92, 90, 88, 90, 80, 69, 65, 60, 49, 35, 40,
        38, 39, 36, 36, 33, 33, 34, 29, 30, 34, 40, 45, 51, 53,
    ],
    [
        40, 39, 40, 45, 47, 59, 85, 103, 115, 98, 94, 95, 94, 89, 83, 72, 59, 57, 51, 41, 30, 32,
        32, 32, 29, 29, 27, 26, 25, 24, 24, 27, 31, 36, 40, 40,
    ],
    [
        30, 30, 30, 33, 35, 45, 66, 82, 115, 106, 100, 100, 95, 84, 71, 58, 49, 45, 41, 32, 22, 24,
        23, 24, 21, 21, 20, 20, 18, 18, 17, 20, 24, 27, 28, 30,
    ],
    [
        19, 18, 19, 21, 22, 30, 45, 58, 83, 111, 106, 96, 83, 64, 54, 44, 34, 30, 29, 23, 14, 14,
        15, 15, 12, 13, 13, 13, 11, 12, 12, 14, 16, 18, 18, 17,
    ],
    [
        8, 7, 9, 10, 10, 15, 23, 34, 48, 90, 108, 84, 50, 35, 30, 20, 15, 15, 16, 13, 7, 4, 6, 7,
        4, 4, 6, 6, 4, 5, 5, 6, 8, 9, 4, 6,
    ],
];
const HUES: usize = 36;
const DARKEST: f64 = 15.0;
const LIGHTEST: f64 = 90.0;
const STEP: f64 = 5.0;

/// Whether a surface may have the colour, relative to white paper in its light. Between the published
/// lightnesses and hues the most chroma is a straight line, and beyond them it shrinks to none at black and
/// at white. The light's white stands for illuminant C.
pub(super) fn is_surface(colour: Lab) -> bool {
    (0.0..=100.0).contains(&colour.l) && colour.chroma() <= most_chroma(colour)
}

fn most_chroma(colour: Lab) -> f64 {
    let row = (colour.l.clamp(DARKEST, LIGHTEST) - DARKEST) / STEP;
    let (below, up) = split(row, POINTER.len() - 1);
    let (before, on) = split(colour.hue_degrees().rem_euclid(360.0) / 10.0, HUES);
    let at = |row: usize, hue: usize| f64::from(POINTER[row][hue % HUES]);
    let along = |row: usize| mixed(at(row, before), at(row, before + 1), on);
    let held = mixed(along(below), along(below + 1), up);
    held * (colour.l / DARKEST)
        .min((100.0 - colour.l) / (100.0 - LIGHTEST))
        .min(1.0)
}

/// The step that a place lies in, of so many, and how far along.
fn split(place: f64, steps: usize) -> (usize, f64) {
    let step = (place as usize).min(steps - 1);
    (step, place - step as f64)
}

fn mixed(a: f64, b: f64, share: f64) -> f64 {
    a + (b - a) * share
}

#[cfg(test)]
mod tests {
    use super::*;

    fn colour(l: f64, chroma: f64, hue_degrees: f64) -> Lab {
        let hue = hue_degrees.to_radians();
        Lab {
            l,
            a: chroma * libm::cos(hue),
            b: chroma * libm::sin(hue),
        }
    }

    /// Patches of the ColorChecker Classic (averages of many, CIELAB under D50 by X-Rite, from memory): its orange
    /// yellow, red and cyan. A laser's green, the primary of Rec.2020, is no surface's.
    #[test]
    fn paints_are_surfaces_and_lasers_are_not() {
        for (l, a, b) in [(71.9, 19.4, 67.9), (42.1, 53.4, 28.2), (51.0, -28.6, -28.6)] {
            assert!(is_surface(Lab { l, a, b }));
        }
        assert!(!is_surface(Lab {
            l: 84.0,
            a: -152.0,
            b: 99.0
        }));
    }

    #[test]
    fn the_edge_is_the_published_one_and_a_straight_line_between() {
        for (l, hue, most) in [
            (15.0, 310.0, 62.0),
            (90.0, 100.0, 108.0),
            (50.0, 0.0, 77.0),
            // Half way between the rows 50 and 55 and the hues 350 and 0: of 77, 84, 72, 79.
            (52.5, 355.0, 78.0),
            (95.0, 100.0, 54.0),
            (7.5, 310.0, 31.0),
        ] {
            assert!(is_surface(colour(l, most - 0.01, hue)), "{l} {hue}");
            assert!(!is_surface(colour(l, most + 0.01, hue)), "{l} {hue}");
        }
    }

    #[test]
    fn nothing_is_brighter_than_paper() {
        assert!(is_surface(colour(100.0, 0.0, 0.0)));
        assert!(!is_surface(colour(101.0, 0.0, 0.0)));
        assert!(!is_surface(colour(-1.0, 0.0, 0.0)));
        assert!(!is_surface(colour(f64::NAN, 0.0, 0.0)));
    }
}
