//! What is wrong with the whole of a table by a slip when it was written, named as itself: then the other
//! checks only tell of its consequences. `CHECK.md` has what each is told by and how often that is right.

mod input;
mod levels;
mod lost;
mod nodes;
mod order;
mod rough;
mod scale;
mod stray;

use super::finding::{Check, Finding, Severity};
use super::judge::Judge;
use crate::Grid3;
use lookwright_colour::error::Result;
use nodes::Nodes;

/// A mistake that was made with a whole table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Diagnosis {
    /// Codes of 8 to 16 bits, or percent, where 0 to 1 is meant.
    CodeValues,
    /// Codes divided by another full scale than their own, or twice.
    WrongDivisor,
    /// One colour everywhere.
    Constant,
    /// A channel that is the same everywhere.
    DeadChannel,
    /// Two channels that are the same.
    DoubledChannel,
    /// Rows in another order: blue fastest.
    AxesExchanged,
    /// Two channels in each other's place.
    ChannelsExchanged,
    /// Red and blue in each other's place, by rows or by channels.
    AxesOrChannels,
    /// All channels moved on by one.
    ChannelsTurned,
    /// All hues turned one way.
    HueTurned,
    /// More light comes out darker.
    UpsideDown,
    /// One node or a few that have nothing to do with the others.
    StrayNodes,
    /// Values rounded to 8 bits.
    EightBits,
    /// Noise in all nodes.
    Noise,
    /// Legal range where full range is meant.
    LegalForFull,
    /// Squeezed into legal range twice.
    LegalTwice,
    /// Full range expanded as if it were legal.
    Expanded,
    /// The same twice.
    ExpandedTwice,
    /// A log encoding that is passed on as if it were a finished picture.
    LogTakenAsPicture,
    /// A log encoding that is converted twice.
    ContrastTwice,
}

impl Diagnosis {
    /// Its name in files.
    pub const fn id(self) -> &'static str {
        match self {
            Self::CodeValues => "code-values",
            Self::WrongDivisor => "wrong-divisor",
            Self::Constant => "constant",
            Self::DeadChannel => "dead-channel",
            Self::DoubledChannel => "doubled-channel",
            Self::AxesExchanged => "axes-exchanged",
            Self::ChannelsExchanged => "channels-exchanged",
            Self::AxesOrChannels => "axes-or-channels",
            Self::ChannelsTurned => "channels-turned",
            Self::HueTurned => "hue-turned",
            Self::UpsideDown => "upside-down",
            Self::StrayNodes => "stray-nodes",
            Self::EightBits => "eight-bits",
            Self::Noise => "noise",
            Self::LegalForFull => "legal-for-full",
            Self::LegalTwice => "legal-twice",
            Self::Expanded => "expanded",
            Self::ExpandedTwice => "expanded-twice",
            Self::LogTakenAsPicture => "log-taken-as-picture",
            Self::ContrastTwice => "contrast-twice",
        }
    }
}

/// A mistake that was found, before it is a finding among others.
struct Found {
    diagnosis: Diagnosis,
    severity: Severity,
    what: String,
    place: String,
    measure: String,
    advice: String,
}

impl Found {
    fn serious(diagnosis: Diagnosis, what: String, measure: String, advice: String) -> Self {
        Self {
            diagnosis,
            severity: Severity::Serious,
            what,
            place: String::new(),
            measure,
            advice,
        }
    }
}

/// The mistake, if there is one: the first of those that explain the most.
///
/// # Errors
/// If legal range is not defined: it is judged at 10 bits, so never.
pub(super) fn finding(grid: &Grid3, judge: &Judge) -> Result<Option<Finding>> {
    let nodes = Nodes::of(grid);
    let mixed_up = levels::mixed_up(&nodes, judge)?;
    let found = scale::scaled(&nodes)
        .or_else(|| lost::constant(&nodes))
        .or_else(|| scale::divided(&nodes))
        .or_else(|| lost::flat_channel(&nodes))
        .or_else(|| lost::doubled_channel(&nodes))
        .or_else(|| order::upside_down(&nodes))
        .or_else(|| order::exchanged(&nodes))
        .or_else(|| order::hue_turned(&nodes, judge))
        .or(mixed_up)
        .or_else(|| stray::stray_nodes(&nodes))
        .or_else(|| input::greys(&nodes, judge))
        .or_else(|| rough::eight_bits(&nodes))
        .or_else(|| rough::noise(&nodes));
    Ok(found.map(|found| Finding {
        check: Check::Mistake(found.diagnosis),
        severity: found.severity,
        what: found.what,
        place: found.place,
        measure: found.measure,
        advice: found.advice,
    }))
}

#[cfg(test)]
mod tests;
