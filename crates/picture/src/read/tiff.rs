//! TIFF and BigTIFF, by the tiff crate: strips or tiles, chunky or planar, plain, LZW, deflate or
//! PackBits, 1 ... 32 bits or floats.

use std::io::Cursor;

use lookwright_core::{Error, Result};
use tiff::decoder::{Decoder, DecodingResult, Limits as TiffLimits};
use tiff::tags::{PhotometricInterpretation, Tag};
use tiff::{ColorType, TiffError};

use super::channels::{ALPHA_DROPPED, Layout};
use super::{Raw, broken, unsupported};
use crate::colour::Tags;
use crate::decoded::Samples;
use crate::exif::{self, Camera, Exif};
use crate::kind::Kind;
use crate::limits::{self, Limits, MAX_SIDE_DATA_BYTES};

type Reader<'a> = Decoder<Cursor<&'a [u8]>>;

pub(super) fn read(bytes: &[u8], limits: &Limits) -> Result<Raw> {
    let mut decoder = Decoder::new(Cursor::new(bytes)).map_err(sentence)?;
    let (width, height) = decoder.dimensions().map_err(sentence)?;
    let colour = decoder.colortype().map_err(sentence)?;
    refuse_raw(&mut decoder)?;
    let layout = layout(&mut decoder, colour)?;
    let bits = colour.bit_depth();
    let file_bytes = layout.samples() as u64 * u64::from(bits.div_ceil(8));
    let sample_bytes = if bits <= 8 {
        1
    } else if bits <= 16 {
        2
    } else {
        4
    };
    limits.check(
        width.into(),
        height.into(),
        2 * file_bytes + 3 * sample_bytes,
    )?;
    let whole = (u64::from(width) * u64::from(height) * file_bytes) as usize;
    let mut bounds = TiffLimits::default();
    bounds.decoding_buffer_size = whole.saturating_add(1 << 20);
    bounds.intermediate_buffer_size = whole.saturating_add(1 << 20);
    bounds.ifd_value_size = MAX_SIDE_DATA_BYTES;
    decoder = decoder.with_limits(bounds);

    let mut stored = DecodingResult::U8(Vec::new());
    let plan = decoder
        .read_image_to_buffer(&mut stored)
        .map_err(sentence)?;
    if stored.as_buffer(0).byte_len() < plan.complete_len {
        return Err(broken(Kind::Tiff, "planes are missing"));
    }
    let size = (width as usize, height as usize);
    let planes = plan.planes;
    let mut samples = match stored {
        DecodingResult::U8(v) if bits < 8 => {
            let is_palette = matches!(colour, ColorType::Palette(_));
            let largest = ((1_u16 << bits) - 1) as u8;
            let scale = if is_palette { 1 } else { 255 / largest };
            Samples::U8(unpack(&v, size, bits, scale)?)
        }
        DecodingResult::U8(v) => Samples::U8(v),
        DecodingResult::U16(v) => Samples::U16(v),
        DecodingResult::U32(v) => {
            let scale = f64::from(u32::MAX);
            Samples::F32(
                v.iter()
                    .map(|&code| (f64::from(code) / scale) as f32)
                    .collect(),
            )
        }
        DecodingResult::F16(v) => Samples::F32(v.iter().map(|h| h.to_f32()).collect()),
        DecodingResult::F32(v) => Samples::F32(v),
        DecodingResult::F64(v) => Samples::F32(v.iter().map(|&x| x as f32).collect()),
        _ => {
            return Err(unsupported(
                Kind::Tiff,
                "has signed or 64-bit samples",
                "save it with 16 bits or as 32-bit floats",
            ));
        }
    };
    if planes > 1 {
        samples = interleave(samples, planes)?;
    }
    let mut notes = Vec::new();
    if layout.samples() == 2 || layout.samples() > 3 {
        notes.push(ALPHA_DROPPED.to_owned());
    }
    samples = if matches!(colour, ColorType::Palette(_)) {
        paint(&mut decoder, &samples)?
    } else {
        match samples {
            Samples::U8(v) => Samples::U8(layout.to_rgb(v)?),
            Samples::U16(v) => Samples::U16(layout.to_rgb(v)?),
            Samples::F32(v) => Samples::F32(layout.to_rgb(v)?),
        }
    };
    if samples.len() != 3 * size.0 * size.1 {
        return Err(broken(Kind::Tiff, "its size and its data disagree"));
    }
    if decoder.more_images() {
        notes.push("The TIFF holds several pictures; the first was read.".to_owned());
    }
    let icc = decoder.find_tag(Tag::IccProfile).ok().flatten();
    let icc = icc.and_then(|value| value.into_u8_vec().ok());
    let exif = exif_of(&mut decoder);
    Ok(Raw {
        width,
        height,
        samples,
        file_bits: bits,
        tags: Tags {
            icc,
            ..Tags::default()
        },
        exif,
        notes,
    })
}

/// Camera raw files dress up as TIFF: DNG's version tag, or a colour filter array.
fn refuse_raw(decoder: &mut Reader<'_>) -> Result<()> {
    const DNG_VERSION: Tag = Tag::Unknown(50706);
    const COLOUR_FILTER_ARRAY: u32 = 32803;
    let filter = photometric(decoder) == Some(COLOUR_FILTER_ARRAY);
    if filter || decoder.find_tag(DNG_VERSION).ok().flatten().is_some() {
        return Err(unsupported(
            Kind::Tiff,
            "is a camera raw file",
            "develop it to a 16-bit TIFF first",
        ));
    }
    Ok(())
}

fn photometric(decoder: &mut Reader<'_>) -> Option<u32> {
    decoder
        .find_tag_unsigned(Tag::PhotometricInterpretation)
        .ok()
        .flatten()
}

fn layout(decoder: &mut Reader<'_>, colour: ColorType) -> Result<Layout> {
    let refuse = |what| {
        Err(unsupported(
            Kind::Tiff,
            what,
            "convert it to RGB and save it again with 8 or 16 bits",
        ))
    };
    match colour {
        ColorType::Gray(_) | ColorType::Palette(_) => Ok(Layout::Grey),
        ColorType::GrayA(_) => Ok(Layout::GreyAnd(1)),
        ColorType::RGB(_) => Ok(Layout::Rgb),
        ColorType::RGBA(_) => Ok(Layout::RgbAnd(1)),
        ColorType::Multiband { num_samples, .. } => {
            let rgb = PhotometricInterpretation::RGB.to_u16();
            if photometric(decoder) == Some(rgb.into()) && num_samples >= 3 {
                Ok(Layout::RgbAnd(usize::from(num_samples) - 3))
            } else if num_samples >= 1 {
                Ok(Layout::GreyAnd(usize::from(num_samples) - 1))
            } else {
                refuse("has no channels")
            }
        }
        ColorType::CMYK(_) | ColorType::CMYKA(_) => refuse("is in CMYK, for printing presses"),
        ColorType::YCbCr(_) => refuse("is in YCbCr"),
        ColorType::Lab(_) => refuse("is in CIELAB"),
        _ => refuse("has an unusual kind of colour"),
    }
}

/// Samples of less than a byte, rows padded to whole bytes, each times `scale` (which spreads
/// grey over 0 ... 255 and leaves palette indices as they are).
fn unpack(packed: &[u8], (width, height): (usize, usize), bits: u8, scale: u8) -> Result<Vec<u8>> {
    let bits = usize::from(bits);
    if !matches!(bits, 1 | 2 | 4) {
        return Err(unsupported(
            Kind::Tiff,
            "has an odd bit depth",
            "save it with 8 or 16 bits",
        ));
    }
    let row_bytes = (width * bits).div_ceil(8);
    let mut codes = Vec::new();
    limits::reserve(&mut codes, width * height)?;
    for row in packed.chunks_exact(row_bytes).take(height) {
        codes.extend((0..width).map(|x| {
            let shift = 8 - bits - (x * bits) % 8;
            ((row[x * bits / 8] >> shift) & ((1 << bits) - 1)) * scale
        }));
    }
    Ok(codes)
}

fn interleave(samples: Samples, planes: usize) -> Result<Samples> {
    fn weave<T: Copy + Default>(v: &[T], planes: usize) -> Result<Vec<T>> {
        let plane = v.len() / planes;
        let mut out = limits::buffer(plane * planes)?;
        for (channel, values) in v.chunks_exact(plane.max(1)).take(planes).enumerate() {
            for (target, &value) in out[channel..].iter_mut().step_by(planes).zip(values) {
                *target = value;
            }
        }
        Ok(out)
    }
    Ok(match samples {
        Samples::U8(v) => Samples::U8(weave(&v, planes)?),
        Samples::U16(v) => Samples::U16(weave(&v, planes)?),
        Samples::F32(v) => Samples::F32(weave(&v, planes)?),
    })
}

/// Palette indices to colours: the map holds all reds, then greens, then blues, 16 bits each.
fn paint(decoder: &mut Reader<'_>, indices: &Samples) -> Result<Samples> {
    let map = decoder.get_tag_u16_vec(Tag::ColorMap).map_err(sentence)?;
    let Samples::U8(indices) = indices else {
        return Err(unsupported(
            Kind::Tiff,
            "has a palette of over 256 colours",
            "save it as RGB",
        ));
    };
    let entries = map.len() / 3;
    if indices.iter().any(|&index| usize::from(index) >= entries) {
        return Err(broken(Kind::Tiff, "a colour is missing in its palette"));
    }
    let mut rgb = Vec::new();
    limits::reserve(&mut rgb, 3 * indices.len())?;
    rgb.extend(indices.iter().flat_map(|&index| {
        let index = usize::from(index);
        [map[index], map[entries + index], map[2 * entries + index]]
    }));
    Ok(Samples::U16(rgb))
}

fn exif_of(decoder: &mut Reader<'_>) -> Exif {
    let orientation = decoder
        .find_tag_unsigned::<u8>(Tag::Orientation)
        .ok()
        .flatten();
    let mut text = |tag| {
        let value = decoder.get_tag_ascii_string(tag).ok()?;
        exif::tidy(&value)
    };
    Exif {
        camera: Camera {
            make: text(Tag::Make),
            model: text(Tag::Model),
            ..Camera::default()
        },
        orientation: orientation.unwrap_or(0),
    }
}

fn sentence(error: TiffError) -> Error {
    match error {
        TiffError::UnsupportedError(what) => unsupported(
            Kind::Tiff,
            &format!("uses something rare ({what})"),
            "save it uncompressed or with LZW, as RGB with 8 or 16 bits",
        ),
        other => broken(Kind::Tiff, other),
    }
}
