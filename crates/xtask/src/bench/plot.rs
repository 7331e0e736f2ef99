//! How work grows with a picture's size, as a plot: both axes logarithmic, so that work that costs
//! the same for every pixel is a line at 45 degrees.

use std::collections::BTreeMap;
use std::fmt::Write;

/// The plot's ends: megapixels and seconds, powers of ten.
const MEGAPIXELS: (i32, i32) = (-1, 2);
const SECONDS: (i32, i32) = (-3, 1);
/// Drawing units of a power of ten, and the room around the axes.
const DECADE: f64 = 130.0;
const ROOM: f64 = 60.0;
/// Room for the curves' names.
const NAMES: f64 = 170.0;

/// Curves of (megapixels, seconds) by name, as SVG.
pub(super) fn growth(curves: &BTreeMap<&str, Vec<(f64, f64)>>) -> String {
    let x = |megapixels: f64| ROOM + (libm::log10(megapixels) - f64::from(MEGAPIXELS.0)) * DECADE;
    let y = |seconds: f64| ROOM + (f64::from(SECONDS.1) - libm::log10(seconds)) * DECADE;
    let (right, bottom) = (x(10f64.powi(MEGAPIXELS.1)), y(10f64.powi(SECONDS.0)));
    let (width, height) = (right + NAMES, bottom + ROOM);
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width:.0} {height:.0}\" \
         font-family=\"sans-serif\" font-size=\"13\">\n\
         <rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n"
    );
    let line = |svg: &mut String, from: (f64, f64), to: (f64, f64)| {
        let _ = writeln!(
            svg,
            "<path d=\"M{:.1} {:.1}L{:.1} {:.1}\" stroke=\"#ccc\" fill=\"none\"/>",
            from.0, from.1, to.0, to.1
        );
    };
    let word = |svg: &mut String, at: (f64, f64), anchor: &str, text: &str| {
        let _ = writeln!(
            svg,
            "<text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"{anchor}\">{text}</text>",
            at.0, at.1
        );
    };
    for decade in MEGAPIXELS.0..=MEGAPIXELS.1 {
        let value = 10f64.powi(decade);
        line(
            &mut svg,
            (x(value), y(10f64.powi(SECONDS.1))),
            (x(value), bottom),
        );
        word(
            &mut svg,
            (x(value), bottom + 20.0),
            "middle",
            &format!("{value} MP"),
        );
    }
    for decade in SECONDS.0..=SECONDS.1 {
        let value = 10f64.powi(decade);
        line(&mut svg, (ROOM, y(value)), (right, y(value)));
        word(
            &mut svg,
            (ROOM - 8.0, y(value) + 4.0),
            "end",
            &format!("{value} s"),
        );
    }
    for (name, points) in curves {
        let mut path = String::new();
        for (i, (megapixels, seconds)) in points.iter().enumerate() {
            let letter = if i == 0 { 'M' } else { 'L' };
            let _ = write!(path, "{letter}{:.1} {:.1}", x(*megapixels), y(*seconds));
        }
        let _ = writeln!(
            svg,
            "<path d=\"{path}\" stroke=\"#000\" stroke-width=\"1.5\" fill=\"none\"/>"
        );
        if let Some((megapixels, seconds)) = points.last() {
            word(
                &mut svg,
                (x(*megapixels) + 8.0, y(*seconds) + 4.0),
                "start",
                name,
            );
        }
    }
    svg.push_str("</svg>\n");
    svg
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn work_that_costs_the_same_for_every_pixel_is_a_line_at_45_degrees() {
        let curves = BTreeMap::from([("even", vec![(1.0, 0.01), (10.0, 0.1)])]);
        let svg = growth(&curves);
        let (left, top) = (ROOM + DECADE, ROOM + 3.0 * DECADE);
        let path = format!(
            "M{left:.1} {top:.1}L{:.1} {:.1}",
            left + DECADE,
            top - DECADE
        );
        assert!(svg.contains(&path), "{path} in {svg}");
        assert!(svg.contains(">even</text>"));
    }
}
