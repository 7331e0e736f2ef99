//! Several pictures in one stream, as programs pipe them: one file after the other, without anything
//! between them. They are taken apart where a format says where it ends, and refused elsewhere; a
//! stream is never read as its first picture alone.

use core::ops::Range;

use anyhow::{Result, bail};
use lookwright_picture::{Kind, probe, sniff};

/// Where each picture of a stream lies.
///
/// # Errors
/// One sentence if one is no picture, cut off, or of a format that does not say where it ends.
pub(super) fn pictures(stream: &[u8]) -> Result<Vec<Range<usize>>> {
    let mut found = Vec::new();
    let mut first = 0;
    while first < stream.len() || found.is_empty() {
        let rest = &stream[first..];
        let number = found.len() + 1;
        let kind = match sniff(rest) {
            Ok(kind) => kind,
            Err(error) if number == 1 => bail!("standard input: {error}"),
            Err(_) => bail!(
                "standard input: something follows picture {} that is no picture",
                number - 1
            ),
        };
        let length = match kind {
            Kind::Png => png(rest),
            Kind::Jpeg => jpeg(rest),
            Kind::Dpx => dpx(rest),
            _ => {
                if number > 1 || holds_another(rest) {
                    bail!(
                        "standard input: this stream holds several pictures as {}, which can't be \
                         told apart; send PNG, JPEG or DPX, or raw frames with --raw",
                        kind.name()
                    );
                }
                Some(rest.len())
            }
        };
        let Some(length) = length else {
            bail!("standard input: picture {number} is cut off");
        };
        found.push(first..first + length);
        first += length;
    }
    Ok(found)
}

/// A PNG ends with its chunk IEND.
fn png(bytes: &[u8]) -> Option<usize> {
    let mut at = 8;
    loop {
        let length = u32::from_be_bytes(*bytes.get(at..)?.first_chunk()?) as usize;
        let end = at.checked_add(12)?.checked_add(length)?;
        let kind = bytes.get(at + 4..at + 8)?;
        if end > bytes.len() {
            return None;
        }
        if kind == b"IEND" {
            return Some(end);
        }
        at = end;
    }
}

/// A JPEG ends with its marker EOI, which stands in no segment (ITU-T T.81, annex B).
fn jpeg(bytes: &[u8]) -> Option<usize> {
    let mut at = 2;
    loop {
        let [lead, marker] = *bytes.get(at..)?.first_chunk()?;
        at += 1;
        if lead != 0xff || matches!(marker, 0x00 | 0xff | 0xd0..=0xd7) {
            // Coded data, a fill byte, a stuffed byte or a restart.
            continue;
        }
        at += 1;
        if marker == 0xd9 {
            return Some(at);
        }
        let length = u16::from_be_bytes(*bytes.get(at..)?.first_chunk()?);
        at += usize::from(length);
    }
}

/// A DPX says how long it is.
fn dpx(bytes: &[u8]) -> Option<usize> {
    let field: [u8; 4] = *bytes.get(16..)?.first_chunk()?;
    let swapped = bytes.starts_with(b"XPDS");
    let length = if swapped {
        u32::from_le_bytes(field)
    } else {
        u32::from_be_bytes(field)
    };
    let length = length as usize;
    (2048..=bytes.len()).contains(&length).then_some(length)
}

/// Whether a second picture of the same kind begins somewhere.
fn holds_another(bytes: &[u8]) -> bool {
    let Some(magic) = bytes.first_chunk::<4>() else {
        return false;
    };
    let begins = |place: &usize| bytes[*place..].starts_with(magic);
    (4..bytes.len())
        .filter(begins)
        .any(|place| probe(&bytes[place..]).is_ok())
}
