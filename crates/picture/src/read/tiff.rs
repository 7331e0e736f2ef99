//! TIFF and BigTIFF, by the tiff crate: strips or tiles, chunky or planar, plain, LZW, deflate or
//! PackBits, 1 ... 32 bits or floats. Codes of 10, 12 and 14 bits are unpacked by [`super::tiff_packed`].

use std::io::Cursor;

use lookwright_colour::{Error, Result};
use tiff::decoder::{Decoder, DecodingResult, Limits as TiffLimits};
use tiff::tags::Tag;
use tiff::{ColorType, TiffError};

use super::channels::ALPHA_DROPPED;
use super::tiff_chunks::{Chunk, Sink, Slots};
use super::tiff_packed::{Packed, is_packed};
use super::{Raw, broken, tiff_photo, unsupported};
use crate::carried::Carried;
use crate::colour::Tags;
use crate::exif::{self, Camera, Exif};
use crate::header::{Gate, Header};
use crate::kind::Kind;
use crate::limits::MAX_SIDE_DATA_BYTES;

pub(super) type Reader<'a> = Decoder<Cursor<&'a [u8]>>;

/// Values of tags in TIFF 6.0 (and, the last, TIFF/EP) that decide something here.
mod value {
    pub(super) const RGB: u32 = 2;
    pub(super) const PALETTE: u32 = 3;
    pub(super) const LOW_BITS_FIRST: u32 = 2;
    pub(super) const SEPARATE_PLANES: u32 = 2;
    pub(super) const COLOUR_FILTER_ARRAY: u32 = 32803;
}

pub(super) fn read(bytes: &[u8], gate: Gate<'_>) -> Result<Raw> {
    let mut decoder = Decoder::new(Cursor::new(bytes)).map_err(sentence)?;
    let (width, height) = decoder.dimensions().map_err(sentence)?;
    refuse_by_tags(&mut decoder)?;
    let colour = decoder.colortype().map_err(sentence)?;
    let bits = colour.bit_depth();
    let pixel = Pixel::new(&mut decoder, colour)?;
    let stored_bytes = pixel.samples as u64 * u64::from(bits.div_ceil(8));
    let result_bytes = 3 * if bits <= 8 {
        1
    } else if bits <= 16 {
        2
    } else {
        4
    };
    // At worst the whole picture is one strip.
    gate(&Header {
        kind: Kind::Tiff,
        width: width.into(),
        height: height.into(),
        channels: pixel.samples as u32,
        bits: bits.into(),
        floats: result_bytes == 12,
        decoding_bytes: stored_bytes + result_bytes,
    })?;
    let whole = (u64::from(width) * u64::from(height) * stored_bytes) as usize;
    let mut bounds = TiffLimits::default();
    // A tile may be larger than the picture.
    bounds.decoding_buffer_size = whole.saturating_add(MAX_SIDE_DATA_BYTES);
    bounds.intermediate_buffer_size = whole.saturating_add(MAX_SIDE_DATA_BYTES);
    // The decoder holds a list's values in 32 bytes each.
    bounds.ifd_value_size = MAX_SIDE_DATA_BYTES / 4;
    decoder = decoder.with_limits(bounds);

    let mut sink = Sink::new(width as usize, height as usize);
    let packed = is_packed(bits)
        .then(|| Packed::new(&mut decoder, bytes, bits))
        .transpose()?;
    fill(&mut decoder, &mut sink, &pixel, bits, packed.as_ref())?;

    let mut notes = Vec::new();
    if pixel.samples != 1 && pixel.samples != 3 {
        notes.push(ALPHA_DROPPED.to_owned());
    }
    if decoder.more_images() {
        notes.push("The TIFF holds several pictures; the first was read.".to_owned());
    }
    // A profile that is announced and not there would make wrong colours without a word.
    let icc = decoder.find_tag(Tag::IccProfile).map_err(sentence)?;
    let icc = icc
        .map(|value| value.into_u8_vec())
        .transpose()
        .map_err(sentence)?;
    let exif = exif_of(&mut decoder);
    Ok(Raw {
        width,
        height,
        samples: sink.finish()?,
        file_bits: bits,
        tags: Tags {
            icc,
            ..Tags::default()
        },
        exif,
        notes,
        shown: None,
        attributes: Carried::default(),
        gain: None,
    })
}

/// What the decoder would misread or refuse without saying what to do.
fn refuse_by_tags(decoder: &mut Reader<'_>) -> Result<()> {
    const DNG_VERSION: Tag = Tag::Unknown(50706);
    let photometric = number(decoder, Tag::PhotometricInterpretation);
    let is_dng = decoder.find_tag(DNG_VERSION).ok().flatten().is_some();
    let (what, advice) = if is_dng || photometric == Some(value::COLOUR_FILTER_ARRAY) {
        ("is a camera raw file", "develop it to a 16-bit TIFF first")
    } else if photometric == Some(value::PALETTE) {
        ("has a palette", "save it as RGB")
    } else if number(decoder, Tag::FillOrder) == Some(value::LOW_BITS_FIRST) {
        (
            "stores its bits in reverse order",
            "open it elsewhere and save it again",
        )
    } else {
        return Ok(());
    };
    Err(unsupported(Kind::Tiff, what, advice))
}

pub(super) fn number(decoder: &mut Reader<'_>, tag: Tag) -> Option<u32> {
    decoder.find_tag_unsigned(tag).ok().flatten()
}

/// How a pixel is stored.
struct Pixel {
    /// Samples per pixel.
    samples: usize,
    /// Red, green and blue come first; otherwise grey does.
    is_rgb: bool,
    /// Each sample has a plane of its own.
    separate: bool,
}

impl Pixel {
    fn new(decoder: &mut Reader<'_>, colour: ColorType) -> Result<Self> {
        let refuse = |what| {
            let advice = "convert it to RGB and save it again with 8 or 16 bits";
            Err(unsupported(Kind::Tiff, what, advice))
        };
        let (samples, is_rgb) = match colour {
            ColorType::Gray(_) => (1, false),
            ColorType::GrayA(_) => (2, false),
            ColorType::RGB(_) => (3, true),
            ColorType::RGBA(_) => (4, true),
            ColorType::Multiband { num_samples: 0, .. } => return refuse("has no channels"),
            ColorType::Multiband { num_samples, .. } => {
                let rgb = number(decoder, Tag::PhotometricInterpretation) == Some(value::RGB);
                (usize::from(num_samples), rgb && num_samples >= 3)
            }
            ColorType::CMYK(_) | ColorType::CMYKA(_) => {
                return refuse("is in CMYK, for printing presses");
            }
            ColorType::YCbCr(_) => return refuse("is in YCbCr"),
            ColorType::Lab(_) => return refuse("is in CIELAB"),
            _ => return refuse("has an unusual kind of colour"),
        };
        let planes = number(decoder, Tag::PlanarConfiguration);
        let separate = planes == Some(value::SEPARATE_PLANES) && samples > 1;
        Ok(Self {
            samples,
            is_rgb,
            separate,
        })
    }
}

/// Reads strip after strip or tile after tile, plane after plane, into `sink`. (Reading a picture
/// in one go trips an assertion in the decoder for tiles in planes.)
fn fill(
    decoder: &mut Reader<'_>,
    sink: &mut Sink,
    pixel: &Pixel,
    bits: u8,
    packed: Option<&Packed<'_>>,
) -> Result<()> {
    let (chunk_width, chunk_height) = decoder.chunk_dimensions();
    if chunk_width == 0 || chunk_height == 0 {
        return Err(broken(Kind::Tiff, "its strips are empty"));
    }
    let (width, height) = (sink.width as u32, sink.height as u32);
    let across = width.div_ceil(chunk_width);
    let per_plane = across * height.div_ceil(chunk_height);
    let colours = if pixel.is_rgb { 3 } else { 1 };
    for plane in 0..if pixel.separate { colours } else { 1 } {
        let slots = match (pixel.is_rgb, pixel.separate) {
            (false, _) => Slots::Grey,
            (true, false) => Slots::Rgb,
            (true, true) => Slots::One(plane as usize),
        };
        for index in 0..per_plane {
            let number = plane * per_plane + index;
            let (cut_width, cut_height) = decoder.chunk_data_dimensions(number);
            let samples_per_pixel = if pixel.separate { 1 } else { pixel.samples };
            let (width, samples) = match packed {
                None => (cut_width, decoder.read_chunk(number).map_err(sentence)?),
                // Tiles are whole in the file; of a strip there may be less.
                Some(packed) => {
                    let codes = chunk_width as usize * samples_per_pixel;
                    let codes = packed.chunk(number, cut_height as usize, codes)?;
                    (chunk_width, DecodingResult::U16(codes))
                }
            };
            let chunk = Chunk {
                x: (index % across * chunk_width) as usize,
                y: (index / across * chunk_height) as usize,
                width: width as usize,
                samples_per_pixel,
                bits,
                slots,
            };
            sink.place(&chunk, samples)?;
        }
    }
    Ok(())
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
    let camera = Camera {
        make: text(Tag::Make),
        model: text(Tag::Model),
        ..Camera::default()
    };
    Exif {
        camera,
        orientation: orientation.unwrap_or(0),
        kept: tiff_photo::kept_of(decoder),
    }
}

pub(super) fn sentence(error: TiffError) -> Error {
    match error {
        TiffError::UnsupportedError(what) => unsupported(
            Kind::Tiff,
            &format!("uses something rare ({what})"),
            "save it uncompressed or with LZW, as RGB with 8, 10, 12 or 16 bits",
        ),
        other => broken(Kind::Tiff, other),
    }
}
