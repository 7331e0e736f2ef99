//! What a program that was ended in the middle left behind.

use std::path::Path;

use anyhow::{Context, Result};

use crate::output::is_unfinished;

/// Removes the unfinished files of a folder that nobody writes to any more. Whoever writes one
/// holds its lock, on whichever machine.
///
/// # Errors
/// If one can't be removed.
pub(crate) fn remove_stale(folder: &Path) -> Result<()> {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return Ok(());
    };
    for entry in entries.flatten() {
        if !is_unfinished(&entry.file_name()) {
            continue;
        }
        let path = entry.path();
        let Ok(file) = std::fs::OpenOptions::new().write(true).open(&path) else {
            continue;
        };
        if file.try_lock().is_ok() {
            std::fs::remove_file(&path)
                .with_context(|| format!("{}: can't be removed", path.display()))?;
        }
    }
    Ok(())
}
