//! Slices through the table as patches of what comes out.

use lookwright_table::Grid3;
use lookwright_table::health;

use super::shown::Shown;
use super::{Panel, heading};

const SLICES: usize = 6;
const ACROSS: usize = 3;
/// Patches along a slice's edge.
const PATCHES: usize = 12;
const PATCH_PX: f64 = 12.0;

pub(super) fn slices(out: &mut String, panel: Panel, grid: &Grid3, shown: &Shown) {
    heading(
        out,
        panel,
        "Slices",
        "what comes out for red (along) and green (up) at six steps of blue",
    );
    let edge = PATCH_PX * PATCHES as f64;
    for (i, slice) in health::slices(grid, SLICES, PATCHES).iter().enumerate() {
        let column = (i % ACROSS) as f64;
        let row = (i / ACROSS) as f64;
        let x = panel.x + column * (edge + 24.0);
        let y = panel.y + row * (edge + 34.0);
        out.push_str(&format!(
            "<g class=\"cell\" transform=\"translate({x} {y})\">\n"
        ));
        for (place, rgb) in slice.out.iter().enumerate() {
            let across = (place % slice.size) as f64 * PATCH_PX;
            let down = (slice.size - 1 - place / slice.size) as f64 * PATCH_PX;
            out.push_str(&format!(
                "<path fill=\"{}\" d=\"M{across} {down}h{PATCH_PX}v{PATCH_PX}h-{PATCH_PX}z\"/>\n",
                shown.hex(*rgb)
            ));
        }
        out.push_str(&format!(
            "</g>\n<text class=\"small\" x=\"{x}\" y=\"{}\">blue {:.1}</text>\n",
            y + edge + 17.0,
            slice.blue
        ));
    }
}
