//! PNG, by the png crate: every colour type and depth, interlaced or not.

use std::io::Cursor;

use lookwright_colour::space::{Primaries, Xy};
use lookwright_colour::{Error, Result};
use png::{BitDepth, ColorType, Decoder, DecodingError, Info, Transformations};

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
    read_file(bytes, gate, false)
}

/// Reads the file, a second time without its profile when that unpacks to too much.
fn read_file(bytes: &[u8], gate: Gate<'_>, without_profile: bool) -> Result<Raw> {
    let mut decoder = Decoder::new(Cursor::new(bytes));
    decoder.set_ignore_iccp_chunk(without_profile);
    decoder.set_transformations(Transformations::EXPAND);
    decoder.set_ignore_text_chunk(true);
    let (width, height, file_bits, channels, interlaced) = {
        let header = decoder.read_header_info().map_err(sentence)?;
        (
            header.width,
            header.height,
            header.bit_depth as u8,
            header.color_type.samples() as u32,
            header.interlaced,
        )
    };
    let wide = if file_bits == 16 { 2 } else { 1 };
    // The decoder's own buffer of an interlaced picture may have four channels.
    let bytes_per_pixel = wide * if interlaced { 4 + 3 } else { 3 };
    gate(&Header {
        kind: Kind::Png,
        width: width.into(),
        height: height.into(),
        channels,
        bits: file_bits.into(),
        floats: false,
        decoding_bytes: bytes_per_pixel,
    })?;
    let row_bytes = 4 * wide as usize * width as usize;
    decoder.set_limits(png::Limits {
        bytes: MAX_SIDE_DATA_BYTES + 4 * row_bytes,
    });
    let mut reader = match decoder.read_info() {
        Err(DecodingError::LimitsExceeded) if !without_profile => {
            return read_file(bytes, gate, true);
        }
        other => other.map_err(sentence)?,
    };
    let (colour, depth) = reader.output_color_type();
    let layout = match colour {
        ColorType::Grayscale => Layout::Grey,
        ColorType::GrayscaleAlpha => Layout::GreyAnd(1),
        ColorType::Rgb => Layout::Rgb,
        ColorType::Rgba => Layout::RgbAnd(1),
        ColorType::Indexed => return Err(broken(Kind::Png, "its palette is missing")),
    };
    let samples = if depth == BitDepth::Sixteen {
        let mut rgb: Vec<u16> = Vec::new();
        limits::reserve(&mut rgb, 3 * width as usize * height as usize)?;
        let mut native = vec![0_u16; layout.samples() * width as usize];
        rows(&mut reader, height, interlaced, |row| {
            for (value, pair) in native.iter_mut().zip(row.as_chunks::<2>().0) {
                *value = u16::from_be_bytes(*pair);
            }
            layout.append(&native, &mut rgb);
        })?;
        Samples::U16(rgb)
    } else {
        let mut rgb: Vec<u8> = Vec::new();
        limits::reserve(&mut rgb, 3 * width as usize * height as usize)?;
        rows(&mut reader, height, interlaced, |row| {
            layout.append(row, &mut rgb)
        })?;
        Samples::U8(rgb)
    };
    let mut notes = Vec::new();
    if matches!(layout, Layout::GreyAnd(_) | Layout::RgbAnd(_)) {
        notes.push(ALPHA_DROPPED.to_owned());
    }
    let info = reader.info();
    if info.animation_control.is_some() {
        notes.push("The PNG is animated; its first picture was read.".to_owned());
    }
    note_lost_profile(bytes, b"iCCP", info.icc_profile.as_deref(), &mut notes);
    let exif_block = info.exif_metadata.as_deref();
    Ok(Raw {
        width,
        height,
        samples,
        file_bits,
        tags: tags(info),
        exif: exif_block.map(exif::parse).unwrap_or_default(),
        notes,
        shown: None,
        attributes: Carried::default(),
        gain: None,
    })
}

/// Hands every row, upright, to `take`, and reads the file to its end.
fn rows(
    reader: &mut png::Reader<Cursor<&[u8]>>,
    height: u32,
    interlaced: bool,
    mut take: impl FnMut(&[u8]),
) -> Result<()> {
    if interlaced {
        let size = reader
            .output_buffer_size()
            .ok_or_else(|| broken(Kind::Png, "its size"))?;
        let mut frame = limits::buffer(size)?;
        reader.next_frame(&mut frame).map_err(sentence)?;
        frame.chunks_exact(size / height as usize).for_each(take);
    } else {
        for _ in 0..height {
            let row = reader.next_row().map_err(sentence)?;
            take(
                row.ok_or_else(|| broken(Kind::Png, "rows are missing"))?
                    .data(),
            );
        }
    }
    // The further pictures of an animation are not needed and may be as broken as they like.
    if reader.info().animation_control.is_some() {
        return Ok(());
    }
    reader.finish().map_err(sentence)
}

fn tags(info: &Info<'_>) -> Tags {
    let cicp = info.coding_independent_code_points.as_ref().map(|points| {
        let full_range = u8::from(points.is_video_full_range_image);
        [
            points.color_primaries,
            points.transfer_function,
            points.matrix_coefficients,
            full_range,
        ]
    });
    let chromaticities = info.chrm_chunk.as_ref().and_then(|c| {
        let point = |(x, y): (png::ScaledFloat, png::ScaledFloat)| {
            Xy::new(x.into_scaled().into(), y.into_scaled().into())
        };
        let point = |pair| {
            let Xy { x, y } = point(pair);
            Xy::new(x / 100_000.0, y / 100_000.0)
        };
        Primaries::new(point(c.red), point(c.green), point(c.blue), point(c.white)).ok()
    });
    let gamma = info
        .gama_chunk
        .map(|g| f64::from(g.into_scaled()) / 100_000.0);
    Tags {
        cicp,
        icc: info.icc_profile.as_ref().map(|icc| icc.to_vec()),
        srgb_chunk: info.srgb.is_some(),
        gamma: gamma.filter(|&gamma| gamma > 0.0),
        primaries: chromaticities,
        linear: None,
        scan: None,
    }
}

fn sentence(error: DecodingError) -> Error {
    match error {
        DecodingError::LimitsExceeded => broken(Kind::Png, "a part of it unpacks to too much"),
        DecodingError::IoError(_) => broken(Kind::Png, "it ends too early"),
        DecodingError::Format(_) => broken(Kind::Png, "its chunks are wrong"),
        DecodingError::Parameter(_) => broken(Kind::Png, "it ends too early"),
    }
}
