//! Tables: the table part of a look on a lattice, written for other tools, read back, and held
//! against a health check.
//!
//! ```text
//! grid, curve, tetra     sampled functions and how they are read between nodes
//! fit                    nodes moved so that what is read between them is nearest to a function
//! cube, clf, cdl,        the published formats, read and written
//! csp, spi
//! hald, icc, shaper      a table as a picture, as a profile; linear light by stops
//! any, unknown           a file of any of these, known by its content; other files, by name
//! health                 where a table will hurt
//! ```
//!
//! A table carries only what maps one pixel to one pixel. Nothing here touches files: readers
//! take bytes, writers give text. Memory of a reader is bounded by a small multiple of the
//! length of what it reads, because no size in a header is believed before the rows are there.

mod any;
pub mod cdl;
pub mod clf;
pub mod csp;
pub mod cube;
mod curve;
mod fit;
mod grid;
pub mod hald;
pub mod health;
pub mod icc;
mod label;
mod lines;
mod number;
mod shaper;
pub mod spi;
mod tetra;
mod unknown;
mod xml;

pub use any::{TABLE_BYTES_MAX, Table, read_table};
pub use cube::Cube;
pub use curve::{CURVE_SIZE_MAX, Curve1};
pub use fit::fit;
pub use grid::{GRID_SIZE_MAX, Grid3};
pub use label::Label;
pub use shaper::Shaper;
pub use tetra::{Interpolation, TetraSplit, tetrahedral, trilinear};
pub use xml::escaped;
