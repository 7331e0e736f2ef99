//! JPEG, by zune-jpeg: baseline and progressive Huffman coding, 8 bits, grey or colour.

use lookwright_colour::{Error, Result};
use zune_core::bytestream::ZCursor;
use zune_core::colorspace::ColorSpace;
use zune_core::options::DecoderOptions;
use zune_jpeg::JpegDecoder;
use zune_jpeg::errors::DecodeErrors;

use super::jpeg_frame as frame;
use super::{Raw, broken, note_lost_profile, unsupported};
use crate::carried::Carried;
use crate::colour::Tags;
use crate::decoded::Samples;
use crate::exif;
use crate::gain_map::{self, GainMap};
use crate::header::{Gate, Header};
use crate::kind::Kind;
use crate::limits::{self, MAX_SIDE_DATA_BYTES};

pub(super) fn read(bytes: &[u8], gate: Gate<'_>) -> Result<Raw> {
    // JPEG's own largest side; the number of pixels is checked below.
    const MAX_SIDE: usize = 65_535;
    let options = DecoderOptions::default()
        .set_max_width(MAX_SIDE)
        .set_max_height(MAX_SIDE)
        .jpeg_set_out_colorspace(ColorSpace::RGB);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    decoder.decode_headers().map_err(sentence)?;
    let info = decoder
        .info()
        .ok_or_else(|| broken(Kind::Jpeg, "no frame header"))?;
    let (width, height) = (u32::from(info.width), u32::from(info.height));
    // Progressive files keep every coefficient (16 bits) until the end.
    let bytes_per_pixel = 3 + if info.sof.is_sequential_dct() { 1 } else { 6 };
    // With its gain map, a picture is kept with 16 bits; both are there while that is applied.
    let (bits, more) = if gain_map::announced(bytes) {
        (16, 12)
    } else {
        (8, 0)
    };
    gate(&Header {
        kind: Kind::Jpeg,
        width: width.into(),
        height: height.into(),
        channels: info.components.into(),
        bits,
        floats: false,
        decoding_bytes: bytes_per_pixel + more,
    })?;
    if matches!(info.components, 2 | 4..) {
        return Err(unsupported(
            Kind::Jpeg,
            "is in CMYK, for printing presses",
            "convert it to RGB and save it again",
        ));
    }
    if frame::is_misread(bytes) {
        return Err(unsupported(
            Kind::Jpeg,
            "stores its colours in a rare order",
            "open it elsewhere and save it again",
        ));
    }
    // Stray bytes between header segments are common and harmless, so the header is read
    // leniently; in the picture itself a fault must not become grey blocks.
    decoder.set_options(options.set_strict_mode(true));
    let mut samples = limits::buffer(3 * width as usize * height as usize)?;
    decoder.decode_into(&mut samples).map_err(sentence)?;
    let icc = decoder
        .icc_profile()
        .filter(|icc| icc.len() <= MAX_SIDE_DATA_BYTES);
    let mut notes = Vec::new();
    note_lost_profile(bytes, b"ICC_PROFILE\0", icc.as_deref(), &mut notes);
    let gain = gain_of(bytes, (width, height), &mut notes);
    Ok(Raw {
        width,
        height,
        samples: Samples::U8(samples),
        file_bits: 8,
        tags: Tags {
            icc,
            ..Tags::default()
        },
        exif: decoder
            .exif()
            .map(|block| exif::parse(block))
            .unwrap_or_default(),
        notes,
        shown: None,
        attributes: Carried::default(),
        gain,
    })
}

/// The gain map of a picture of this size, decoded. Without a sound one the picture is what it shows.
fn gain_of(bytes: &[u8], size: (u32, u32), notes: &mut Vec<String>) -> Option<GainMap> {
    let decoded = gain_map::find(bytes)?.and_then(|found| {
        let options = DecoderOptions::default()
            .set_max_width(size.0 as usize)
            .set_max_height(size.1 as usize)
            .set_strict_mode(true)
            .jpeg_set_out_colorspace(ColorSpace::RGB);
        let mut decoder = JpegDecoder::new_with_options(ZCursor::new(found.jpeg), options);
        let samples = decoder
            .decode()
            .map_err(|_| "it is damaged or larger than the picture")?;
        let info = decoder.info().ok_or("it is damaged")?;
        let (width, height) = (u32::from(info.width), u32::from(info.height));
        let whole = samples.len() == 3 * width as usize * height as usize && !samples.is_empty();
        whole
            .then_some(GainMap {
                width,
                height,
                samples,
                metadata: found.metadata,
            })
            .ok_or("it is damaged")
    });
    match decoded {
        Ok(map) => Some(map),
        Err(why) => {
            notes.push(format!("Its gain map was not used: {why}."));
            None
        }
    }
}

fn sentence(error: DecodeErrors) -> Error {
    match error {
        DecodeErrors::Unsupported(_) => unsupported(
            Kind::Jpeg,
            "is coded in a rare way (lossless, arithmetic or hierarchical)",
            "open it elsewhere and save it as PNG or as an ordinary JPEG",
        ),
        DecodeErrors::ZeroError => broken(Kind::Jpeg, "its size is zero"),
        other => broken(Kind::Jpeg, other),
    }
}
