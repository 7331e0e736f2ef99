//! What the page takes, from lines of JSON to a table in Markdown.

use anyhow::{Context, Result};
use serde_json::Value;
use std::fmt::Write;

/// Something that was measured in the page.
struct PageFigure {
    name: String,
    /// Sorted; one number is a figure of its own.
    values: Vec<f64>,
    unit: &'static str,
    goal: Option<f64>,
}

/// All that was measured in the page.
#[derive(Default)]
pub(super) struct PageFigures(Vec<PageFigure>);

impl PageFigures {
    /// Takes in one line: `{"name", "milliseconds": [...], "goal"?}`, or in place of milliseconds
    /// one number of `"megabytes"` or `"framesPerSecond"`.
    ///
    /// # Errors
    /// When the line is neither.
    pub(super) fn take(&mut self, line: &str) -> Result<()> {
        let json: Value = serde_json::from_str(line)?;
        let (values, unit) = match &json["milliseconds"] {
            Value::Array(list) => (list.iter().filter_map(Value::as_f64).collect(), "ms"),
            _ => {
                let one = |key: &str| json[key].as_f64().into_iter().collect();
                match json["framesPerSecond"] {
                    Value::Null => (one("megabytes"), "MB"),
                    _ => (one("framesPerSecond"), "frames/s"),
                }
            }
        };
        let mut values: Vec<f64> = values;
        anyhow::ensure!(!values.is_empty(), "no figures in {line}");
        values.sort_by(f64::total_cmp);
        self.0.push(PageFigure {
            name: json["name"].as_str().context("no name")?.to_owned(),
            values,
            unit,
            goal: json["goal"].as_f64(),
        });
        Ok(())
    }

    pub(super) fn markdown(&self) -> String {
        let mut out = String::from(
            "\n## In the page\n\nChromium, headless, without a graphics processor. From the event to \
             the pixels on the canvas.\n\n| what | median | 95 of 100 below | goal |\n\
             | --- | --- | --- | --- |\n",
        );
        for PageFigure {
            name,
            values,
            unit,
            goal,
        } in &self.0
        {
            let at = |share: f64| values[((values.len() - 1) as f64 * share).round() as usize];
            let most = match values.len() {
                1 => String::new(),
                _ => format!("{:.0} {unit}", at(0.95)),
            };
            let goal = goal.map_or(String::new(), |goal| format!("{goal:.0} {unit}"));
            let _ = writeln!(out, "| {name} | {:.0} {unit} | {most} | {goal} |", at(0.5));
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_become_a_median_and_a_bound() {
        let mut figures = PageFigures::default();
        figures
            .take(r#"{"name":"drag","milliseconds":[30,10,20],"goal":16}"#)
            .unwrap();
        figures
            .take(r#"{"name":"memory","megabytes":900.4}"#)
            .unwrap();
        figures
            .take(r#"{"name":"clip","framesPerSecond":23.6,"goal":24}"#)
            .unwrap();
        let text = figures.markdown();
        assert!(
            text.contains("| clip | 24 frames/s |  | 24 frames/s |"),
            "{text}"
        );
        assert!(text.contains("| drag | 20 ms | 30 ms | 16 ms |"), "{text}");
        assert!(text.contains("| memory | 900 MB |  |  |"), "{text}");
        assert!(figures.take(r#"{"name":"nothing"}"#).is_err());
    }
}
