//! Scores as tables.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use lookwright_table::health::Severity;

use super::Verdict;

/// The half that thresholds were chosen on, or the one that they were not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Half {
    Tuning,
    Held,
}

impl Half {
    pub const ALL: [Self; 2] = [Self::Tuning, Self::Held];

    fn title(self) -> &'static str {
        match self {
            Self::Tuning => "tuning half",
            Self::Held => "held-out half",
        }
    }
}

/// A table and what was said of it.
#[derive(Clone, Debug)]
pub struct Score {
    pub half: Half,
    pub name: String,
    /// The mistake that it has; of one without, where it comes from.
    pub truth: &'static str,
    /// Diagnoses that name the mistake.
    pub right: &'static [&'static str],
    /// Whether a table alone can tell of it.
    pub tellable: bool,
    pub verdict: Verdict,
}

impl Score {
    pub fn named(&self) -> bool {
        self.right.contains(&self.verdict.said.as_str())
    }
}

/// How often each thing was said: "axes-exchanged 3, nothing 1".
fn counted<'a>(said: impl Iterator<Item = &'a str>) -> String {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for it in said {
        *counts.entry(it).or_default() += 1;
    }
    let words: Vec<String> = counts.iter().map(|(it, n)| format!("{it} {n}")).collect();
    words.join(", ")
}

/// The confusion table: a row for each mistake, what was said of its tables in the columns.
pub fn bad_table(half: Half, scores: &[Score]) -> String {
    let mut rows: Vec<&str> = Vec::new();
    for score in scores {
        if !rows.contains(&score.truth) {
            rows.push(score.truth);
        }
    }
    let tellable = || scores.iter().filter(|it| it.tellable);
    let mut text = format!(
        "### Mistakes, {}: {} of {} named as themselves\n\n\
         | mistake | tables | named | nothing said | something else said | passes `--fail-on serious` | passes |\n\
         | --- | --- | --- | --- | --- | --- | --- |\n",
        half.title(),
        tellable().filter(|it| it.named()).count(),
        tellable().count(),
    );
    for row in rows {
        let of: Vec<_> = scores.iter().filter(|it| it.truth == row).collect();
        let nothing = of.iter().filter(|it| it.verdict.said == "nothing").count();
        let other = of
            .iter()
            .filter(|it| !it.named() && it.verdict.said != "nothing");
        let passes = |failing| {
            let below = |it: &&&Score| it.verdict.worst.is_some_and(|it| it < failing);
            of.iter().filter(below).count()
        };
        let named = of.iter().filter(|it| it.named());
        let _ = writeln!(
            text,
            "| {row}{} | {} | {} | {nothing} | {} | {} | {} |",
            if of[0].tellable {
                ""
            } else {
                " (cannot be told)"
            },
            of.len(),
            counted(named.map(|it| it.verdict.said.as_str())),
            counted(other.map(|it| it.verdict.said.as_str())),
            passes(Severity::Serious),
            passes(Severity::Minor),
        );
    }
    text + "\n"
}

/// Tables without a mistake, by where they come from.
pub fn good_table(half: Half, scores: &[Score]) -> String {
    let mut text = format!(
        "### Tables without a mistake, {}\n\n\
         | from | tables | a mistake said | serious | minor | nothing will hurt |\n\
         | --- | --- | --- | --- | --- | --- |\n",
        half.title()
    );
    let mut origins: BTreeMap<&str, Vec<&Score>> = BTreeMap::new();
    for score in scores {
        origins.entry(score.truth).or_default().push(score);
    }
    for (origin, of) in origins {
        let mistakes = of.iter().filter(|it| it.verdict.said != "nothing");
        let worst = |wanted| {
            of.iter()
                .filter(|it| it.verdict.worst == Some(wanted))
                .count()
        };
        let _ = writeln!(
            text,
            "| {origin} | {} | {} | {} | {} | {} |",
            of.len(),
            counted(mistakes.map(|it| it.verdict.said.as_str())),
            worst(Severity::Serious),
            worst(Severity::Minor),
            worst(Severity::Info),
        );
    }
    text + "\n"
}
