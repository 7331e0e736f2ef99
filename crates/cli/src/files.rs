//! Files that are read, and what is said.

use std::io::Write;
use std::path::Path;

use anyhow::{Context, Result};
use lookwright_film::look::Look;
use lookwright_picture::Decoded;

/// A line on standard error.
#[expect(clippy::print_stderr, reason = "this is where the command line speaks")]
pub(crate) fn say(line: &str) {
    eprintln!("{line}");
}

/// Text on standard output; a closed pipe comes back as an error.
pub(crate) fn print(text: &str) -> Result<()> {
    let mut out = std::io::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()?;
    Ok(())
}

pub(crate) fn read(path: &Path) -> Result<Vec<u8>> {
    std::fs::read(path).with_context(|| format!("{}: can't be read", path.display()))
}

pub(crate) fn read_look(path: &Path) -> Result<Look> {
    let text = String::from_utf8(read(path)?)
        .with_context(|| format!("{}: this is not a text file", path.display()))?;
    Look::read(&text).with_context(|| format!("{}", path.display()))
}

pub(crate) fn read_picture(path: &Path) -> Result<Decoded> {
    lookwright_picture::decode(&read(path)?).with_context(|| format!("{}", path.display()))
}
