//! JPEG, by jpeg-encoder: baseline, so that every reader opens it. Rows are encoded as they come,
//! a piece at a time.

mod pieces;

use std::ops::Range;

use lookwright_colour::{Error, Result};

use super::{Encode, Rows, WriteOptions};
use pieces::Pieces;

/// A part of a picture begins at a multiple of these rows.
pub(super) const PART_ROWS: usize = pieces::ROWS;

pub(super) struct JpegWriter {
    pieces: Pieces,
    /// Bytes of a row.
    row: usize,
    /// The next piece.
    next: usize,
    /// The row after the last.
    end: usize,
    /// Rows that are no whole piece yet.
    pending: Vec<u8>,
    file: Vec<u8>,
}

impl JpegWriter {
    /// For `rows` of the picture, which begin at a multiple of [`PART_ROWS`] and end at one or with
    /// the picture.
    pub(super) fn new(
        width: u32,
        height: u32,
        rows: &Range<usize>,
        quality: u8,
        options: &WriteOptions,
    ) -> Result<Self> {
        let (Ok(w), Ok(h)) = (u16::try_from(width), u16::try_from(height)) else {
            return Err(Error::new(format!(
                "A JPEG can't be {width} x {height} pixels (65,535 a side at most): write a TIFF \
                 or PNG."
            )));
        };
        if !(1..=100).contains(&quality) {
            return Err(Error::new(format!(
                "JPEG quality {quality} is not within 1 ... 100."
            )));
        }
        let pieces = Pieces {
            width: w,
            height: h,
            quality,
        };
        let file = match rows.start {
            0 => {
                let header = pieces.header(options.icc()?.as_deref())?;
                let header = with_comment(header, options.ascii_description());
                with_exif(header, options.exif())
            }
            _ => Vec::new(),
        };
        Ok(Self {
            pieces,
            row: 3 * width as usize,
            next: rows.start / PART_ROWS,
            end: rows.end,
            pending: Vec::new(),
            file,
        })
    }
}

/// A header with a comment (ITU-T T.81, B.2.4.5).
fn with_comment(header: Vec<u8>, text: Option<String>) -> Vec<u8> {
    match text {
        Some(text) => with_segment(header, 0xfe, text.as_bytes()),
        None => header,
    }
}

/// A header with what a camera wrote (CIPA DC-008, 4.7.2).
fn with_exif(header: Vec<u8>, block: Option<Vec<u8>>) -> Vec<u8> {
    match block {
        Some(block) => with_segment(header, 0xe1, &[b"Exif\0\0", &block[..]].concat()),
        None => header,
    }
}

/// A header with one more segment behind its first, which has to come first (JFIF 1.02). One that is too
/// long for a segment is left out.
fn with_segment(mut header: Vec<u8>, marker: u8, content: &[u8]) -> Vec<u8> {
    const MOST: usize = 65_533;
    if content.len() > MOST {
        return header;
    }
    let Some([high, low]) = header.get(4..6).map(|length| [length[0], length[1]]) else {
        return header;
    };
    let place = 4 + usize::from(u16::from_be_bytes([high, low]));
    let length = (content.len() as u16 + 2).to_be_bytes();
    let start = [0xff, marker].into_iter().chain(length);
    header.splice(place..place, start.chain(content.iter().copied()));
    header
}

impl Encode for JpegWriter {
    fn push(&mut self, rows: Rows<'_>) -> Result<()> {
        let rows = rows.as_u8()?;
        let mut rows = &rows[..];
        while !rows.is_empty() {
            let left = self.end - self.next * PART_ROWS;
            let piece = left.min(PART_ROWS) * self.row;
            let (now, later) = rows.split_at(rows.len().min(piece - self.pending.len()));
            self.pending.extend_from_slice(now);
            rows = later;
            if self.pending.len() == piece {
                self.pieces.add(self.next, &self.pending, &mut self.file)?;
                self.pending.clear();
                self.next += 1;
            }
        }
        Ok(())
    }

    fn written(&mut self) -> Vec<u8> {
        std::mem::take(&mut self.file)
    }

    fn finish(self: Box<Self>) -> Result<Vec<u8>> {
        Ok(self.file)
    }
}
