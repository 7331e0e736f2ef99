//! The grey axis as curves, and its tint as differences.

use lookwright_table::Grid3;
use lookwright_table::health::grey_curve;

use super::{Panel, heading};

/// Quarters along an axis.
const QUARTERS: usize = 4;
const CLASSES: [&str; 3] = ["r", "g", "b"];
const NAMES: [&str; 3] = ["red", "green", "blue"];
/// Heights of the tint's scale, in codes of 10 bits; the smallest that holds it is taken.
const SCALES: [f32; 8] = [2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 300.0, 1000.0];

/// Output of each channel against the code of a grey.
pub(super) fn grey_axis(out: &mut String, panel: Panel, grid: &Grid3) {
    heading(
        out,
        panel,
        "Grey axis",
        "what comes out (up) for a grey that goes in (along), as shares of full scale",
    );
    let mark = |i: usize| format!("{}", i as f64 / QUARTERS as f64);
    frame(out, panel, mark);
    curves(out, panel, grid, |rgb| rgb);
    legend(out, panel);
}

/// Each channel's difference to the mean of the three.
pub(super) fn tint(out: &mut String, panel: Panel, grid: &Grid3) {
    let differences = |rgb: [f32; 3]| {
        let mean = (rgb[0] + rgb[1] + rgb[2]) / 3.0;
        rgb.map(|v| (v - mean) * 1023.0)
    };
    let values = grey_curve(grid)
        .into_iter()
        .flat_map(|(_, rgb)| differences(rgb));
    let most = values.fold(0.0_f32, |most, v| most.max(v.abs()));
    let scale = SCALES.into_iter().find(|s| *s >= most).unwrap_or(most);
    heading(
        out,
        panel,
        "Tint of the grey axis",
        "each channel's difference to the mean of the three (up), in codes of 10 bits",
    );
    let mark = |i: usize| match scale * (i as f32 * 2.0 / QUARTERS as f32 - 1.0) {
        0.0 => "0".to_owned(),
        codes => format!("{codes:+}"),
    };
    frame(out, panel, mark);
    let middle = panel.y + panel.height / 2.0;
    out.push_str(&format!(
        "<path class=\"zero\" d=\"M{} {middle}h{}\"/>\n",
        panel.x, panel.width
    ));
    curves(out, panel, grid, |rgb| {
        differences(rgb).map(|v| 0.5 + 0.5 * v / scale)
    });
    legend(out, panel);
}

/// The ground of a plot with its rules; `mark` names the quarters upwards.
fn frame(out: &mut String, panel: Panel, mark: impl Fn(usize) -> String) {
    let Panel {
        x,
        y,
        width,
        height,
    } = panel;
    out.push_str(&format!(
        "<rect class=\"plot\" x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\"/>\n"
    ));
    for i in 0..=QUARTERS {
        let share = i as f64 / QUARTERS as f64;
        let (across, up) = (x + width * share, y + height * (1.0 - share));
        out.push_str(&format!(
            "<path class=\"rule\" d=\"M{across} {y}v{height}M{x} {up}h{width}\"/>\n\
             <text class=\"small mid\" x=\"{across}\" y=\"{}\">{share}</text>\n\
             <text class=\"small end\" x=\"{}\" y=\"{}\">{}</text>\n",
            y + height + 18.0,
            x - 8.0,
            up + 4.0,
            mark(i)
        ));
    }
}

/// Three curves; `height` gives each channel's share of the panel's height.
fn curves(out: &mut String, panel: Panel, grid: &Grid3, height: impl Fn([f32; 3]) -> [f32; 3]) {
    let points = grey_curve(grid);
    for (channel, class) in CLASSES.into_iter().enumerate() {
        let mut line = String::new();
        for (code, rgb) in &points {
            let share = f64::from(height(*rgb)[channel].clamp(0.0, 1.0));
            line.push_str(&format!(
                "{:.1},{:.2} ",
                panel.x + panel.width * f64::from(*code),
                panel.y + panel.height * (1.0 - share)
            ));
        }
        let line = line.trim_end();
        out.push_str(&format!(
            "<polyline class=\"{class}\" points=\"{line}\"/>\n"
        ));
    }
}

fn legend(out: &mut String, panel: Panel) {
    for (i, (class, name)) in CLASSES.into_iter().zip(NAMES).enumerate() {
        let (x, y) = (panel.x + 16.0, panel.y + 22.0 + 20.0 * i as f64);
        out.push_str(&format!(
            "<path class=\"{class}\" d=\"M{x} {}h36\"/>\n\
             <text class=\"small\" x=\"{}\" y=\"{y}\">{name}</text>\n",
            y - 4.0,
            x + 46.0
        ));
    }
}
