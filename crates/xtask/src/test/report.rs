//! The table at the end of a test run.

use super::tally::Tally;
use anyhow::Result;
use std::fmt;
use std::time::Duration;

/// What came of one step.
pub(crate) struct Line {
    name: &'static str,
    took: Duration,
    tally: Tally,
}

impl Line {
    /// A step that could not do its work counts as one failure.
    pub(crate) fn new(name: &'static str, took: Duration, outcome: Result<Tally>) -> Self {
        Self {
            name,
            took,
            tally: outcome.unwrap_or_else(|_| Tally::one(false)),
        }
    }
}

/// All steps of a run.
#[derive(Default)]
pub(crate) struct Report(Vec<Line>);

impl Report {
    pub(crate) fn add(&mut self, line: Line) {
        self.0.push(line);
    }

    pub(crate) fn failed(&self) -> bool {
        self.total().failed > 0
    }

    fn total(&self) -> Tally {
        let mut total = Tally::default();
        self.0.iter().for_each(|line| total += line.tally);
        total
    }
}

impl fmt::Display for Report {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(
            f,
            "{:<26} {:>8} {:>8} {:>8} {:>8}",
            "step", "seconds", "passed", "failed", "left out"
        )?;
        for Line {
            name,
            took,
            tally:
                Tally {
                    passed,
                    failed,
                    skipped,
                },
        } in &self.0
        {
            let seconds = took.as_secs_f64();
            writeln!(
                f,
                "{name:<26} {seconds:>8.1} {passed:>8} {failed:>8} {skipped:>8}"
            )?;
        }
        let Tally {
            passed,
            failed,
            skipped,
        } = self.total();
        let seconds: f64 = self.0.iter().map(|line| line.took.as_secs_f64()).sum();
        writeln!(
            f,
            "{:<26} {seconds:>8.1} {passed:>8} {failed:>8} {skipped:>8}",
            "all"
        )?;
        write!(f, "{passed} passed, {failed} failed")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use anyhow::anyhow;

    #[test]
    fn a_step_that_broke_fails_the_run() {
        let mut report = Report::default();
        let fine = Tally {
            passed: 3,
            failed: 0,
            skipped: 1,
        };
        report.add(Line::new("one", Duration::from_millis(1500), Ok(fine)));
        assert!(!report.failed());
        report.add(Line::new(
            "two",
            Duration::from_secs(1),
            Err(anyhow!("broke")),
        ));
        assert!(report.failed());
        let text = report.to_string();
        assert!(
            text.contains("one                             1.5        3        0        1"),
            "{text}"
        );
        assert!(text.ends_with("\n3 passed, 1 failed"), "{text}");
    }
}
