//! Files that are being written: beside their final place until they are complete.

use std::ffi::OsStr;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use anyhow::{Context, Result, bail};

use super::place::{Place, cannot};

/// Files that are being written, for [`give_up`].
static UNFINISHED: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());

/// Removes every file that is being written and ends the program: for when a person stops it.
/// Nothing is begun or finished meanwhile.
pub(crate) fn give_up(code: i32) -> ! {
    let unfinished = UNFINISHED.lock().unwrap_or_else(PoisonError::into_inner);
    for path in unfinished.iter() {
        // What can't be removed now has a name that says what it is.
        let _ = std::fs::remove_file(path);
    }
    std::process::exit(code)
}

/// What the names of unfinished files begin with.
const PREFIX: &str = ".lookwright-";

/// Whether a name is an unfinished file's.
pub(crate) fn is_unfinished(name: &OsStr) -> bool {
    name.to_string_lossy().starts_with(PREFIX)
}

/// A new unfinished file, under its lock for as long as it is open: so it can be told from what a
/// program that was ended in the middle left behind.
pub(super) fn in_folder(folder: &Path) -> std::io::Result<tempfile::NamedTempFile> {
    loop {
        let file = tempfile::Builder::new()
            .prefix(PREFIX)
            .permissions_like_a_new_file()
            .tempfile_in(folder)?;
        match file.as_file().lock() {
            Err(error) if error.kind() == ErrorKind::Unsupported => return Ok(file),
            locked => locked?,
        }
        // Whoever tidies up may have been faster than the lock.
        if file.path().exists() {
            return Ok(file);
        }
    }
}

/// A file that is being written beside its final place. It is gone if it is not finished.
pub(crate) struct Unfinished<'a> {
    file: tempfile::NamedTempFile,
    place: &'a Place,
}

impl<'a> Unfinished<'a> {
    pub(crate) fn new(place: &'a Place) -> Result<Self> {
        std::fs::create_dir_all(&place.folder)
            .with_context(|| format!("{}: its folder can't be made", place.display()))?;
        let mut unfinished = UNFINISHED.lock().unwrap_or_else(PoisonError::into_inner);
        let file = in_folder(&place.folder).with_context(|| cannot(&place.shown))?;
        unfinished.push(file.path().to_owned());
        Ok(Self { file, place })
    }

    /// What is written to.
    pub(crate) fn file(&mut self) -> &mut std::fs::File {
        self.file.as_file_mut()
    }

    /// Writes it whole and, after `ready`, moves it to its place.
    pub(super) fn finish_with(
        mut self,
        bytes: &[u8],
        ready: impl FnOnce() -> Result<()>,
    ) -> Result<()> {
        self.file
            .write_all(bytes)
            .with_context(|| cannot(&self.place.shown))?;
        ready()?;
        self.finish()
    }

    /// Moves the file to its place. Where nothing was to be replaced, nothing is: a file that has
    /// appeared there meanwhile stays.
    pub(crate) fn finish(self) -> Result<()> {
        let mut unfinished = UNFINISHED.lock().unwrap_or_else(PoisonError::into_inner);
        let written = self.file.path().to_owned();
        let target = self.place.path();
        let moved = if self.place.replaces {
            self.file.persist(&target)
        } else {
            match self.file.persist_noclobber(&target) {
                // Some disks can't move a file only where there is none.
                Err(failed)
                    if failed.error.kind() != ErrorKind::AlreadyExists && !target.exists() =>
                {
                    failed.file.persist(&target)
                }
                moved => moved,
            }
        };
        match moved {
            Err(failed) if failed.error.kind() == ErrorKind::AlreadyExists => bail!(
                "{}: a file of this name has appeared meanwhile and was left as it is; choose another \
                 name",
                self.place.display()
            ),
            moved => moved.with_context(|| cannot(&self.place.shown))?,
        };
        unfinished.retain(|path| *path != written);
        Ok(())
    }
}

/// A temporary file is private by default; ours takes the place of an ordinary one.
trait OrdinaryPermissions {
    fn permissions_like_a_new_file(&mut self) -> &mut Self;
}

impl OrdinaryPermissions for tempfile::Builder<'_, '_> {
    #[cfg(unix)]
    fn permissions_like_a_new_file(&mut self) -> &mut Self {
        use std::os::unix::fs::PermissionsExt;
        self.permissions(std::fs::Permissions::from_mode(0o666))
    }

    #[cfg(not(unix))]
    fn permissions_like_a_new_file(&mut self) -> &mut Self {
        self
    }
}
