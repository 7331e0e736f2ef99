//! The published colours of the 24-patch chart.
//!
//! CIELAB under D50, 2 degree observer, as its maker publishes them for charts made since November 2014
//! (colour-science 0.4.7, `ColorChecker24 - After November 2014`; compared in `tests/chart_check.rs`).

use lookwright_colour::space::{Cat, Lab, primaries::AP1, white::D50};

/// Columns and rows of the chart, the greys at the foot, white on the left.
pub(super) const COLUMNS: usize = 6;
/// See [`COLUMNS`].
pub(super) const ROWS: usize = 4;
/// All of its patches.
pub(super) const PATCHES: usize = COLUMNS * ROWS;
/// The first of the greys, white; they go on to black.
pub(super) const FIRST_GREY: usize = 18;

/// Names and colours, row by row.
const PUBLISHED: [(&str, [f64; 3]); PATCHES] = [
    ("dark skin", [37.54, 14.37, 14.92]),
    ("light skin", [64.66, 19.27, 17.5]),
    ("blue sky", [49.32, -3.82, -22.54]),
    ("foliage", [43.46, -12.74, 22.72]),
    ("blue flower", [54.94, 9.61, -24.79]),
    ("bluish green", [70.48, -32.26, -0.37]),
    ("orange", [62.73, 35.83, 56.5]),
    ("purplish blue", [39.43, 10.75, -45.17]),
    ("moderate red", [50.57, 48.64, 16.67]),
    ("purple", [30.1, 22.54, -20.87]),
    ("yellow green", [71.77, -24.13, 58.19]),
    ("orange yellow", [71.51, 18.24, 67.37]),
    ("blue", [28.37, 15.42, -49.8]),
    ("green", [54.38, -39.72, 32.27]),
    ("red", [42.43, 51.05, 28.62]),
    ("yellow", [81.8, 2.67, 80.41]),
    ("magenta", [50.63, 51.28, -14.12]),
    ("cyan", [49.57, -29.71, -28.32]),
    ("white 9.5", [95.19, -1.03, 2.93]),
    ("neutral 8", [81.29, -0.57, 0.44]),
    ("neutral 6.5", [66.89, -0.75, -0.06]),
    ("neutral 5", [50.76, -0.13, 0.14]),
    ("neutral 3.5", [35.63, -0.46, -0.48]),
    ("black 2", [20.64, 0.07, -0.46]),
];

/// The name of a patch, 0 to 23, row by row.
pub(super) const fn name(patch: usize) -> &'static str {
    PUBLISHED[patch].0
}

/// Its published colour: CIELAB under D50.
pub(super) const fn lab(patch: usize) -> Lab {
    let [l, a, b] = PUBLISHED[patch].1;
    Lab { l, a, b }
}

/// Its published colour as scene light: AP1 by Bradford, a perfect white being 1.
pub(super) fn scene_lin(patch: usize) -> [f64; 3] {
    let adapted = Cat::Bradford.xyz(D50, AP1.white());
    let xyz = adapted.apply(lab(patch).to_xyz(D50));
    AP1.xyz_to_rgb().apply(xyz)
}

/// Scene light as CIELAB under D50.
pub(super) fn lab_of(scene_lin: [f64; 3]) -> Lab {
    let adapted = Cat::Bradford.xyz(AP1.white(), D50);
    Lab::from_xyz(adapted.apply(AP1.rgb_to_xyz().apply(scene_lin)), D50)
}

/// Luminance of AP1 light.
pub(super) fn luminance(scene_lin: [f64; 3]) -> f64 {
    AP1.rgb_to_xyz().apply(scene_lin)[1]
}
