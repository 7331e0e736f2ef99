//! What is written: under which names, to which places, whole or not at all.

mod pattern;
mod place;
mod replace;
mod unfinished;

pub(crate) use pattern::Pattern;
pub(crate) use place::{Folder, Place, Planned, not_among, one_place, places};
pub(crate) use replace::replace;
pub(crate) use unfinished::{Unfinished, give_up, is_unfinished};
