//! Frame numbers as people write them: `1001-1240x2,1300`.

use std::ops::RangeInclusive;

/// Most frames that one list may name: a hundred hours at 25 a second, so that a slip of the finger
/// fills no memory.
const MOST: u64 = 9_000_000;

/// Runs of frame numbers, in the order in which they were written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Frames(Vec<Run>);

#[derive(Clone, Debug, PartialEq, Eq)]
struct Run {
    numbers: RangeInclusive<u32>,
    step: u32,
}

impl Frames {
    /// Reads `7`, `1001-1240`, `1001-1240x2` (every second one), and several of them between commas.
    ///
    /// # Errors
    /// One sentence for anything else.
    pub(crate) fn parse(text: &str) -> Result<Self, String> {
        let runs: Option<Vec<_>> = text.split(',').map(|run| Run::parse(run.trim())).collect();
        let runs = runs.ok_or("give frame numbers such as 1001-1240, 1001-1240x2 or 7,9,12")?;
        let backwards = runs.iter().find(|run| run.numbers.is_empty());
        if let Some(run) = backwards {
            return Err(format!(
                "{}-{} runs backwards; give the smaller number first",
                run.numbers.start(),
                run.numbers.end()
            ));
        }
        let count = |run: &Run| u64::from((run.numbers.end() - run.numbers.start()) / run.step) + 1;
        if runs.iter().map(count).sum::<u64>() > MOST {
            return Err(format!("these are more than {MOST} frames"));
        }
        Ok(Self(runs))
    }

    /// Every number, in the order of the runs; what several runs name comes once.
    pub(crate) fn numbers(&self) -> impl Iterator<Item = u32> {
        let runs = self.0.iter().enumerate();
        runs.flat_map(move |(place, run)| {
            let numbers = run.numbers.clone().step_by(run.step as usize);
            numbers.filter(move |n| !self.0[..place].iter().any(|earlier| earlier.has(*n)))
        })
    }

    /// Whether a number is among them.
    pub(crate) fn has(&self, number: u32) -> bool {
        self.0.iter().any(|run| run.has(number))
    }
}

impl Run {
    fn parse(text: &str) -> Option<Self> {
        let (span, step) = match text.split_once('x') {
            Some((span, step)) => (span, step.parse().ok().filter(|step| *step > 0)?),
            None => (text, 1),
        };
        let (first, last) = span.split_once('-').unwrap_or((span, span));
        Some(Self {
            numbers: first.parse().ok()?..=last.parse().ok()?,
            step,
        })
    }

    fn has(&self, number: u32) -> bool {
        self.numbers.contains(&number) && (number - self.numbers.start()).is_multiple_of(self.step)
    }
}

/// Numbers for a sentence, in ascending order: "1003, 1010 to 1012"; of many runs the first few.
pub(crate) fn in_words(numbers: &[u32]) -> String {
    const SHOWN: usize = 4;
    let runs: Vec<_> = numbers
        .chunk_by(|a, b| a.checked_add(1) == Some(*b))
        .collect();
    let mut words: Vec<_> = runs
        .iter()
        .take(SHOWN)
        .map(|run| match run {
            [only] => only.to_string(),
            [first, .., last] => format!("{first} to {last}"),
            [] => String::new(),
        })
        .collect();
    if let Some(more @ 1..) = runs.len().checked_sub(SHOWN) {
        words.push(format!("and {more} more gaps"));
    }
    words.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(text: &str) -> Vec<u32> {
        Frames::parse(text).unwrap().numbers().collect()
    }

    #[test]
    fn runs_steps_and_lists() {
        assert_eq!(all("7"), [7]);
        assert_eq!(all("1001-1004"), [1001, 1002, 1003, 1004]);
        assert_eq!(all("1001-1006x2"), [1001, 1003, 1005]);
        assert_eq!(all("9, 1-3,2-4"), [9, 1, 2, 3, 4]);
        let frames = Frames::parse("1001-1006x2").unwrap();
        assert!(frames.has(1005) && !frames.has(1004) && !frames.has(1007) && !frames.has(7));
    }

    #[test]
    fn the_rest_is_refused() {
        for text in ["", "a", "1-", "-3", "1-3x0", "1-3x", "1..3", "4294967296"] {
            let refusal = Frames::parse(text).unwrap_err();
            assert!(
                refusal.starts_with("give frame numbers"),
                "{text}: {refusal}"
            );
        }
        assert!(Frames::parse("5-2").unwrap_err().contains("backwards"));
        assert!(
            Frames::parse("0-4294967295")
                .unwrap_err()
                .contains("more than")
        );
    }

    #[test]
    fn gaps_are_said_briefly() {
        assert_eq!(in_words(&[3, 5, 6, 7]), "3, 5 to 7");
        assert_eq!(
            in_words(&[1, 3, 5, 7, 9, 11]),
            "1, 3, 5, 7, and 2 more gaps"
        );
    }
}
