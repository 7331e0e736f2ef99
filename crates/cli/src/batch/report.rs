//! What is said of a run while it goes on and when it ends: a bar in a terminal, plain lines
//! elsewhere, and lines of JSON for programs.

use std::fs::File;
use std::io::{IsTerminal, Write};
use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use anyhow::{Context, Result};
use indicatif::{ProgressBar, ProgressStyle};
use serde_json::{Value, json};

use crate::files::say;

/// Between plain lines.
const EVERY: Duration = Duration::from_secs(10);

/// How long the parts of a picture's work took.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Took {
    pub(crate) reading: Duration,
    pub(crate) rendering: Duration,
    pub(crate) writing: Duration,
}

/// How a picture's work ended.
#[derive(Debug)]
pub(crate) enum Outcome {
    /// It was written: so many bytes.
    Written { bytes: usize, took: Took },
    /// It was there already, as it would be written.
    Kept,
    /// It could not be done.
    Failed(anyhow::Error),
}

/// What is said of a run.
pub(crate) struct Report {
    total: usize,
    quiet: bool,
    bar: ProgressBar,
    begun: Instant,
    state: Mutex<State>,
}

#[derive(Default)]
struct State {
    written: usize,
    kept: usize,
    /// By their place in the run.
    failed: Vec<(usize, anyhow::Error)>,
    said: Option<Instant>,
    log: Option<File>,
}

impl Report {
    /// Of `total` pictures.
    ///
    /// # Errors
    /// If the log can't be written.
    pub(crate) fn new(total: usize, quiet: bool, log: Option<&Path>) -> Result<Self> {
        let bar = if total > 1 && !quiet && std::io::stderr().is_terminal() {
            let style = ProgressStyle::with_template("{pos}/{len} {wide_bar} {eta} {msg}")?;
            ProgressBar::new(total as u64).with_style(style)
        } else {
            ProgressBar::hidden()
        };
        let open = |path: &Path| {
            let file = File::options().create(true).append(true).open(path);
            file.with_context(|| format!("{}: can't be written", path.display()))
        };
        let state = State {
            log: log.map(open).transpose()?,
            ..State::default()
        };
        Ok(Self {
            total,
            quiet,
            bar,
            begun: Instant::now(),
            state: Mutex::new(state),
        })
    }

    /// The bar, for what goes before the pictures.
    pub(crate) fn bar(&self) -> &ProgressBar {
        &self.bar
    }

    /// Adds a line to the log; a log that can't be written to ends nothing.
    pub(crate) fn log(&self, line: &Value) {
        log_to(&mut self.state(), line);
    }

    /// A picture is done: the one at `place` of the run, made from `input`.
    pub(crate) fn finished(&self, place: usize, (input, output): (&Path, &Path), outcome: Outcome) {
        let mut state = self.state();
        let mut line = json!({"event": "picture", "input": input, "output": output});
        match outcome {
            Outcome::Written { bytes, took } => {
                state.written += 1;
                line["outcome"] = "written".into();
                line["bytes"] = bytes.into();
                for (part, took) in [
                    ("reading_s", took.reading),
                    ("rendering_s", took.rendering),
                    ("writing_s", took.writing),
                ] {
                    line[part] = rounded(took.as_secs_f64()).into();
                }
            }
            Outcome::Kept => {
                state.kept += 1;
                line["outcome"] = "kept".into();
            }
            Outcome::Failed(error) => {
                line["outcome"] = "failed".into();
                line["why"] = format!("{error:#}").into();
                state.failed.push((place, error));
            }
        }
        log_to(&mut state, &line);
        self.bar.inc(1);
        self.bar.set_message(input.display().to_string());
        let done = state.written + state.kept + state.failed.len();
        let due = state.said.unwrap_or(self.begun).elapsed() >= EVERY;
        if due && self.bar.is_hidden() && !self.quiet && done < self.total {
            state.said = Some(Instant::now());
            say(&format!(
                "{done} of {} pictures, {}",
                self.total,
                self.pace(state.written)
            ));
        }
    }

    /// Ends the run; gives what failed, in the order of the pictures.
    pub(crate) fn conclude(self) -> Vec<anyhow::Error> {
        self.bar.finish_and_clear();
        let pace = |written| self.pace(written);
        let mut state = self.state();
        state.failed.sort_by_key(|(place, _)| *place);
        let (written, kept, failed) = (state.written, state.kept, state.failed.len());
        let seconds = rounded(self.begun.elapsed().as_secs_f64());
        let line = json!({
            "event": "end", "written": written, "kept": kept, "failed": failed, "seconds": seconds
        });
        log_to(&mut state, &line);
        if self.total > 1 && !self.quiet {
            let kept = match kept {
                0 => String::new(),
                kept => format!(", {kept} were there already"),
            };
            say(&format!(
                "{written} of {} pictures written{kept}; {}",
                self.total,
                pace(written)
            ));
        }
        std::mem::take(&mut state.failed)
            .into_iter()
            .map(|(_, error)| error)
            .collect()
    }

    fn pace(&self, written: usize) -> String {
        let seconds = self.begun.elapsed().as_secs_f64();
        format!(
            "{seconds:.1} s, {:.2} a second",
            written as f64 / seconds.max(1e-3)
        )
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn rounded(seconds: f64) -> f64 {
    (seconds * 1e4).round() / 1e4
}

fn log_to(state: &mut State, line: &Value) {
    if let Some(log) = &mut state.log
        && log.write_all(format!("{line}\n").as_bytes()).is_err()
    {
        say("the log can't be written to any more; the run goes on without it");
        state.log = None;
    }
}
