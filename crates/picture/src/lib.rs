//! Reading and writing pictures: bytes to pixels and back.
//!
//! - [`decode`] turns the bytes of a JPEG, PNG, TIFF, WebP, OpenEXR, Radiance HDR or DPX file into
//!   [`Decoded`]: upright interleaved RGB in the file's own precision, with what the file says
//!   about its colour.
//! - [`suggest()`] names the encoding to read those pixels with, and why.
//! - [`PictureWriter`] takes strips of rows and gives the bytes of a JPEG, PNG, TIFF, OpenEXR or DPX.
//!
//! Everything here works on bytes in memory and on one thread, in pure Rust, so that the page and
//! the command line share it. The same rows give the same file bytes: no clock is read.
//!
//! Alpha is not part of a picture here: it is dropped, and [`Decoded::notes`] says so. Colour that
//! was stored multiplied by its alpha (OpenEXR, TIFF with associated alpha) stays as it is, which
//! shows the picture over black; other colour shows what lies under transparent parts.
//!
//! Out of scope: files, threads, camera raw, moving pictures, CMYK.

mod carried;
mod colour;
mod decoded;
mod develop;
mod dpx;
mod exif;
mod gain_map;
mod header;
mod kind;
mod limits;
mod orient;
mod read;
mod sequence;
mod suggest;
mod write;

pub use crate::exif::Camera;
pub use carried::Carried;
pub use colour::{ColourHint, OutColour};
pub use decoded::{Decoded, Samples, Shown};
pub use develop::{
    DENSITY_CODES_16, Part, Sizes, Stamp, Version, check_developing, develop, develop_in_sequence,
    develop_with,
};
pub use header::Header;
pub use kind::{Kind, sniff};
pub use limits::Limits;
pub use lookwright_colour::{Error, Result};
pub use read::{
    Extent, decode, decode_common, decode_extent, decode_if, decode_with, probe, probe_common,
};
pub use sequence::{SEEDS, frame_number, seed_of_shot, with_seeds};
pub use suggest::{Confidence, Suggestion, suggest};
pub use write::{
    Depth, FORMATS, FormatInfo, JPEG_QUALITY, OutFormat, PictureWriter, RAW_FORMATS, Rows,
    WriteOptions,
};
