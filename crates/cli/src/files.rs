//! Files: read whole, written whole or not at all.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use anyhow::{Context, Result, bail};
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

/// Writes a file beside its final place and moves it there when it is complete.
pub(crate) fn write(path: &Path, bytes: &[u8]) -> Result<()> {
    let mut file = Unfinished::new(path)?;
    file.write_all(bytes)?;
    file.finish()
}

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

/// A file that is being written beside its final place. It is gone if it is not finished.
pub(crate) struct Unfinished {
    file: tempfile::NamedTempFile,
    path: PathBuf,
}

impl Unfinished {
    pub(crate) fn new(path: &Path) -> Result<Self> {
        let folder = match path.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
            _ => PathBuf::from("."),
        };
        if !folder.is_dir() {
            bail!(
                "{}: there is no folder {}",
                path.display(),
                folder.display()
            );
        }
        if path.is_dir() {
            bail!("{}: this is a folder; name a file in it", path.display());
        }
        let mut unfinished = UNFINISHED.lock().unwrap_or_else(PoisonError::into_inner);
        let file = tempfile::Builder::new()
            .prefix(".lookwright-")
            .permissions_like_a_new_file()
            .tempfile_in(&folder)
            .with_context(|| cannot(path))?;
        unfinished.push(file.path().to_owned());
        Ok(Self {
            file,
            path: path.to_owned(),
        })
    }

    /// What is written to.
    pub(crate) fn file(&mut self) -> &mut std::fs::File {
        self.file.as_file_mut()
    }

    fn write_all(&mut self, bytes: &[u8]) -> Result<()> {
        self.file
            .write_all(bytes)
            .with_context(|| cannot(&self.path))
    }

    /// Moves the file to its place.
    pub(crate) fn finish(self) -> Result<()> {
        let mut unfinished = UNFINISHED.lock().unwrap_or_else(PoisonError::into_inner);
        let written = self.file.path().to_owned();
        self.file
            .persist(&self.path)
            .with_context(|| cannot(&self.path))?;
        unfinished.retain(|path| *path != written);
        Ok(())
    }
}

fn cannot(path: &Path) -> String {
    format!("{}: can't be written", path.display())
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
