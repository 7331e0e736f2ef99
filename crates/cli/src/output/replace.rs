//! Files of the program's own, which it may replace.

use std::io::Write;
use std::path::Path;

use anyhow::{Context, Result};

use super::place::cannot;

/// Replaces a file of the program's own, whole or not at all.
///
/// # Errors
/// If it can't be written.
pub(crate) fn replace(path: &Path, bytes: &[u8]) -> Result<()> {
    let folder = path.parent().unwrap_or(Path::new("."));
    let mut file = super::unfinished::in_folder(folder).with_context(|| cannot(path))?;
    file.write_all(bytes).with_context(|| cannot(path))?;
    file.persist(path).with_context(|| cannot(path))?;
    Ok(())
}
