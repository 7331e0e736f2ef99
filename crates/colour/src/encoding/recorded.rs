//! How an encoding is usually recorded, and so which range its numbers are in when a program hands them
//! on: the question that every table raises.

use super::{EncodingClass, EncodingId, Range};

/// What a usual recording holds, in codes of 10 bits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Recorded {
    /// The formula's own codes, over the whole scale, in a file that looks like television's: stretching
    /// 64 ... 940 to the whole scale is wrong.
    AsCounted,
    /// The formula's 0 ... 1 within 64 ... 940, as television has it: stretching is right.
    Squeezed,
    /// RGB over the whole scale, or light: there is nothing to stretch.
    Whole,
}

/// What a program does to a clip's codes before a table gets them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Handing {
    /// It hands over the encoding's codes over the whole scale.
    Full,
    /// It stretches the legal range to the whole scale, whatever was recorded.
    Expands,
    /// It leaves the legal range as it is recorded.
    Leaves,
}

impl Handing {
    /// Every one.
    pub const ALL: [Self; 3] = [Self::Full, Self::Expands, Self::Leaves];

    /// Its name in files.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Full => "full",
            Self::Expands => "expands-legal",
            Self::Leaves => "leaves-legal",
        }
    }

    /// For people: "a program that ...".
    pub const fn words(self) -> &'static str {
        match self {
            Self::Full => "hands over full codes",
            Self::Expands => "expands legal to full",
            Self::Leaves => "leaves legal as it is",
        }
    }
}

impl Recorded {
    /// The range of the numbers that a program hands on from a usual recording.
    pub const fn range(self, handing: Handing) -> Range {
        match (self, handing) {
            (Self::AsCounted, Handing::Expands) => Range::Expanded,
            (Self::Squeezed, Handing::Leaves) => Range::Legal,
            _ => Range::Full,
        }
    }

    /// Its name in files.
    pub const fn id(self) -> &'static str {
        match self {
            Self::AsCounted => "as-counted",
            Self::Squeezed => "squeezed",
            Self::Whole => "whole",
        }
    }
}

const PRACTICE: &str = "common practice, no source";
/// (420 - 64) / 876 is 41 %, (433 - 64) / 876 is 42 %.
const IRE: &str = "the maker's paper gives mid-grey's code of 10 bits and its level on television's scale, \
                   64 to 940, side by side";

impl EncodingId {
    /// How it is usually recorded, and where that is from.
    pub const fn recorded(self) -> (Recorded, &'static str) {
        match self {
            Self::SLog3SGamut3 | Self::SLog3SGamut3Cine | Self::VLog => (Recorded::AsCounted, IRE),
            Self::Hlg | Self::Pq => (Recorded::Squeezed, "ITU-R BT.2100-2, narrow range"),
            Self::Rec709 => (Recorded::Squeezed, "ITU-R BT.709-6"),
            Self::Rec2020 => (Recorded::Squeezed, "ITU-R BT.2020-2"),
            Self::LogC3
            | Self::LogC3Ei160
            | Self::LogC3Ei200
            | Self::LogC3Ei250
            | Self::LogC3Ei320
            | Self::LogC3Ei400
            | Self::LogC3Ei500
            | Self::LogC3Ei640
            | Self::LogC3Ei1000
            | Self::LogC3Ei1280
            | Self::LogC3Ei1600
            | Self::LogC4
            | Self::AppleLog
            | Self::AppleLog2 => (Recorded::Squeezed, PRACTICE),
            // Developed from raw, or computed: RGB of the whole scale.
            Self::Log3G10
            | Self::RedLogFilm
            | Self::BlackmagicFilm5
            | Self::AcesCct
            | Self::AcesCc => (Recorded::Whole, PRACTICE),
            _ => match self.info().class {
                EncodingClass::Log => (Recorded::AsCounted, PRACTICE),
                EncodingClass::SceneLinear | EncodingClass::Display | EncodingClass::Scan => {
                    (Recorded::Whole, PRACTICE)
                }
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// S-Log3 and V-Log: mid-grey's code of 10 bits, and its level as a share of television's scale (Sony,
    /// Technical Summary, 2013: 420 and 41 %; Panasonic, V-Log/V-Gamut Reference Manual, 2014: 433 and 42 %).
    #[test]
    fn as_counted_is_what_makers_print_beside_each_other() {
        for (encoding, code, level) in [
            (EncodingId::SLog3SGamut3Cine, 420.0, 41.0),
            (EncodingId::VLog, 433.0, 42.0),
        ] {
            let (_, curve) = encoding.from_scene();
            let grey = f64::from(curve.encode(0.18_f32)) * 1023.0;
            assert!((grey - code).abs() < 0.6, "{encoding:?} {grey}");
            assert!(((grey - 64.0) / 8.76 - level).abs() < 0.5, "{encoding:?}");
            assert_eq!(encoding.recorded().0, Recorded::AsCounted);
        }
    }

    #[test]
    fn a_program_that_does_the_right_thing_needs_the_table_of_full_range() {
        for encoding in EncodingId::ALL {
            let (recorded, source) = encoding.recorded();
            assert!(!source.is_empty());
            assert_eq!(recorded.range(Handing::Full), Range::Full);
            let other = match recorded {
                Recorded::AsCounted => Handing::Leaves,
                Recorded::Squeezed => Handing::Expands,
                Recorded::Whole => continue,
            };
            assert_eq!(recorded.range(other), Range::Full, "{encoding:?}");
        }
    }
}
