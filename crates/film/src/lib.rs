//! Film: what a look is, and what each step of the light path does to a pixel or a picture.
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
//! - [`look`] is the data model: one file per stage, JSON, schema, catalogue.
//! - [`path`] holds one folder per stage and one file per step, with its formula and source.
//! - [`spatial`] holds picture buffers and the kernels by which light spreads.
//!
//! Pixels are three numbers; alpha is not part of a picture here. In which order steps are taken
//! over a picture, and what is kept meanwhile, is the crate `lookwright-render`.
//!
//! Out of scope, and nowhere in this crate: files, clocks, threads, JavaScript, logging.

pub mod look;
pub mod path;
pub mod spatial;
