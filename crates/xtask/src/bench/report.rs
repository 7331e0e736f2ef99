//! Figures to a table in Markdown.

use anyhow::{Context, Result};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;

/// One line of the table: what was done, by whom, how fast.
struct Figure {
    side: String,
    name: String,
    pixels: f64,
    seconds: Vec<f64>,
}

/// All figures of a run.
#[derive(Default)]
pub(super) struct Figures {
    figures: Vec<Figure>,
    versions: BTreeMap<String, String>,
}

/// Megapixels per second: the median of the runs, and the middle half of them.
struct Speed {
    median: f64,
    low: f64,
    high: f64,
}

impl Figure {
    fn is_growth(&self) -> bool {
        self.side == BY_SIZE || self.side == BY_STEPS
    }

    fn speed(&self) -> Speed {
        let mut sorted = self.seconds.clone();
        sorted.sort_by(f64::total_cmp);
        let at = |share: f64| {
            let place = ((sorted.len() - 1) as f64 * share).round() as usize;
            self.pixels / 1e6 / sorted[place]
        };
        Speed {
            median: at(0.5),
            low: at(0.75),
            high: at(0.25),
        }
    }
}

impl Figures {
    /// By name, the megapixels of each size and the seconds that it takes.
    pub(super) fn by_size(&self) -> BTreeMap<&str, Vec<(f64, f64)>> {
        let mut curves: BTreeMap<&str, Vec<(f64, f64)>> = BTreeMap::new();
        for figure in self.figures.iter().filter(|f| f.side == BY_SIZE) {
            let megapixels = figure.pixels / 1e6;
            let seconds = megapixels / figure.speed().median;
            let curve = curves.entry(&figure.name).or_default();
            curve.push((megapixels, seconds));
        }
        curves
    }

    /// Takes in one line of JSON: a figure, or versions.
    ///
    /// # Errors
    /// When the line is neither.
    pub(super) fn take(&mut self, line: &str) -> Result<()> {
        let json: Value = serde_json::from_str(line)?;
        if let Some(versions) = json["versions"].as_object() {
            for (name, version) in versions {
                let version = version.as_str().unwrap_or_default();
                self.versions.insert(name.clone(), version.to_owned());
            }
            return Ok(());
        }
        let word = |key: &str| Some(json[key].as_str()?.to_owned());
        let seconds = json["seconds"].as_array().filter(|list| !list.is_empty());
        self.figures.push(Figure {
            side: word("side").context("no side")?,
            name: word("name").context("no name")?,
            pixels: json["pixels"].as_f64().context("no pixels")?,
            seconds: seconds
                .context("no seconds")?
                .iter()
                .filter_map(Value::as_f64)
                .collect(),
        });
        Ok(())
    }

    /// The whole report.
    pub(super) fn markdown(&self) -> String {
        let mut out = String::from(
            "# Figures\n\nMade by `cargo xtask bench --write`. Megapixels per second: the median \
             of the runs, and the middle half of them in brackets. Single threads are timed by \
             their own clock, two threads by the clock on the wall. Frames are noisy and 2 MP \
             unless stated; f32, three channels here, RGBA in OpenColorIO.\n\n",
        );
        let _ = writeln!(out, "{}\n", self.machine());
        let mut names: Vec<&str> = Vec::new();
        for figure in self.figures.iter().filter(|f| !f.is_growth()) {
            if !names.contains(&figure.name.as_str()) {
                names.push(&figure.name);
            }
        }
        out.push_str("| work | who | MP/s | against ours, 1 thread |\n| --- | --- | --- | --- |\n");
        for name in names {
            let here = || {
                self.figures
                    .iter()
                    .filter(move |f| f.name == name && !f.is_growth())
            };
            let own = here().find(|f| f.side == OWN).map(|f| f.speed().median);
            for figure in here() {
                let speed = figure.speed();
                let ratio = own.map_or(String::new(), |own| format!("{:.2}", speed.median / own));
                let _ = writeln!(
                    out,
                    "| {name} | {} | {} | {ratio} |",
                    figure.side,
                    words(&speed)
                );
            }
        }
        out.push_str(
            "\n## Growth\n\n![Seconds for a picture, by its size](growth.svg)\n\n\
             | work | MP | MP/s |\n| --- | --- | --- |\n",
        );
        for figure in self.figures.iter().filter(|f| f.is_growth()) {
            let megapixels = figure.pixels / 1e6;
            let speed = words(&figure.speed());
            let _ = writeln!(out, "| {} | {megapixels:.1} | {speed} |", figure.name);
        }
        out
    }

    fn machine(&self) -> String {
        let info = fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
        let model = info
            .lines()
            .find_map(|line| line.strip_prefix("model name"))
            .map_or("unknown processor", |rest| {
                rest.trim_matches([' ', '\t', ':'])
            });
        let cores = std::thread::available_parallelism().map_or(1, usize::from);
        let mut words = format!("{model}, {cores} cores");
        for (name, version) in &self.versions {
            let _ = write!(words, "; {name} {version}");
        }
        words
    }
}

/// The side that all others are held against.
const OWN: &str = "native, 1 thread";
/// The sides whose figures make the tables of growth.
const BY_SIZE: &str = "native, by size";
const BY_STEPS: &str = "native, by steps";

fn words(speed: &Speed) -> String {
    format!(
        "{:.1} ({:.1} to {:.1})",
        speed.median, speed.low, speed.high
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_becomes_a_line_with_its_ratio() {
        let mut figures = Figures::default();
        for line in [
            r#"{"versions":{"Node":"v20"}}"#,
            r#"{"side":"native, 1 thread","name":"table 33","pixels":2000000,"seconds":[0.01,0.02,0.03]}"#,
            r#"{"side":"other","name":"table 33","pixels":2000000,"seconds":[0.04]}"#,
        ] {
            figures.take(line).unwrap();
        }
        let text = figures.markdown();
        assert!(
            text.contains("| table 33 | native, 1 thread | 100.0 (66.7 to 100.0) | 1.00 |"),
            "{text}"
        );
        assert!(text.contains("| table 33 | other | 50.0 (50.0 to 50.0) | 0.50 |"));
        assert!(text.contains("Node v20"));
        assert!(figures.take("not a figure").is_err());
    }
}
