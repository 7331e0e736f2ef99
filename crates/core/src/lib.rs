//! Lookwright's core: how light becomes a picture, as pure maths.
//!
//! The light path has six stages, and so has this crate:
//!
//! ```text
//! intake  ->  lens  ->  negative  ->  scan  ->  print  ->  screen
//! code to     light     exposure to   density   scan to    display
//! scene       before    layer dye     to log    positive   code
//! light       film      densities     code
//! ```
//!
//! - Scene light is linear AP1 (ACEScg) in `f32`; 1.0 is a perfect white reflector in the key
//!   light, 0.18 is mid-grey.
//! - Pixels are three numbers; alpha is not part of a picture here.
//! - The same input gives the same bytes on every machine: see [`lane`].
//!
//! Out of scope, and nowhere in this crate: files, clocks, threads, JavaScript, logging.
//! Decoding and encoding pictures is the crate `lookwright-picture`.

pub mod encoding;
pub mod error;
pub mod judge;
pub mod lane;
pub mod look;
pub mod path;
pub mod render;
pub mod rgb;
pub mod space;
pub mod spatial;
pub mod table;

pub use error::{Error, Result};
pub use rgb::{Mat3, PixelMatrix, Rgb};
