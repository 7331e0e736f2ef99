//! What the numbers in a file mean: profiles, code points and chromaticities.

mod apply;
mod cicp;
mod curve;
mod out;
mod profile;
mod space;

pub(crate) use apply::resolve;
pub use out::OutColour;
pub(crate) use profile::{ReadTable, is_table, no_table, table};

use lookwright_colour::encoding::EncodingId;
use lookwright_colour::space::Primaries;

/// What a file says about the colour of its samples.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ColourHint {
    /// Nothing.
    Untagged,
    /// Enough to read the samples with a known encoding.
    Known {
        /// An encoding for screens, linear light, or a film scan's. [`crate::Decoded::samples`] are in it: a file in
        /// a space without an encoding has been converted to linear AP0, in which no real colour is
        /// negative.
        encoding: EncodingId,
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
    /// DPX's transfer characteristic, if it is a film scan's.
    pub(crate) scan: Option<EncodingId>,
}
