//! Raw pictures: interleaved RGB, rows from the top, low byte first, and nothing else: for pipes, whose
//! other end has been told what comes.

use lookwright_colour::Result;

use super::{Encode, Rows};
use crate::Depth;

pub(super) struct RawWriter {
    pub(super) depth: Depth,
    pub(super) file: Vec<u8>,
}

impl Encode for RawWriter {
    fn push(&mut self, rows: Rows<'_>) -> Result<()> {
        match self.depth {
            Depth::Eight => self.file.extend_from_slice(&rows.as_u8()?),
            Depth::F32 => self
                .file
                .extend(rows.as_f32()?.iter().flat_map(|v| v.to_le_bytes())),
            _ => self
                .file
                .extend(rows.as_u16()?.iter().flat_map(|v| v.to_le_bytes())),
        }
        Ok(())
    }

    fn finish(self: Box<Self>) -> Result<Vec<u8>> {
        Ok(self.file)
    }
}
