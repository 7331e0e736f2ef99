//! What a file's header says of its picture, before anything is decoded.

use lookwright_colour::Result;

use crate::kind::Kind;

/// What a file's header says of its picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Header {
    /// What kind of file it is.
    pub kind: Kind,
    /// Columns, before the EXIF orientation has been applied.
    pub width: u64,
    /// Rows.
    pub height: u64,
    /// Channels that are stored, alpha and others among them.
    pub channels: u32,
    /// Bits of each number.
    pub bits: u32,
    /// Whether the numbers are floats.
    pub floats: bool,
    /// Bytes for each pixel that are held at the worst moment of decoding, the result among them.
    pub decoding_bytes: u64,
}

impl Header {
    /// Bytes of the decoded samples.
    pub fn sample_bytes(&self) -> u64 {
        let each = match self.bits {
            ..=8 if !self.floats => 1,
            9..=16 if !self.floats => 2,
            _ => 4,
        };
        let pixels = self.width.saturating_mul(self.height);
        pixels.saturating_mul(3 * each)
    }
}

/// Is shown each header before its picture is decoded, and may refuse it.
pub(crate) type Gate<'a> = &'a mut dyn FnMut(&Header) -> Result<()>;
