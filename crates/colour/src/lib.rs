//! Colour: the numbers that pixel formulas are written in, colour spaces, and camera encodings.
//!
//! ```text
//! lane        the numbers: one formula serves scalars and vectors; exp2, log2
//! rgb         three numbers, and 3x3 matrices over them
//! luma        how light a code is
//! byte, hash  codes of 8 bits; random bits of a place
//! space       primaries, whites, adaptation, colour difference, daylight and Planckian light
//! encoding    transfer curves and gamuts of cameras, displays and film scans, by their ids
//! error       one sentence that says what, where, and what to do
//! ```
//!
//! - Scene light is linear AP1 (ACEScg) in `f32`; 1.0 is a perfect white reflector in the key
//!   light, 0.18 is mid-grey.
//! - The same input gives the same bytes on every machine: see [`lane`].
//!
//! Out of scope: looks and film (`lookwright-film`), pictures, files, clocks, threads, JavaScript.

pub mod byte;
pub mod encoding;
pub mod error;
pub mod hash;
pub mod lane;
pub mod luma;
pub mod rgb;
pub mod space;

pub use error::{Error, Result};
pub use rgb::{Mat3, PixelMatrix, Rgb};
