//! A finding: what was looked at, where it hurts, how bad it is, what to do.

use super::mistake::Diagnosis;

/// How bad a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Good, or simply worth knowing.
    Info,
    /// May show in some pictures.
    Minor,
    /// Will show.
    Serious,
}

impl Severity {
    /// Its name in files.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Info => "info",
            Self::Minor => "minor",
            Self::Serious => "serious",
        }
    }

    /// The severity of a number that should be small.
    pub(super) fn of(value: f64, minor_above: f64, serious_above: f64) -> Self {
        if value > serious_above {
            Self::Serious
        } else if value > minor_above {
            Self::Minor
        } else {
            Self::Info
        }
    }
}

/// What was looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Check {
    /// A slip that spoils the whole table; only there if there is one.
    Mistake(Diagnosis),
    /// Difference to the exact path.
    GridError,
    /// Colour space turned over on itself.
    FoldOvers,
    /// A channel that falls while its input rises.
    Reversals,
    /// Abrupt changes of slope on the grey axis.
    Kinks,
    /// Steps of the source pulled apart further than the display's.
    Stretch,
    /// Colour on the grey axis.
    GreyTint,
    /// Channels at the lower end of their range.
    ClippedBlacks,
    /// Channels at the upper end of their range.
    ClippedWhites,
    /// Output against full and legal range.
    OutputRange,
    /// What happens to input outside the domain.
    OutsideDomain,
    /// Whether the table can be undone.
    Invertibility,
}

impl Check {
    /// Its name in files.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Mistake(_) => "mistake",
            Self::GridError => "grid-error",
            Self::FoldOvers => "fold-overs",
            Self::Reversals => "reversals",
            Self::Kinks => "kinks",
            Self::Stretch => "stretch",
            Self::GreyTint => "grey-tint",
            Self::ClippedBlacks => "clipped-blacks",
            Self::ClippedWhites => "clipped-whites",
            Self::OutputRange => "output-range",
            Self::OutsideDomain => "outside-domain",
            Self::Invertibility => "invertibility",
        }
    }

    /// The mistake, where there is one.
    pub const fn diagnosis(self) -> Option<Diagnosis> {
        match self {
            Self::Mistake(diagnosis) => Some(diagnosis),
            _ => None,
        }
    }
}

/// The outcome of one check, in plain words.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// What was looked at.
    pub check: Check,
    /// How bad it is.
    pub severity: Severity,
    /// What it is, one sentence.
    pub what: String,
    /// Where in the table, or empty.
    pub place: String,
    /// How bad in numbers.
    pub measure: String,
    /// What to do, or empty if nothing.
    pub advice: String,
}
