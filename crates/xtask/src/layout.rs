//! Where things are in the checkout and in the target directory.

use anyhow::Result;
use std::path::{Path, PathBuf};
use std::{env, fs};

/// The top of the checkout.
pub(crate) fn root() -> &'static Path {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here)
}

/// Cargo's target directory, `target` unless `CARGO_TARGET_DIR` says otherwise.
pub(crate) fn target() -> PathBuf {
    match env::var_os("CARGO_TARGET_DIR") {
        Some(dir) => root().join(dir),
        None => root().join("target"),
    }
}

/// The finished page.
pub(crate) fn dist() -> PathBuf {
    root().join("web/dist")
}

/// The command line, as `cargo build` leaves it.
pub(crate) fn command_line() -> PathBuf {
    target()
        .join("debug")
        .join(format!("lookwright{}", env::consts::EXE_SUFFIX))
}

/// A program, as `cargo build --release` leaves it.
pub(crate) fn program(name: &str) -> PathBuf {
    target()
        .join("release")
        .join(format!("{name}{}", env::consts::EXE_SUFFIX))
}

/// The first of `names` that is a program on `PATH`.
pub(crate) fn find_program(names: &[&str]) -> Option<PathBuf> {
    let path = env::var_os("PATH")?;
    let dirs: Vec<PathBuf> = env::split_paths(&path).collect();
    names.iter().find_map(|name| {
        let file = format!("{name}{}", env::consts::EXE_SUFFIX);
        dirs.iter()
            .map(|dir| dir.join(&file))
            .find(|candidate| candidate.is_file())
    })
}

/// The files of a folder, which may be missing, by name.
pub(crate) fn files(folder: &Path, wanted: impl Fn(&str) -> bool) -> Result<Vec<PathBuf>> {
    if !folder.exists() {
        return Ok(Vec::new());
    }
    let mut found = Vec::new();
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        if wanted(&entry.file_name().to_string_lossy()) {
            found.push(entry.path());
        }
    }
    found.sort();
    Ok(found)
}
