//! DPX (SMPTE ST 268-1): one uncompressed element of RGB, RGBA or luma, with 8, 10, 12 or 16 bits,
//! either byte order, packed or filled by method A or B.
//!
//! Our own, as there is no well-kept crate: a fixed header, then words. Codes of 10 and 12 bits are
//! spread over 16, `code * 65535 / 1023` rounded, from which the writer gets the same codes back.

use lookwright_colour::Result;
use lookwright_colour::encoding::EncodingId;

use super::channels::{ALPHA_DROPPED, Layout};
use super::{Raw, broken, unsupported};
use crate::carried::from_header;
use crate::colour::Tags;
use crate::decoded::Samples;
use crate::dpx::{HEADER_BYTES, MAGIC, Packing, at, descriptor, element, transfer};
use crate::exif::Exif;
use crate::header::{Gate, Header};
use crate::kind::Kind;
use crate::limits;

/// Bytes up to the end of the first image element's description, without which nothing can be read.
const NEEDED: usize = at::ELEMENT + 72;
/// What stands where nothing is stated.
const UNDEFINED: u32 = u32::MAX;

/// A header's words, in the file's byte order.
struct Words<'a> {
    bytes: &'a [u8],
    high_first: bool,
}

impl Words<'_> {
    fn u8(&self, at: usize) -> u8 {
        self.bytes[at]
    }

    fn u16(&self, at: usize) -> u16 {
        let two = [self.bytes[at], self.bytes[at + 1]];
        if self.high_first {
            u16::from_be_bytes(two)
        } else {
            u16::from_le_bytes(two)
        }
    }

    fn u32(&self, at: usize) -> u32 {
        let (first, second) = (u32::from(self.u16(at)), u32::from(self.u16(at + 2)));
        if self.high_first {
            first << 16 | second
        } else {
            second << 16 | first
        }
    }
}

pub(super) fn read(bytes: &[u8], gate: Gate<'_>) -> Result<Raw> {
    let cut = || broken(Kind::Dpx, "its header is cut off");
    let words = Words {
        bytes: bytes.get(..NEEDED).ok_or_else(cut)?,
        high_first: bytes.starts_with(MAGIC),
    };
    let field = |offset: usize| at::ELEMENT + offset;
    let bits = words.u8(field(element::BITS));
    let (channels, layout) = channels(words.u8(field(element::DESCRIPTOR)))?;
    let packing = refuse_rare(&words, bits)?;
    let (width, height) = (words.u32(at::WIDTH), words.u32(at::HEIGHT));
    let wide = bits > 8;
    gate(&Header {
        kind: Kind::Dpx,
        width: width.into(),
        height: height.into(),
        channels: channels as u32,
        bits: bits.into(),
        floats: false,
        decoding_bytes: 3 * if wide { 2 } else { 1 },
    })?;
    let lines = Lines::find(bytes, &words, (width, height), channels, bits, packing)?;
    let mut notes = Vec::new();
    if channels == 4 {
        notes.push(ALPHA_DROPPED.to_owned());
    }
    if words.u16(at::ELEMENTS) > 1 {
        notes.push("The DPX holds several image elements; the first was read.".to_owned());
    }
    let scan = match (words.u8(field(element::TRANSFER)), bits) {
        (transfer::PRINTING_DENSITY, _) => Some(EncodingId::FilmScan),
        (transfer::ADX, 16) => Some(EncodingId::Adx16),
        (transfer::ADX, _) => Some(EncodingId::Adx10),
        _ => None,
    };
    let orientation = upright(words.u16(at::ORIENTATION));
    let is_turned = (5..=8).contains(&orientation);
    let attributes = from_header(|place| stated(bytes, &words, place), is_turned);
    notes.extend(attributes.note());
    let swapped = words.u8(field(element::DESCRIPTOR)) == descriptor::ABGR;
    let count = 3 * width as usize * height as usize;
    let samples = if wide {
        let largest = (1_u32 << bits) - 1;
        let spread = |code: u32| ((code * 65535 + largest / 2) / largest) as u16;
        Samples::U16(rows(&lines, count, layout, swapped, spread)?)
    } else {
        Samples::U8(rows(&lines, count, layout, swapped, |code| code as u8)?)
    };
    Ok(Raw {
        width,
        height,
        samples,
        file_bits: bits,
        tags: Tags {
            scan,
            ..Tags::default()
        },
        exif: Exif {
            orientation,
            ..Exif::default()
        },
        notes,
        shown: None,
        attributes,
        gain: None,
    })
}

/// A word that a header may lack: it is as long as where its picture begins.
fn stated(bytes: &[u8], needed: &Words<'_>, place: usize) -> u32 {
    let end = HEADER_BYTES.min(needed.u32(at::IMAGE) as usize);
    let header = &bytes[..end.min(bytes.len())];
    if place + 4 > header.len() {
        return UNDEFINED;
    }
    let words = Words {
        bytes: header,
        high_first: needed.high_first,
    };
    words.u32(place)
}

/// Codes of a pixel, and which of them are its colour.
fn channels(kind: u8) -> Result<(usize, Layout)> {
    match kind {
        descriptor::LUMA => Ok((1, Layout::Grey)),
        descriptor::RGB => Ok((3, Layout::Rgb)),
        descriptor::RGBA | descriptor::ABGR => Ok((4, Layout::RgbAnd(1))),
        1..=4 => Err(unsupported(
            Kind::Dpx,
            "holds each colour by itself",
            "save it with red, green and blue together",
        )),
        _ => Err(unsupported(
            Kind::Dpx,
            "holds no red, green and blue",
            "save it as RGB",
        )),
    }
}

fn refuse_rare(words: &Words<'_>, bits: u8) -> Result<Packing> {
    let refuse = |what: &str, advice: &str| Err(unsupported(Kind::Dpx, what, advice));
    let field = |offset: usize| at::ELEMENT + offset;
    if !matches!(bits, 8 | 10 | 12 | 16) {
        return refuse(
            &format!("has {bits} bits"),
            "save it with 8, 10, 12 or 16 bits",
        );
    }
    if words.u32(field(element::SIGN)) == 1 {
        return refuse("has signed codes", "save it with unsigned ones");
    }
    if words.u16(field(element::ENCODING)) == 1 {
        return refuse("is run-length encoded", "save it uncompressed");
    }
    match words.u16(field(element::PACKING)) {
        0 => Ok(Packing::Packed),
        1 => Ok(Packing::FilledA),
        2 => Ok(Packing::FilledB),
        _ => refuse("is packed in an unknown way", "save it filled by method A"),
    }
}

/// The EXIF orientation of a DPX image orientation: the directions of lines and of the frame.
fn upright(orientation: u16) -> u8 {
    match orientation {
        1 => 2,
        2 => 4,
        3 => 3,
        4 => 5,
        5 => 6,
        6 => 8,
        7 => 7,
        _ => 1,
    }
}

/// The picture's lines as they lie in the file.
struct Lines<'a> {
    bytes: &'a [u8],
    stride: usize,
    height: usize,
    /// Codes in a line.
    codes: usize,
    bits: u8,
    packing: Packing,
    high_first: bool,
}

impl<'a> Lines<'a> {
    fn find(
        bytes: &'a [u8],
        words: &Words<'_>,
        (width, height): (u32, u32),
        channels: usize,
        bits: u8,
        packing: Packing,
    ) -> Result<Self> {
        let codes = width as usize * channels;
        let plain = match (bits, packing) {
            (8, _) => codes,
            (16, _) | (12, Packing::FilledA | Packing::FilledB) => 2 * codes,
            (10, Packing::FilledA | Packing::FilledB) => 4 * codes.div_ceil(3),
            _ => 4 * (codes * usize::from(bits)).div_ceil(32),
        };
        let given = |offset: usize| Some(words.u32(offset)).filter(|value| *value != UNDEFINED);
        let field = |offset: usize| at::ELEMENT + offset;
        let first = given(field(element::DATA)).filter(|data| *data > 0);
        let first = first.unwrap_or_else(|| words.u32(at::IMAGE)) as usize;
        let padding = given(field(element::LINE_PADDING)).unwrap_or(0) as usize;
        let data = bytes.get(first..).unwrap_or_default();
        // Lines begin at whole words of 32 bits; some programs forget that.
        let strides = [plain.next_multiple_of(4), plain].map(|line| line.saturating_add(padding));
        let fits = |stride: &usize| {
            let before = stride.saturating_mul(height as usize - 1);
            before.saturating_add(plain) <= data.len()
        };
        let stride = strides.into_iter().find(fits);
        Ok(Self {
            bytes: data,
            stride: stride.ok_or_else(|| broken(Kind::Dpx, "it ends too early"))?,
            height: height as usize,
            codes,
            bits,
            packing,
            high_first: words.high_first,
        })
    }

    /// A word of 16 bits.
    fn word(&self, two: [u8; 2]) -> u32 {
        let word = if self.high_first {
            u16::from_be_bytes(two)
        } else {
            u16::from_le_bytes(two)
        };
        word.into()
    }

    /// A word of 32 bits.
    fn long(&self, four: [u8; 4]) -> u32 {
        if self.high_first {
            u32::from_be_bytes(four)
        } else {
            u32::from_le_bytes(four)
        }
    }

    /// Appends the codes of a line.
    fn read(&self, line: usize, codes: &mut Vec<u32>) {
        let end = self.bytes.len().min((line + 1) * self.stride);
        let bytes = &self.bytes[line * self.stride..end];
        let words = bytes.as_chunks::<2>().0.iter().map(|two| self.word(*two));
        let longs = bytes.as_chunks::<4>().0.iter().map(|four| self.long(*four));
        match (self.bits, self.packing) {
            (8, _) => codes.extend(bytes.iter().map(|byte| u32::from(*byte)).take(self.codes)),
            (16, _) => codes.extend(words.take(self.codes)),
            (12, Packing::FilledA) => codes.extend(words.map(|word| word >> 4).take(self.codes)),
            (12, Packing::FilledB) => codes.extend(words.map(|word| word & 0xfff).take(self.codes)),
            (10, Packing::FilledA | Packing::FilledB) => {
                let low = if self.packing == Packing::FilledA {
                    2
                } else {
                    0
                };
                let three = |word: u32| [20, 10, 0].map(|shift| word >> (shift + low) & 0x3ff);
                codes.extend(longs.flat_map(three).take(self.codes));
            }
            (bits, _) => {
                let (mut held, mut count) = (0_u64, 0);
                let mut longs = longs;
                for _ in 0..self.codes {
                    if count < bits {
                        held |= u64::from(longs.next().unwrap_or(0)) << count;
                        count += 32;
                    }
                    codes.push(held as u32 & ((1 << bits) - 1));
                    held >>= bits;
                    count -= bits;
                }
            }
        }
    }
}

/// All lines as interleaved RGB.
fn rows<T: Copy>(
    lines: &Lines<'_>,
    count: usize,
    layout: Layout,
    swapped: bool,
    sample: impl Fn(u32) -> T,
) -> Result<Vec<T>> {
    let mut rgb = Vec::new();
    limits::reserve(&mut rgb, count)?;
    let (mut codes, mut row) = (Vec::new(), Vec::new());
    for line in 0..lines.height {
        codes.clear();
        lines.read(line, &mut codes);
        if swapped {
            codes
                .as_chunks_mut::<4>()
                .0
                .iter_mut()
                .for_each(|pixel| pixel.reverse());
        }
        row.clear();
        row.extend(codes.iter().map(|code| sample(*code)));
        layout.append(&row, &mut rgb);
    }
    Ok(rgb)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn codes(bits: u8, packing: Packing, high_first: bool, bytes: &[u8], count: usize) -> Vec<u32> {
        let lines = Lines {
            bytes,
            stride: bytes.len(),
            height: 1,
            codes: count,
            bits,
            packing,
            high_first,
        };
        let mut codes = Vec::new();
        lines.read(0, &mut codes);
        codes
    }

    /// Words by hand from the standard's figures of packing.
    #[test]
    fn words_hold_their_codes_as_the_standard_draws_them() {
        let three = [0x3ff_u32, 0x001, 0x155];
        let word: u32 = three[0] << 20 | three[1] << 10 | three[2];
        let filled = |word: u32, packing| {
            assert_eq!(codes(10, packing, true, &word.to_be_bytes(), 3), three);
            assert_eq!(codes(10, packing, false, &word.to_le_bytes(), 3), three);
        };
        filled(word << 2, Packing::FilledA);
        filled(word, Packing::FilledB);
        let twelve: u16 = 0xabc;
        assert_eq!(
            codes(12, Packing::FilledA, true, &(twelve << 4).to_be_bytes(), 1),
            [0xabc]
        );
        assert_eq!(
            codes(12, Packing::FilledB, false, &twelve.to_le_bytes(), 1),
            [0xabc]
        );
        // The fourth code of 10 bits has two in the first word and eight in the second.
        let four = [0x3ff_u64, 0x001, 0x155, 0x2a9];
        let packed = four
            .iter()
            .rev()
            .fold(0_u64, |held, code| held << 10 | code);
        let bytes: Vec<u8> = [packed as u32, (packed >> 32) as u32]
            .iter()
            .flat_map(|word| word.to_be_bytes())
            .collect();
        let read = codes(10, Packing::Packed, true, &bytes, 4);
        assert_eq!(read, four.map(|code| code as u32));
    }
}
