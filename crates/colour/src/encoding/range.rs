//! Full and legal range: what the numbers of a picture are to the codes of its encoding.
//!
//! Television keeps the signal 0 ..= 1 at `16 * 2^(n - 8)` ..= `235 * 2^(n - 8)` of n bits
//! (ITU-R BT.709-6, BT.2020-2): 64 ..= 940 of 1023 at 10 bits. Cameras' log formulas on the other
//! hand count on the whole scale: S-Log3's mid-grey is code 420 of 1023, in a file of either
//! range. So three things may have happened to the numbers of a picture, and for a log encoding
//! all three are met:
//!
//! | range | the picture's number is | code of the encoding, `f` the number |
//! | --- | --- | --- |
//! | full | the code over full scale | `f` |
//! | legal | the encoding's 0 ..= 1, squeezed into 64 ..= 940 | `(1023 f - 64) / 876` |
//! | expanded | the code after a decoder stretched 64 ..= 940 | log: `(876 f + 64) / 1023`; others: `f` |
//!
//! *Expanded* is what a video frame from a browser is. For pictures made for a screen the decoder
//! was right, their signal is 0 ..= 1 now; for a camera log it was not, and must be undone: code
//! 420 arrives as 0.40639 and has to become 0.41056 again before S-Log3 is decoded.

use super::{EncodingClass, named};
use crate::lane::Lane;
use crate::{Error, Result};

/// What the numbers of a picture are to the codes of its encoding; see the module's table.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Range {
    /// Codes over full scale, as the encoding counts them.
    #[default]
    Full,
    /// The encoding's 0 ..= 1 squeezed into the legal range.
    Legal,
    /// The legal range stretched to 0 ..= 1 by a decoder that took it for television.
    Expanded,
}

/// `gain * x + offset`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Affine {
    /// Factor.
    pub gain: f32,
    /// Added after it.
    pub offset: f32,
}

impl Affine {
    /// No change.
    pub const IDENTITY: Self = Self {
        gain: 1.0,
        offset: 0.0,
    };

    /// `gain * x + offset`.
    #[inline(always)]
    pub fn apply<L: Lane>(self, x: L) -> L {
        x * self.gain + self.offset
    }
}

/// Black and white of the legal range at a bit depth of 8 ..= 16, as fractions of full scale:
/// 64/1023 and 940/1023 at 10 bits.
///
/// # Errors
/// If the depth is another.
pub fn legal_limits(bits: u32) -> Result<[f64; 2]> {
    if !(8..=16).contains(&bits) {
        return Err(Error::new(format!(
            "legal range is not defined for {bits} bits; use 8 to 16, or full range"
        )));
    }
    let step = f64::from(1_u32 << (bits - 8));
    let full = f64::from((1_u32 << bits) - 1);
    Ok([16.0 * step / full, 235.0 * step / full])
}

impl Range {
    /// Every range.
    pub const ALL: [Self; 3] = [Self::Full, Self::Legal, Self::Expanded];

    /// Its name in files and options.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Full => "full",
            Self::Legal => "legal",
            Self::Expanded => "expanded",
        }
    }

    /// The range with this name.
    ///
    /// # Errors
    /// If there is none.
    pub fn parse(id: &str) -> Result<Self> {
        named("range", id, &Self::ALL, Self::id)
    }

    /// From the picture's numbers (fractions of the file's full scale at `bits`) to codes of an
    /// encoding of this class.
    ///
    /// # Errors
    /// For [`Range::Legal`] at other than 8 ..= 16 bits.
    pub fn to_code(self, class: EncodingClass, bits: u32) -> Result<Affine> {
        match (self, class) {
            (Self::Legal, _) => {
                let [black, white] = legal_limits(bits)?;
                Ok(Affine {
                    gain: (1.0 / (white - black)) as f32,
                    offset: (-black / (white - black)) as f32,
                })
            }
            // Makers' formulas count 10-bit codes, whatever the depth of the file.
            (Self::Expanded, EncodingClass::Log) => squeeze(10),
            (Self::Full | Self::Expanded, _) => Ok(Affine::IDENTITY),
        }
    }

    /// From a screen's signal to the numbers of a file at `bits` in this range. A file of
    /// expanded range is the same as one of full range.
    ///
    /// # Errors
    /// For [`Range::Legal`] at other than 8 ..= 16 bits.
    pub fn from_signal(self, bits: u32) -> Result<Affine> {
        match self {
            Self::Legal => squeeze(bits),
            Self::Full | Self::Expanded => Ok(Affine::IDENTITY),
        }
    }
}

/// 0 ..= 1 into the legal range.
fn squeeze(bits: u32) -> Result<Affine> {
    let [black, white] = legal_limits(bits)?;
    Ok(Affine {
        gain: (white - black) as f32,
        offset: black as f32,
    })
}
