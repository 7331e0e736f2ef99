//! Thin bindings of the whole core for the browser: no maths, no policy.
//!
//! What the page begins with is in [`lookwright_wasm_first`]; this adds what can wait until it is asked
//! for. [`open_picture`] reads pictures of every format, [`PicturePart`] develops a part of one at
//! full size, for a file; `table` and `pack` write tables, [`ClipPlayer`] plays clips.
//!
//! Every error is a JavaScript `Error` whose message is one sentence for the person.

mod chart;
mod chromaticity;
mod clip;
mod encode;
mod open;
mod pack;
mod plate;
mod save;
mod still;
mod table;

pub use chart::check_chart;
pub use chromaticity::{chromaticity_diagram, chromaticity_of, picture_chromaticities};
pub use clip::ClipPlayer;
pub use encode::encode_picture;
pub use lookwright_wasm_first::*;
pub use open::{examine_picture, open_picture};
pub use pack::{PackFrames, check_table, pack, pack_health, pack_plan};
pub use plate::picture_plate;
pub use save::PicturePart;
pub use still::match_picture;
pub use table::cube_table;
