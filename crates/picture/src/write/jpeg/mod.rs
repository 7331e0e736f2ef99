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
                with_comment(header, options.ascii_description())
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

/// A header with a comment behind its first segment, which has to come first (ITU-T T.81, B.2.4.5;
/// JFIF 1.02).
fn with_comment(mut header: Vec<u8>, text: Option<String>) -> Vec<u8> {
    const MOST: usize = 65_533;
    let Some(text) = text.filter(|text| text.len() <= MOST) else {
        return header;
    };
    let Some([high, low]) = header.get(4..6).map(|length| [length[0], length[1]]) else {
        return header;
    };
    let place = 4 + usize::from(u16::from_be_bytes([high, low]));
    let length = (text.len() as u16 + 2).to_be_bytes();
    let comment = [0xff, 0xfe]
        .into_iter()
        .chain(length)
        .chain(text.into_bytes());
    header.splice(place..place, comment);
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
