//! Pictures through pipes: raw frames from another program and back to it, or pictures as files are.

mod raw;
mod run;
mod source;
mod split;
mod y4m;

pub(crate) use raw::Raw;
pub(crate) use run::{check, is_pipe, run};
