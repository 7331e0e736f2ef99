//! DPX (SMPTE ST 268-1): RGB with 10, 12 or 16 bits, high byte first, filled by method A, as most
//! programs read it.

use lookwright_colour::Result;
use lookwright_colour::encoding::{EncodingId, ScreenId, film_scan};

use super::{Encode, Rows, WriteOptions};
use crate::carried::into_header;
use crate::colour::OutColour;
use crate::dpx::{
    GENERIC_BYTES, HEADER_BYTES, INDUSTRY_BYTES, MAGIC, at, descriptor, element, transfer,
};
use crate::{Error, limits};

pub(super) struct DpxWriter {
    codes_per_line: usize,
    bits: u8,
    file: Vec<u8>,
}

impl DpxWriter {
    pub(super) fn new(width: u32, height: u32, bits: u8, options: &WriteOptions) -> Result<Self> {
        let line = line_bytes(width as usize, bits);
        let bytes = (line as u64).saturating_mul(height.into()) + HEADER_BYTES as u64;
        if bytes >= u64::from(u32::MAX) {
            return Err(Error::new(format!(
                "A DPX of {width} x {height} pixels would pass 4 GiB: write OpenEXR or PNG."
            )));
        }
        let mut file = Vec::new();
        limits::reserve(&mut file, bytes as usize)?;
        file.extend(header((width, height), bits, bytes as u32, options));
        Ok(Self {
            codes_per_line: 3 * width as usize,
            bits,
            file,
        })
    }
}

/// Bytes of a line: whole words of 32 bits.
fn line_bytes(width: usize, bits: u8) -> usize {
    match bits {
        10 => 4 * width,
        _ => (6 * width).next_multiple_of(4),
    }
}

fn header(size: (u32, u32), bits: u8, bytes: u32, options: &WriteOptions) -> Vec<u8> {
    let mut header = vec![0; HEADER_BYTES];
    let put = |header: &mut Vec<u8>, place: usize, value: &[u8]| {
        header[place..place + value.len()].copy_from_slice(value);
    };
    let long = |header: &mut Vec<u8>, place: usize, value: u32| {
        put(header, place, &value.to_be_bytes());
    };
    let text = |header: &mut Vec<u8>, place: usize, room: usize, text: &str| {
        // A zero ends it.
        put(header, place, &text.as_bytes()[..text.len().min(room - 1)]);
    };
    put(&mut header, 0, MAGIC);
    long(&mut header, at::IMAGE, HEADER_BYTES as u32);
    text(&mut header, at::VERSION, 8, "V2.0");
    long(&mut header, at::FILE_BYTES, bytes);
    long(&mut header, at::GENERIC, GENERIC_BYTES);
    long(&mut header, at::INDUSTRY, INDUSTRY_BYTES);
    text(&mut header, at::CREATOR, 100, "lookwright");
    text(
        &mut header,
        at::PROJECT,
        200,
        &options.ascii_description().unwrap_or_default(),
    );
    long(&mut header, at::ENCRYPTION, u32::MAX);
    put(&mut header, at::ELEMENTS, &1_u16.to_be_bytes());
    long(&mut header, at::WIDTH, size.0);
    long(&mut header, at::HEIGHT, size.1);
    long(&mut header, at::ASPECT, 1);
    long(&mut header, at::ASPECT + 4, 1);
    into_header(&options.carried, &mut header);
    let field = |offset: usize| at::ELEMENT + offset;
    let is_density = options.colour == OutColour::Scan;
    let largest = f64::from((1_u32 << bits) - 1);
    long(&mut header, field(element::HIGH_CODE), largest as u32);
    if is_density {
        // Density above base, of the lowest and highest code.
        let low = -film_scan::BASE_CODE * film_scan::DENSITY_PER_CODE;
        let high = low + film_scan::FULL_SCALE * film_scan::DENSITY_PER_CODE;
        put(
            &mut header,
            field(element::LOW_QUANTITY),
            &(low as f32).to_be_bytes(),
        );
        put(
            &mut header,
            field(element::HIGH_QUANTITY),
            &(high as f32).to_be_bytes(),
        );
    }
    header[field(element::DESCRIPTOR)] = descriptor::RGB;
    let kind = transfer_of(options.colour);
    header[field(element::TRANSFER)] = kind;
    header[field(element::COLORIMETRIC)] = kind;
    header[field(element::BITS)] = bits;
    put(&mut header, field(element::PACKING), &1_u16.to_be_bytes());
    long(&mut header, field(element::DATA), HEADER_BYTES as u32);
    header
}

/// What the standard has a word for.
fn transfer_of(colour: OutColour) -> u8 {
    match colour {
        OutColour::Scan => transfer::PRINTING_DENSITY,
        OutColour::Of(EncodingId::Rec709) | OutColour::Screen(ScreenId::Rec709) => transfer::BT709,
        _ if colour.is_linear() => transfer::LINEAR,
        _ => transfer::USER,
    }
}

impl Encode for DpxWriter {
    fn push(&mut self, rows: Rows<'_>) -> Result<()> {
        let codes = rows.codes(((1_u32 << self.bits) - 1) as u16)?;
        let line = line_bytes(self.codes_per_line / 3, self.bits);
        for codes in codes.chunks_exact(self.codes_per_line) {
            let end = self.file.len() + line;
            match self.bits {
                10 => {
                    for [r, g, b] in codes.as_chunks::<3>().0 {
                        let word = u32::from(*r) << 22 | u32::from(*g) << 12 | u32::from(*b) << 2;
                        self.file.extend(word.to_be_bytes());
                    }
                }
                bits => {
                    let words = codes.iter().map(|code| (code << (16 - bits)).to_be_bytes());
                    self.file.extend(words.flatten());
                }
            }
            self.file.resize(end, 0);
        }
        Ok(())
    }

    fn finish(self: Box<Self>) -> Result<Vec<u8>> {
        Ok(self.file)
    }
}
