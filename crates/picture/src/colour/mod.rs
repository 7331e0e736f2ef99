//! What the numbers in a file mean: profiles, code points and chromaticities.

mod apply;
mod cicp;
mod curve;
mod out;
mod profile;
mod space;

pub(crate) use apply::resolve;
pub use out::OutColour;

use lookwright_colour::space::Primaries;

/// What a file says about the colour of its samples.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ColourHint {
    /// Nothing.
    Untagged,
    /// Enough to read the samples with a known encoding.
    Known {
        /// `srgb`, `display-p3`, `rec709`, `rec2020`, `srgb-linear`, `rec2020-linear`, `acescg`
        /// or `ap0-linear`. [`crate::Decoded::samples`] are in this encoding: a file in another
        /// one has been converted to `ap0-linear`, in which no real colour is negative.
        id: &'static str,
        /// Where that is from, and what was converted: one sentence.
        reason: String,
    },
}

/// What a file may carry about its colour, as read; the most specific entry wins.
#[derive(Clone, Debug, Default)]
pub(crate) struct Tags {
    /// PNG `cICP`: primaries, transfer, matrix, full range (ITU-T H.273).
    pub(crate) cicp: Option<[u8; 4]>,
    pub(crate) icc: Option<Vec<u8>>,
    /// PNG `sRGB`.
    pub(crate) srgb_chunk: bool,
    /// PNG `gAMA`: the encoding exponent (1/2.2 is usual), 0 < value.
    pub(crate) gamma: Option<f64>,
    /// PNG `cHRM`.
    pub(crate) primaries: Option<Primaries>,
    /// OpenEXR `chromaticities`: the samples are linear light in these.
    pub(crate) linear: Option<Primaries>,
}
