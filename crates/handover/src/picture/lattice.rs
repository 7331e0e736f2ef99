//! Where the table puts the lattice: the cube of codes as it comes out, seen from one side, black
//! at the foot and white at the top.

use lookwright_table::{Grid3, Interpolation};

use super::shown::Shown;
use super::{Panel, heading};

/// Points along each axis.
const POINTS: usize = 7;
/// Turn about the grey axis and tilt towards the eye, in degrees.
const TURN: f64 = 24.0;
const TILT: f64 = 14.0;

/// The three directions of the view: across, up, away from the eye.
struct View([[f64; 3]; 3]);

impl View {
    fn new() -> Self {
        let (root2, root3, root6) = (libm::sqrt(2.0), libm::sqrt(3.0), libm::sqrt(6.0));
        let grey = [1.0 / root3; 3];
        let side = [1.0 / root2, -1.0 / root2, 0.0];
        let depth = [1.0 / root6, 1.0 / root6, -2.0 / root6];
        let mixed = |a: [f64; 3], b: [f64; 3], degrees: f64| {
            let (sine, cosine) = (
                libm::sin(degrees.to_radians()),
                libm::cos(degrees.to_radians()),
            );
            core::array::from_fn(|i| a[i] * cosine + b[i] * sine)
        };
        let across = mixed(side, depth, TURN);
        let away = mixed(depth, side.map(|v| -v), TURN);
        Self([
            across,
            mixed(grey, away, TILT),
            mixed(away, grey.map(|v| -v), TILT),
        ])
    }

    /// Across and up within the panel, and distance, of codes 0 ... 1.
    fn place(&self, panel: Panel, rgb: [f64; 3]) -> [f64; 3] {
        let from_middle = rgb.map(|v| v - 0.5);
        let [x, y, z] = self
            .0
            .map(|axis| (0..3).map(|i| axis[i] * from_middle[i]).sum::<f64>());
        // The cube's diagonal stands upright and is the root of 3 long.
        let scale = panel.height / 1.86;
        [
            panel.x + panel.width / 2.0 + x * scale,
            panel.y + 12.0 + panel.height / 2.0 - y * scale,
            z,
        ]
    }
}

pub(super) fn lattice(out: &mut String, panel: Panel, grid: &Grid3, shown: &Shown) {
    heading(
        out,
        panel,
        "Lattice",
        "the cube of codes as it comes out, seen from the side of cyan and magenta",
    );
    let view = View::new();
    cube(out, panel, &view);
    let mut lines = net(grid, shown, |rgb| view.place(panel, rgb));
    // Far lines first, near ones over them.
    lines.sort_by(|a, b| b.distance.total_cmp(&a.distance));
    for Line {
        from: [x, y],
        to: [u, v],
        colour,
        ..
    } in lines
    {
        out.push_str(&format!(
            "<path class=\"net\" stroke=\"{colour}\" d=\"M{x:.1} {y:.1}L{u:.1} {v:.1}\"/>\n"
        ));
    }
}

/// The edges of the cube of codes itself.
fn cube(out: &mut String, panel: Panel, view: &View) {
    let mut path = String::new();
    for corner in 0..8_usize {
        let at = |corner: usize| {
            let rgb = [0, 1, 2].map(|axis| (corner >> axis & 1) as f64);
            view.place(panel, rgb)
        };
        for axis in 0..3 {
            if corner >> axis & 1 == 0 {
                let ([x, y, _], [u, v, _]) = (at(corner), at(corner | 1 << axis));
                path.push_str(&format!("M{x:.1} {y:.1}L{u:.1} {v:.1}"));
            }
        }
    }
    out.push_str(&format!("<path class=\"rule\" d=\"{path}\"/>\n"));
    for (words, rgb, lift) in [("white", [1.0; 3], -6.0), ("black", [0.0; 3], 16.0)] {
        let [x, y, _] = view.place(panel, rgb);
        out.push_str(&format!(
            "<text class=\"small mid\" x=\"{x:.1}\" y=\"{:.1}\">{words}</text>\n",
            y + lift
        ));
    }
}

struct Line {
    from: [f64; 2],
    to: [f64; 2],
    distance: f64,
    colour: String,
}

/// The lines between neighbouring points along every axis, each in the colour of its middle.
fn net(grid: &Grid3, shown: &Shown, place: impl Fn([f64; 3]) -> [f64; 3]) -> Vec<Line> {
    let (min, max) = (grid.domain_min(), grid.domain_max());
    let at = |point: [usize; 3]| {
        let input = core::array::from_fn(|c| {
            min[c] + (max[c] - min[c]) * point[c] as f32 / (POINTS - 1) as f32
        });
        grid.apply(input, Interpolation::Tetrahedral)
    };
    let mut lines = Vec::new();
    for index in 0..POINTS * POINTS * POINTS {
        let point = [
            index % POINTS,
            index / POINTS % POINTS,
            index / (POINTS * POINTS),
        ];
        for axis in 0..3 {
            if point[axis] + 1 == POINTS {
                continue;
            }
            let mut next = point;
            next[axis] += 1;
            let (a, b) = (at(point), at(next));
            let held = |rgb: [f32; 3]| rgb.map(|v| f64::from(v.clamp(-0.1, 1.1)));
            let ([x, y, z], [u, v, w]) = (place(held(a)), place(held(b)));
            lines.push(Line {
                from: [x, y],
                to: [u, v],
                distance: z + w,
                colour: shown.hex(core::array::from_fn(|c| (a[c] + b[c]) / 2.0)),
            });
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_view_keeps_right_angles_and_greys_upright() {
        let View(axes) = View::new();
        let dot = |a: [f64; 3], b: [f64; 3]| (0..3).map(|i| a[i] * b[i]).sum::<f64>();
        for i in 0..3 {
            for j in 0..3 {
                let wanted = if i == j { 1.0 } else { 0.0 };
                assert!((dot(axes[i], axes[j]) - wanted).abs() < 1e-12);
            }
        }
        let panel = Panel {
            x: 0.0,
            y: 0.0,
            width: 100.0,
            height: 100.0,
        };
        let [x, low, _] = View(axes).place(panel, [0.0; 3]);
        let [u, high, _] = View(axes).place(panel, [1.0; 3]);
        assert!((x - 50.0).abs() < 1e-9 && (u - 50.0).abs() < 1e-9);
        assert!(high > 0.0 && low < 112.0 && low > high);
    }
}
