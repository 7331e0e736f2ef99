//! Radiance HDR, by the image crate: run-length or plain RGBE, to linear light.

use std::io::Cursor;

use image::codecs::hdr::HdrDecoder;
use image::{ImageDecoder, ImageError};
use lookwright_colour::{Error, Result};

use super::{Raw, broken, unsupported};
use crate::carried::Carried;
use crate::colour::Tags;
use crate::decoded::Samples;
use crate::exif::Exif;
use crate::header::{Gate, Header};
use crate::kind::Kind;
use crate::limits;

pub(super) fn read(bytes: &[u8], gate: Gate<'_>) -> Result<Raw> {
    let head = &bytes[..bytes.len().min(4096)];
    if head.windows(15).any(|text| text == b"32-bit_rle_xyze") {
        return Err(unsupported(
            Kind::Hdr,
            "is in XYZ",
            "convert it to RGB or save it as OpenEXR",
        ));
    }
    // The strict reader refuses the signature "#?RGBE", which is as common as the other one.
    let decoder = HdrDecoder::new_nonstrict(Cursor::new(bytes)).map_err(sentence)?;
    let (width, height) = decoder.dimensions();
    gate(&Header {
        kind: Kind::Hdr,
        width: width.into(),
        height: height.into(),
        channels: 3,
        bits: 32,
        floats: true,
        decoding_bytes: 12,
    })?;
    let mut samples: Vec<f32> = limits::buffer(3 * width as usize * height as usize)?;
    decoder
        .read_image(bytemuck::cast_slice_mut(&mut samples))
        .map_err(sentence)?;
    Ok(Raw {
        width,
        height,
        samples: Samples::F32(samples),
        file_bits: 32,
        tags: Tags::default(),
        exif: Exif::default(),
        notes: Vec::new(),
        shown: None,
        attributes: Carried::default(),
        gain: None,
    })
}

fn sentence(error: ImageError) -> Error {
    broken(Kind::Hdr, error)
}
