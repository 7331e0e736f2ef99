//! `.spi1d` and `.spi3d`: plain-text tables of one and of three dimensions.
//!
//! ```text
//! Version 1                SPILUT 1.0
//! From 0.0 1.0             3 3
//! Length 1024              33 33 33
//! Components 3             0 0 0 0.01 0.01 0.02     place in red, green, blue; value
//! {                        0 0 1 0.01 0.01 0.05     blue fastest, as written; read in any order
//! 0.0 0.0 0.0
//! }
//! ```
//!
//! Source: the files of OpenColorIO 2.6.0's test suite and what its reader makes of them; no
//! specification has been found. A `.spi1d` has one, two or three columns (of two, blue is 0) over
//! the domain after `From`. A `.spi3d` has no words for a domain and none for a shaper: it takes codes
//! from 0 to 1. Neither has a place for words; they are written as lines that begin with `#` behind
//! the last row, where readers have stopped.

mod curve;
mod grid;

pub use curve::{read_curve, write_curve};
pub use grid::{read_grid, write_grid};
