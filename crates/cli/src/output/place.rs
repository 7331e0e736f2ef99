//! Where a run may write. All of its places are looked at together before anything is written, so
//! that no file is lost: none that the run reads, none that another of its files would take the place
//! of, and none that is there already unless the person said so.
//!
//! Files are told apart by what they are on the disk, not by how their names are spelt: a link, a
//! second name of the same file and `./a` for `a` are seen through.

use std::collections::HashMap;
use std::ffi::OsString;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use file_id::{FileId, get_file_id};

use super::Unfinished;
use crate::args::OutputArgs;

/// A file that is to be written.
#[derive(Debug)]
pub(crate) struct Planned<'a> {
    /// Its name, as it was typed or made.
    pub(crate) path: PathBuf,
    /// The file that it is made from, where it has one of its own.
    pub(crate) of: Option<&'a Path>,
    /// What is there is of the same work, and may be replaced.
    pub(crate) known: bool,
}

/// What happens to a folder that is not there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Folder {
    /// It is made with the first file.
    Made,
    /// It is asked for.
    Needed,
}

/// A place that may be written to.
#[derive(Debug)]
pub(crate) struct Place {
    /// Its name as it was typed, for sentences.
    pub(super) shown: PathBuf,
    /// Its folder, links seen through.
    pub(super) folder: PathBuf,
    /// Its name in the folder.
    pub(super) name: OsString,
    /// Whether a file was there that may be replaced.
    pub(super) replaces: bool,
}

impl Place {
    pub(super) fn path(&self) -> PathBuf {
        self.folder.join(&self.name)
    }

    /// Writes the whole file, or nothing.
    pub(crate) fn write(&self, bytes: &[u8]) -> Result<()> {
        self.write_once(bytes, || Ok(()))
    }

    /// As [`Self::write`]: `ready` is called when the bytes are there and the name is still to be
    /// given, and may stop it.
    pub(crate) fn write_once(
        &self,
        bytes: &[u8],
        ready: impl FnOnce() -> Result<()>,
    ) -> Result<()> {
        Unfinished::new(self)?.finish_with(bytes, ready)
    }

    /// Its name as it was typed.
    pub(crate) fn typed(&self) -> &Path {
        &self.shown
    }

    /// As [`Self::typed`], for sentences.
    pub(crate) fn display(&self) -> std::path::Display<'_> {
        self.shown.display()
    }
}

/// The place of a command's only file; `inputs` are all files that the command reads.
///
/// # Errors
/// As [`places`].
pub(crate) fn one_place(path: &Path, inputs: &[&Path], args: &OutputArgs) -> Result<Place> {
    let planned = Planned {
        path: path.to_owned(),
        of: None,
        known: false,
    };
    let mut places = places(&[planned], inputs, Folder::Needed, args)?;
    places.pop().context("no file is to be written")
}

/// The places of all files that a run writes; `inputs` are all files that it reads.
///
/// # Errors
/// One sentence if a file would be lost or a place can't be written to.
pub(crate) fn places(
    planned: &[Planned<'_>],
    inputs: &[&Path],
    folder: Folder,
    args: &OutputArgs,
) -> Result<Vec<Place>> {
    let mut read = HashMap::new();
    for input in inputs {
        let id =
            get_file_id(input).with_context(|| format!("{}: can't be read", input.display()))?;
        read.insert(id, *input);
    }
    let mut taken: HashMap<Spot, &Planned<'_>> = HashMap::new();
    let mut there = Vec::new();
    let mut places = Vec::new();
    for file in planned {
        let (place, spot) = look_at(&file.path, folder)?;
        if let Spot::File(id) = &spot {
            if let Some(input) = read.get(id) {
                bail!("{}", would_be_lost(&file.path, input));
            }
            if !file.known {
                there.push(&file.path);
            }
        }
        if let Some(other) = taken.insert(spot, file) {
            bail!("{}", same_place(other, file));
        }
        places.push(place);
    }
    if let ([first, more @ ..], false) = (there.as_slice(), args.overwrite) {
        let first = first.display();
        match more.len() {
            0 => bail!("{first}: there is such a file already; --overwrite replaces it"),
            more => bail!(
                "{first} and {more} more of the files to write are there already; --overwrite \
                 replaces them"
            ),
        }
    }
    Ok(places)
}

/// Refuses a file that is added to and is one of those that are read.
///
/// # Errors
/// If it is.
pub(crate) fn not_among(path: &Path, inputs: &[&Path]) -> Result<()> {
    let Ok(id) = get_file_id(path) else {
        return Ok(());
    };
    match inputs
        .iter()
        .find(|input| get_file_id(input).is_ok_and(|other| other == id))
    {
        Some(input) => bail!("{}", would_be_lost(path, input)),
        None => Ok(()),
    }
}

fn would_be_lost(output: &Path, input: &Path) -> String {
    let (shown, input) = (output.display(), input.display());
    let what = if shown.to_string() == input.to_string() {
        "this file is read, so nothing is written over it".to_owned()
    } else {
        format!("this is {input}, which is read, so nothing is written over it")
    };
    format!("{shown}: {what}; choose another name or folder")
}

fn same_place(first: &Planned<'_>, second: &Planned<'_>) -> String {
    let place = second.path.display();
    match (first.of, second.of) {
        (Some(a), Some(b)) => format!(
            "{place}: both {} and {} would be written to this file; choose a pattern or folder that \
             tells them apart",
            a.display(),
            b.display()
        ),
        _ => format!("{place}: two files would be written to this name; choose another"),
    }
}

/// What tells one place from another.
#[derive(PartialEq, Eq, Hash)]
enum Spot {
    /// A file that is there.
    File(FileId),
    /// A name in a folder, where nothing is yet. Where a disk takes `A` and `a` for one name, the
    /// second is refused when it is written, as nothing was to be replaced there.
    Free(PathBuf),
}

fn look_at(path: &Path, folder: Folder) -> Result<(Place, Spot)> {
    let shown = path.display();
    let (real, spot) = match std::fs::metadata(path) {
        Ok(found) if found.is_dir() => bail!("{shown}: this is a folder; name a file in it"),
        Ok(found) if !found.is_file() => {
            bail!("{shown}: this is no ordinary file, so it is not replaced")
        }
        Ok(found) if found.permissions().readonly() => {
            bail!("{shown}: this file is protected against writing")
        }
        Ok(_) => {
            let id = get_file_id(path).with_context(|| cannot(path))?;
            let real = path.canonicalize().with_context(|| cannot(path))?;
            (real, Spot::File(id))
        }
        Err(error) if error.kind() == ErrorKind::NotFound => {
            if path.is_symlink() {
                bail!("{shown}: this is a link to a file that is not there; remove it first");
            }
            let real = free(path, folder)?;
            (real.clone(), Spot::Free(real))
        }
        Err(error) => return Err(error).with_context(|| cannot(path)),
    };
    let place = Place {
        shown: path.to_owned(),
        folder: real.parent().unwrap_or(&real).to_owned(),
        name: real.file_name().unwrap_or_default().to_owned(),
        replaces: matches!(spot, Spot::File(_)),
    };
    Ok((place, spot))
}

/// The real path of a file that is not there yet.
fn free(path: &Path, missing: Folder) -> Result<PathBuf> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let name = path
        .file_name()
        .with_context(|| format!("{}: this names no file", path.display()))?;
    if missing == Folder::Needed && !folder.is_dir() {
        bail!(
            "{}: there is no folder {}",
            path.display(),
            folder.display()
        );
    }
    // Only what is there can be a link; the rest is what will be made.
    let mut to_make = Vec::new();
    let mut there = folder;
    while !there.as_os_str().is_empty() && !there.exists() {
        to_make.push(there.components().next_back());
        there = there.parent().unwrap_or(Path::new(""));
    }
    if there.as_os_str().is_empty() {
        there = Path::new(".");
    }
    let mut real = there.canonicalize().with_context(|| cannot(path))?;
    if !real.is_dir() {
        bail!("{}: {} is no folder", path.display(), there.display());
    }
    for part in to_make.into_iter().flatten().rev() {
        match part {
            std::path::Component::ParentDir => drop(real.pop()),
            part => real.push(part),
        }
    }
    Ok(real.join(name))
}

pub(super) fn cannot(path: &Path) -> String {
    format!("{}: can't be written", path.display())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_free_wherever_its_spelling_leads() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path().canonicalize().unwrap();
        std::fs::create_dir(root.join("a")).unwrap();
        let real = |path: &str| free(&root.join(path), Folder::Made).unwrap();
        assert_eq!(real("a/../a/./x.png"), root.join("a/x.png"));
        assert_eq!(real("new/deeper/x.png"), root.join("new/deeper/x.png"));
        assert_eq!(real("new/../a/x.png"), root.join("a/x.png"));
        let refusal = free(&root.join("new/x.png"), Folder::Needed).unwrap_err();
        assert!(refusal.to_string().contains("there is no folder"));
    }
}
