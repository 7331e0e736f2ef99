//! A picture of a table: its grey axis, the tint of it, slices through it, and where it puts the
//! lattice, as one SVG. No font and no rasteriser goes into it, so it is small, sharp at any size,
//! and the same bytes everywhere.

mod lattice;
mod plot;
mod shown;
mod slices;

use lookwright_colour::Result;
use lookwright_table::Grid3;
use lookwright_table::health::{Health, Setting, Severity};

use lookwright_table::escaped;
use shown::Shown;

const WIDTH: usize = 1200;
const HEIGHT: usize = 925;
/// Height of a finding's two lines.
const FINDING_PX: usize = 52;
/// Letters that fit on a line of the width.
const LINE_LETTERS: usize = 140;

/// Where a panel lies.
#[derive(Clone, Copy)]
struct Panel {
    x: f64,
    y: f64,
    width: f64,
    height: f64,
}

/// The picture of a table. `title` and `about` are the two lines at its head.
///
/// # Errors
/// If the setting cannot be judged.
pub(crate) fn svg(
    grid: &Grid3,
    setting: Setting,
    health: &Health,
    title: &str,
    about: &str,
) -> Result<String> {
    let shown = Shown::new(setting)?;
    let findings = findings(health);
    let height = HEIGHT + FINDING_PX * findings.len();
    let (title, about) = (escaped(title), escaped(about));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {height}\" \
         width=\"{WIDTH}\" height=\"{height}\" role=\"img\" aria-label=\"{title}, {about}\">\n\
         <title>{title}, {about}</title>\n<style>{STYLE}</style>\n\
         <rect class=\"ground\" width=\"{WIDTH}\" height=\"{height}\"/>\n\
         <text class=\"title\" x=\"40\" y=\"44\">{title}</text>\n\
         <text x=\"40\" y=\"70\">{about}</text>\n"
    );
    let left = |y, height| Panel {
        x: 90.0,
        y,
        width: 480.0,
        height,
    };
    let right = |y, height| Panel {
        x: 680.0,
        y,
        width: 480.0,
        height,
    };
    plot::grey_axis(&mut out, left(130.0, 300.0), grid);
    plot::tint(&mut out, right(130.0, 300.0), grid);
    slices::slices(&mut out, left(535.0, 350.0), grid, &shown);
    lattice::lattice(&mut out, right(535.0, 350.0), grid, &shown);
    for (i, [what, more]) in findings.iter().enumerate() {
        let y = HEIGHT + FINDING_PX * i;
        let (what, more) = (escaped(what), escaped(more));
        out.push_str(&format!(
            "<text x=\"40\" y=\"{y}\">{what}</text>\n\
             <text class=\"small\" x=\"60\" y=\"{}\">{more}</text>\n",
            y + 20
        ));
    }
    out.push_str("</svg>\n");
    Ok(out)
}

/// What is worth two lines below the picture, worst first.
fn findings(health: &Health) -> Vec<[String; 2]> {
    let told = health.findings.iter();
    let lines: Vec<_> = told
        .filter(|finding| finding.severity != Severity::Info)
        .map(|finding| {
            let (severity, check) = (finding.severity.id(), finding.check.id());
            let what = format!("{severity} {check}: {}", finding.what);
            let more = match finding.place.as_str() {
                "" => finding.measure.clone(),
                place => format!("{place}; {}", finding.measure),
            };
            [what, more].map(|line| line.chars().take(LINE_LETTERS).collect())
        })
        .collect();
    match lines.is_empty() {
        true => vec![["Nothing here will hurt.".to_owned(), String::new()]],
        false => lines,
    }
}

/// A panel's heading, and below it what is seen.
fn heading(out: &mut String, panel: Panel, words: &str, more: &str) {
    let Panel { x, y, .. } = panel;
    out.push_str(&format!(
        "<text class=\"head\" x=\"{x}\" y=\"{:.0}\">{words}</text>\n\
         <text class=\"small\" x=\"{x}\" y=\"{:.0}\">{more}</text>\n",
        y - 32.0,
        y - 12.0
    ));
}

/// Light on dark greys without a hue; channels differ by their strokes as well as by their colour.
const STYLE: &str = "text{font:15px system-ui,sans-serif;fill:#d2d2d2}.title{font-size:24px;\
fill:#f0f0f0}.head{font-size:17px;fill:#f0f0f0}.small{font-size:13px;fill:#b0b0b0}\
.end{text-anchor:end}.mid{text-anchor:middle}.ground{fill:#262626}.plot{fill:#1a1a1a}\
.rule{stroke:#444;fill:none}.zero{stroke:#888;fill:none}.r,.g,.b{fill:none;stroke-width:2}\
.r{stroke:#ff7a6b}.g{stroke:#6fcf7f;stroke-dasharray:9 4}.b{stroke:#7fb2ff;stroke-dasharray:2 4}\
.net{fill:none;stroke-width:1.5;stroke-linecap:round}.cell{shape-rendering:crispEdges}";

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_table::health::examine;

    fn picture(map: impl Fn([f32; 3]) -> [f32; 3], title: &str) -> String {
        let grid = Grid3::sample_codes(9, map).unwrap();
        let setting = Setting::default();
        let health = examine(&grid, setting, None).unwrap();
        svg(&grid, setting, &health, title, "about").unwrap()
    }

    #[test]
    fn it_is_well_formed_and_words_stay_words() {
        let text = picture(|rgb| rgb, "<b> & \"me\"");
        assert!(text.contains("&lt;b&gt; &amp; &quot;me&quot;"));
        let reader = roxmltree::Document::parse(&text).unwrap();
        assert_eq!(reader.root_element().tag_name().name(), "svg");
        for number in ["NaN", "inf"] {
            assert!(!text.contains(number), "{number}");
        }
    }

    #[test]
    fn findings_stand_below_it() {
        let text = picture(|rgb| rgb.map(|v| 1.0 - v), "turned");
        assert!(text.contains("serious reversals"), "{text}");
        assert!(!text.contains("Nothing here will hurt"));
    }
}
