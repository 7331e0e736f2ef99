//! Counting what test runners say that they ran.

use std::ops::AddAssign;

/// How many tests passed, failed and were left out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Tally {
    pub(crate) passed: u32,
    pub(crate) failed: u32,
    pub(crate) skipped: u32,
}

impl AddAssign for Tally {
    fn add_assign(&mut self, other: Self) {
        self.passed += other.passed;
        self.failed += other.failed;
        self.skipped += other.skipped;
    }
}

impl Tally {
    /// One check, passed or not.
    pub(crate) fn one(passed: bool) -> Self {
        Self {
            passed: u32::from(passed),
            failed: u32::from(!passed),
            skipped: 0,
        }
    }

    /// One check that cannot be made here.
    pub(crate) fn left_out() -> Self {
        Self {
            passed: 0,
            failed: 0,
            skipped: 1,
        }
    }

    /// Adds what a line says, if it is a runner's summary: Rust's
    /// `test result: ok. 3 passed; 0 failed; 1 ignored; ...` or Node's `ℹ pass 3`.
    pub(crate) fn see(&mut self, line: &str) {
        let line = line.trim();
        if let Some(counts) = line.strip_prefix("test result: ") {
            let counts = counts.split_once(". ").map_or("", |(_, counts)| counts);
            for (count, word) in counts.split("; ").filter_map(|part| part.split_once(' ')) {
                self.count(word, count);
            }
        } else if let Some((word, count)) = line
            .strip_prefix("ℹ ")
            .and_then(|rest| rest.split_once(' '))
        {
            self.count(word, count);
        }
    }

    fn count(&mut self, word: &str, count: &str) {
        let Ok(count) = count.parse::<u32>() else {
            return;
        };
        match word {
            "passed" | "pass" => self.passed += count,
            // Node cancels a test that outlives its file; that is no pass.
            "failed" | "fail" | "cancelled" => self.failed += count,
            "ignored" | "skipped" | "todo" => self.skipped += count,
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(lines: &[&str]) -> Tally {
        let mut tally = Tally::default();
        lines.iter().for_each(|line| tally.see(line));
        tally
    }

    #[test]
    fn summaries_of_cargo_test_add_up() {
        let tally = of(&[
            "running 4 tests",
            "test a::b ... ok",
            "test result: ok. 3 passed; 0 failed; 1 ignored; 0 measured; 0 filtered out; finished in 0.00s",
            "test result: FAILED. 5 passed; 2 failed; 0 ignored; 0 measured; 9 filtered out; finished in 1.20s",
        ]);
        assert_eq!(
            tally,
            Tally {
                passed: 8,
                failed: 2,
                skipped: 1
            }
        );
    }

    #[test]
    fn the_summary_of_node_counts() {
        let tally = of(&[
            "✔ opens (12.5ms)",
            "ℹ tests 7",
            "ℹ suites 0",
            "ℹ pass 4",
            "ℹ fail 1",
            "ℹ cancelled 1",
            "ℹ skipped 1",
            "ℹ duration_ms 812.3",
        ]);
        assert_eq!(
            tally,
            Tally {
                passed: 4,
                failed: 2,
                skipped: 1
            }
        );
    }

    #[test]
    fn other_lines_count_nothing() {
        let lines = [
            "3 passed",
            "ℹ",
            "ℹ pass many",
            "test result: ",
            "test result: ok. x passed",
        ];
        assert_eq!(of(&lines), Tally::default());
    }
}
