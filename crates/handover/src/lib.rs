//! What leaves Lookwright for other programs: tables, a check of any table, the hand-over pack.
//!
//! ```text
//! split, mapping   which part of the light path a table carries, as a function of one pixel
//! baked            that function on a lattice
//! format, written  the formats, and the table's file in each
//! difference       how far a table is off, in colour difference and in codes
//! reduce           the nearest ASC CDL, and how far it is off
//! check            any table file held against the health checks
//! picture          a table's grey axis, slices and lattice as one SVG
//! scene_light      scene-linear light behind a lattice of ACEScct
//! plate            grain, dust and halation as pictures, and how much of them shows at each code
//! chart            a test chart in a camera's encoding, and what should come of it
//! pack             the zip that goes to an editor, and its note
//! ```
//!
//! Nothing here touches files or clocks: bytes go in, bytes come out, and the same input gives the
//! same bytes. A table carries only what maps one pixel to one pixel; everything that is written
//! says so.

pub mod baked;
pub mod chart;
pub mod check;
pub mod difference;
mod format;
mod mapping;
pub mod name;
pub mod pack;
mod picture;
pub mod plate;
mod png;
pub mod reduce;
mod scene_light;
mod split;
mod written;

pub use baked::{Accuracy, Baked};
pub use check::{Asked, Checked, check};
pub use format::Format;
pub use mapping::{Mapping, Recipe, SAME_CODES, has_same_codes};
pub use pack::{Pack, Plan, Plates, SampleFrame, Step};
pub use plate::{OverGrey, PlateKind, PlateOn, PlateRecipe};
pub use split::Split;
