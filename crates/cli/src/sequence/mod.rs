//! What is rendered: pictures, from files, folders, numbered patterns and lists, with their numbers
//! and the shots that they belong to.

mod frames;
mod inputs;
mod numbered;
pub(crate) mod shot;

pub(crate) use frames::Frames;
pub(crate) use inputs::{Pictures, missing_in_words, pictures};

use std::path::PathBuf;

/// A picture of a run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Picture {
    /// Its file.
    pub(crate) path: PathBuf,
    /// Its number in its sequence.
    pub(crate) number: Option<u32>,
    /// The shot that it belongs to, if it has a number of its own.
    pub(crate) shot: Option<String>,
    /// It was asked for by number, and there is no such file.
    pub(crate) missing: bool,
}
