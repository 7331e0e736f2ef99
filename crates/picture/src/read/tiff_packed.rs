//! Codes of 10, 12 and 14 bits in a TIFF: one after the other through a row's bytes, from the highest bit
//! down (TIFF 6.0, FillOrder 1), which the tiff crate doesn't unpack. As DPX's they are spread over 16.

use std::io::Read;

use flate2::read::ZlibDecoder;
use lookwright_colour::Result;
use tiff::tags::Tag;
use weezl::{BitOrder, LzwStatus, decode::Decoder as Lzw};

use super::tiff::{Reader, number, sentence};
use super::{broken, unsupported};
use crate::kind::Kind;
use crate::limits;

/// Values of TIFF 6.0's tags, and deflate's two of Adobe's technical notes of 2002.
mod value {
    pub(super) const PLAIN: u32 = 1;
    pub(super) const LZW: u32 = 5;
    pub(super) const DEFLATE: [u32; 2] = [8, 32946];
    pub(super) const NO_PREDICTOR: u32 = 1;
    pub(super) const WHITE_IS_ZERO: u32 = 0;
}

/// Whether codes of so many bits lie so.
pub(super) const fn is_packed(bits: u8) -> bool {
    matches!(bits, 10 | 12 | 14)
}

/// The strips or tiles of such a file.
pub(super) struct Packed<'a> {
    bytes: &'a [u8],
    /// Place and length of each.
    chunks: Vec<(u64, u64)>,
    compression: u32,
    bits: u8,
}

impl<'a> Packed<'a> {
    pub(super) fn new(decoder: &mut Reader<'a>, bytes: &'a [u8], bits: u8) -> Result<Self> {
        let refuse = |what: &str, advice: &str| {
            let what = format!("has {bits}-bit codes {what}");
            Err(unsupported(Kind::Tiff, &what, advice))
        };
        let compression = number(decoder, Tag::Compression).unwrap_or(value::PLAIN);
        let is_known = [value::PLAIN, value::LZW].contains(&compression)
            || value::DEFLATE.contains(&compression);
        if !is_known {
            return refuse(
                "in a rare compression",
                "save it uncompressed, or with LZW or deflate",
            );
        }
        let predictor = number(decoder, Tag::Predictor).unwrap_or(value::NO_PREDICTOR);
        if predictor != value::NO_PREDICTOR {
            return refuse("with a predictor", "save it without one");
        }
        if number(decoder, Tag::PhotometricInterpretation) == Some(value::WHITE_IS_ZERO) {
            return refuse("of which 0 is white", "save it as RGB");
        }
        let mut list = |strips, tiles| -> Result<Vec<u64>> {
            let found = decoder.find_tag(strips).map_err(sentence)?;
            let found = match found {
                None => decoder.find_tag(tiles).map_err(sentence)?,
                found => found,
            };
            let missing = || broken(Kind::Tiff, "it has no strips");
            found.ok_or_else(missing)?.into_u64_vec().map_err(sentence)
        };
        let places = list(Tag::StripOffsets, Tag::TileOffsets)?;
        let lengths = list(Tag::StripByteCounts, Tag::TileByteCounts)?;
        Ok(Self {
            bytes,
            chunks: places.into_iter().zip(lengths).collect(),
            compression,
            bits,
        })
    }

    /// The codes of a chunk of `rows` with so many of them each, spread over 16 bits.
    pub(super) fn chunk(&self, index: u32, rows: usize, row_codes: usize) -> Result<Vec<u16>> {
        let ends = || broken(Kind::Tiff, "it ends too early");
        let (place, length) = self.chunks.get(index as usize).ok_or_else(ends)?;
        let end = place.checked_add(*length).ok_or_else(ends)?;
        let stored = self.bytes.get(*place as usize..end as usize);
        let stored = stored.ok_or_else(ends)?;

        let bits = usize::from(self.bits);
        let row_bytes = (row_codes * bits).div_ceil(8);
        let mut plain = limits::buffer(rows * row_bytes)?;
        let filled = match self.compression {
            value::PLAIN => {
                let count = stored.len().min(plain.len());
                plain[..count].copy_from_slice(&stored[..count]);
                count
            }
            value::LZW => unpack_lzw(stored, &mut plain),
            _ => {
                let whole = ZlibDecoder::new(stored).read_exact(&mut plain);
                whole.map_or(0, |()| plain.len())
            }
        };
        if filled < plain.len() {
            return Err(ends());
        }
        let mut codes = Vec::new();
        limits::reserve(&mut codes, rows * row_codes)?;
        for row in plain.chunks_exact(row_bytes.max(1)) {
            codes.extend((0..row_codes).map(|i| code(row, i * bits, bits)));
        }
        Ok(codes)
    }
}

/// The code that begins at a bit of a row, over 16 bits.
fn code(row: &[u8], first: usize, bits: usize) -> u16 {
    let three = |i: usize| u32::from(row.get(first / 8 + i).copied().unwrap_or(0));
    let word = three(0) << 16 | three(1) << 8 | three(2);
    let largest = (1_u32 << bits) - 1;
    let code = word >> (24 - first % 8 - bits) & largest;
    ((code * 65535 + largest / 2) / largest) as u16
}

/// How many bytes came out.
fn unpack_lzw(stored: &[u8], plain: &mut [u8]) -> usize {
    let mut decoder = Lzw::with_tiff_size_switch(BitOrder::Msb, 8);
    let (mut read, mut written) = (0, 0);
    while written < plain.len() {
        let step = decoder.decode_bytes(&stored[read..], &mut plain[written..]);
        read += step.consumed_in;
        written += step.consumed_out;
        if !matches!(step.status, Ok(LzwStatus::Ok)) {
            break;
        }
    }
    written
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Four codes of ten bits are five bytes, the highest bit first.
    #[test]
    fn codes_lie_from_the_highest_bit_down() {
        let codes = [0x3ff_u64, 0x001, 0x155, 0x2a9];
        let packed = codes.iter().fold(0_u64, |held, code| held << 10 | code);
        let row = &packed.to_be_bytes()[3..];
        for (i, expected) in codes.into_iter().enumerate() {
            let spread = ((expected * 65535 + 511) / 1023) as u16;
            assert_eq!(code(row, 10 * i, 10), spread);
        }
        assert_eq!(
            code(&[0xab, 0xcd, 0xef], 12, 12),
            ((0xdef_u32 * 65535 + 2047) / 4095) as u16
        );
    }
}
