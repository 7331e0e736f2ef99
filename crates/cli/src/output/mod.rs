//! What is written: under which names, to which places, whole or not at all.

mod pattern;
mod place;
mod unfinished;

pub(crate) use pattern::Pattern;
pub(crate) use place::{Folder, Place, Planned, one_place, places};
pub(crate) use unfinished::{Unfinished, give_up};
