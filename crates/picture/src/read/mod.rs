//! Bytes to pixels: one file per kind, and the steps that all kinds share.

mod channels;
mod dpx;
mod exr;
mod exr_guard;
mod hdr;
mod jpeg;
mod jpeg_frame;
mod png;
mod tiff;
mod tiff_chunks;
mod tiff_packed;
mod tiff_photo;
mod webp;

use std::cell::Cell;

use lookwright_colour::{Error, Result};

use crate::carried::Carried;
use crate::colour::{self, ReadTable, Tags};
use crate::decoded::{Decoded, Samples, Shown};
use crate::exif::Exif;
use crate::gain_map::GainMap;
use crate::header::{Gate, Header};
use crate::kind::{Kind, sniff};
use crate::limits::Limits;
use crate::orient::upright;

/// A picture as its reader delivers it: not yet upright, colour tags not yet understood.
struct Raw {
    width: u32,
    height: u32,
    samples: Samples,
    file_bits: u8,
    tags: Tags,
    exif: Exif,
    notes: Vec<String>,
    shown: Option<Shown>,
    attributes: Carried,
    /// Of a JPEG that has one.
    gain: Option<GainMap>,
}

/// Decodes a picture within the default [`Limits`].
///
/// # Errors
/// One sentence for a file that is not a picture, of a kind that is not read, truncated, damaged,
/// empty or too big. There is no partial result.
pub fn decode(bytes: &[u8]) -> Result<Decoded> {
    decode_with(bytes, &Limits::default())
}

/// As [`decode`], within `limits`, which are checked on the header before anything is decoded.
///
/// # Errors
/// As [`decode`].
pub fn decode_with(bytes: &[u8], limits: &Limits) -> Result<Decoded> {
    decode_if(bytes, limits, |_| Ok(()))
}

/// What the header of a picture says. Its first bytes are enough, but for TIFF and WebP, whose headers
/// may lie anywhere.
///
/// # Errors
/// As [`decode`], as far as the header shows it.
pub fn probe(bytes: &[u8]) -> Result<Header> {
    probe_by(read, bytes)
}

/// As [`probe`], of a common kind; see [`Kind::is_common`].
///
/// # Errors
/// As [`probe`], and for a picture of another kind.
pub fn probe_common(bytes: &[u8]) -> Result<Header> {
    probe_by(read_common, bytes)
}

/// Reads a picture of a kind.
type Read = fn(Kind, &[u8], Gate<'_>) -> Result<Raw>;

fn probe_by(read: Read, bytes: &[u8]) -> Result<Header> {
    let mut found = None;
    let stop = || Error::new("only the header is read");
    let read = read(sniff(bytes)?, bytes, &mut |header| {
        found.get_or_insert(*header);
        Err(stop())
    });
    match (found, read) {
        (Some(header), _) => Ok(header),
        (None, Err(error)) => Err(error),
        (None, Ok(_)) => Err(stop()),
    }
}

/// As [`decode_with`], if `accept` takes the header, which it is shown before anything is decoded.
///
/// # Errors
/// As [`decode`], and what `accept` gives.
pub fn decode_if(
    bytes: &[u8],
    limits: &Limits,
    accept: impl FnMut(&Header) -> Result<()>,
) -> Result<Decoded> {
    decode_by(read, colour::table, bytes, limits, accept)
}

/// As [`decode_if`], of a common kind ([`Kind::is_common`]): a program that calls this alone is not
/// linked with the decoders of the others, nor with what colour profiles that are tables take. None if the
/// picture has such a profile.
///
/// # Errors
/// As [`decode_if`], and for a picture of another kind.
pub fn decode_common(
    bytes: &[u8],
    limits: &Limits,
    accept: impl FnMut(&Header) -> Result<()>,
) -> Result<Option<Decoded>> {
    let has_table = Cell::new(false);
    let read = |kind: Kind, bytes: &[u8], gate: Gate<'_>| {
        let raw = read_common(kind, bytes, gate)?;
        has_table.set(raw.tags.icc.as_deref().is_some_and(colour::is_table));
        Ok(raw)
    };
    let decoded = decode_by(read, colour::no_table, bytes, limits, accept)?;
    Ok((!has_table.get()).then_some(decoded))
}

/// How much of a picture is read, where there is more than is meant to be seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Extent {
    /// What is meant to be seen.
    Shown,
    /// All that there is: [`Decoded::shown`] says which part of it is meant to be seen.
    Whole,
}

/// As [`decode_if`], as much of it as is asked for.
///
/// # Errors
/// As [`decode_if`].
pub fn decode_extent(
    bytes: &[u8],
    limits: &Limits,
    extent: Extent,
    accept: impl FnMut(&Header) -> Result<()>,
) -> Result<Decoded> {
    let read = |kind: Kind, bytes: &[u8], gate: Gate<'_>| read_extent(kind, bytes, extent, gate);
    decode_by(read, colour::table, bytes, limits, accept)
}

fn decode_by(
    read: impl Fn(Kind, &[u8], Gate<'_>) -> Result<Raw>,
    table: ReadTable,
    bytes: &[u8],
    limits: &Limits,
    mut accept: impl FnMut(&Header) -> Result<()>,
) -> Result<Decoded> {
    let kind = sniff(bytes)?;
    let held = bytes.len() as u64;
    let mut raw = read(kind, bytes, &mut |header| {
        limits.check(header, held)?;
        accept(header)
    })?;
    let orientation = raw.exif.orientation;
    let (samples, width, height) = upright(raw.samples, raw.width, raw.height, orientation)?;
    let legal_range = raw
        .tags
        .cicp
        .is_some_and(|[.., full_range]| full_range == 0);
    let (mut samples, mut colour) = colour::resolve(samples, &raw.tags, table, &mut raw.notes)?;
    if let Some(map) = raw.gain {
        let map = map.upright(orientation)?;
        (samples, colour) = map.applied(samples, width, colour, &mut raw.notes)?;
    }
    Ok(Decoded {
        width,
        height,
        samples,
        kind,
        file_bits: raw.file_bits,
        colour,
        legal_range,
        camera: raw.exif.camera,
        notes: raw.notes,
        shown: raw.shown,
        carried: Carried {
            photo: raw.exif.kept,
            ..raw.attributes
        },
    })
}

fn read(kind: Kind, bytes: &[u8], gate: Gate<'_>) -> Result<Raw> {
    read_extent(kind, bytes, Extent::Shown, gate)
}

fn read_extent(kind: Kind, bytes: &[u8], extent: Extent, gate: Gate<'_>) -> Result<Raw> {
    match kind {
        Kind::Jpeg | Kind::Png => read_common(kind, bytes, gate),
        Kind::Tiff => tiff::read(bytes, gate),
        Kind::WebP => webp::read(bytes, gate),
        Kind::Exr => exr::read(bytes, extent, gate),
        Kind::Hdr => hdr::read(bytes, gate),
        Kind::Dpx => dpx::read(bytes, gate),
        Kind::Clip => Err(Error::new("a clip is decoded before it comes here")),
    }
}

fn read_common(kind: Kind, bytes: &[u8], gate: Gate<'_>) -> Result<Raw> {
    match kind {
        Kind::Jpeg => jpeg::read(bytes, gate),
        Kind::Png => png::read(bytes, gate),
        _ => Err(Error::new(format!(
            "{} is not read by this part of the program.",
            kind.name()
        ))),
    }
}

/// The sentence for a file whose decoder gave up.
fn broken(kind: Kind, why: impl std::fmt::Display) -> Error {
    let why = why.to_string();
    let why = why
        .trim()
        .trim_matches('"')
        .trim_end_matches('.')
        .replace(['\n', '\r'], " ");
    Error::new(format!(
        "This {} is truncated or damaged ({why}): get the file again or save the picture anew.",
        kind.name()
    ))
}

/// The sentence for a sound file of a sort that is not read.
fn unsupported(kind: Kind, what: &str, advice: &str) -> Error {
    Error::new(format!(
        "This {} {what}, which is not read here: {advice}.",
        kind.name()
    ))
}

/// The note for a profile that the file announces (by `mark`, in its first 64 KiB) and the decoder
/// did not deliver; without it the colours would be wrong without a word.
fn note_lost_profile(bytes: &[u8], mark: &[u8], icc: Option<&[u8]>, notes: &mut Vec<String>) {
    let head = &bytes[..bytes.len().min(1 << 16)];
    if icc.is_none() && head.windows(mark.len()).any(|window| window == mark) {
        notes.push("The colour profile was ignored: it is damaged or too big.".to_owned());
    }
}
