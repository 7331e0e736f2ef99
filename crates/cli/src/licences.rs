//! `lookwright licences`: the notices that have to go with the program, in the program itself, so
//! that they are there however it was installed.

use anyhow::Result;

use crate::files;

/// Made by `cargo xtask licences` from what is linked, and held to it by `cargo xtask test`.
const NOTICES: &str = include_str!("../licences.txt");

pub(crate) fn run() -> Result<()> {
    files::print(NOTICES)
}
