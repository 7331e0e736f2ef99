//! WebP, by image-webp: lossy and lossless; of an animation the first picture.

use std::io::Cursor;

use image_webp::{DecodingError, WebPDecoder};
use lookwright_colour::{Error, Result};

use super::channels::{ALPHA_DROPPED, Layout};
use super::{Raw, broken, note_lost_profile};
use crate::carried::Carried;
use crate::colour::Tags;
use crate::decoded::Samples;
use crate::exif;
use crate::header::{Gate, Header};
use crate::kind::Kind;
use crate::limits::{self, MAX_SIDE_DATA_BYTES};

pub(super) fn read(bytes: &[u8], gate: Gate<'_>) -> Result<Raw> {
    // The decoder makes up what is missing at the end of a lossy picture.
    let riff_bytes = bytes.get(4..8).and_then(|size| size.first_chunk::<4>());
    if riff_bytes.is_none_or(|&size| u64::from(u32::from_le_bytes(size)) + 8 > bytes.len() as u64) {
        return Err(broken(Kind::WebP, "it ends too early"));
    }
    let mut decoder = WebPDecoder::new(Cursor::new(bytes)).map_err(sentence)?;
    decoder.set_memory_limit(MAX_SIDE_DATA_BYTES);
    let (width, height) = decoder.dimensions();
    // Four channels out, and four more inside the lossless decoder.
    gate(&Header {
        kind: Kind::WebP,
        width: width.into(),
        height: height.into(),
        channels: 3 + u32::from(decoder.has_alpha()),
        bits: 8,
        floats: false,
        decoding_bytes: 8,
    })?;
    let size = decoder
        .output_buffer_size()
        .ok_or_else(|| broken(Kind::WebP, "its size"))?;
    let mut samples = limits::buffer(size)?;
    decoder.read_image(&mut samples).map_err(sentence)?;
    let mut notes = Vec::new();
    if decoder.has_alpha() {
        notes.push(ALPHA_DROPPED.to_owned());
        samples = Layout::RgbAnd(1).to_rgb(samples)?;
    }
    if decoder.is_animated() {
        notes.push("The WebP is animated; its first picture was read.".to_owned());
    }
    let icc = decoder.icc_profile().ok().flatten();
    note_lost_profile(bytes, b"ICCP", icc.as_deref(), &mut notes);
    let exif = decoder.exif_metadata().ok().flatten();
    Ok(Raw {
        width,
        height,
        samples: Samples::U8(samples),
        file_bits: 8,
        tags: Tags {
            icc,
            ..Tags::default()
        },
        exif: exif.map(|block| exif::parse(&block)).unwrap_or_default(),
        notes,
        shown: None,
        attributes: Carried::default(),
        gain: None,
    })
}

fn sentence(error: DecodingError) -> Error {
    broken(Kind::WebP, error)
}
