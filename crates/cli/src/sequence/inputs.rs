//! From what was typed to the pictures of a run.

use std::io::Read;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use lookwright_picture::frame_number;

use super::frames::in_words;
use super::{Frames, Picture, numbered, shot};
use crate::args::SequenceArgs;

/// The pictures of a run.
#[derive(Debug)]
pub(crate) struct Pictures {
    /// In order.
    pub(crate) all: Vec<Picture>,
    /// A folder, a pattern or a list was given: there may be one picture, but many are meant.
    pub(crate) many_meant: bool,
    /// A pattern was given: its pictures are frames of one shot, of one size.
    pub(crate) one_shot: bool,
}

/// All pictures that were asked for, before they are shared out.
///
/// # Errors
/// One sentence if there is none, or what was typed is not understood.
pub(crate) fn pictures(inputs: &[PathBuf], args: &SequenceArgs) -> Result<Pictures> {
    let frames = args.frames.as_ref();
    let listed = args.list.as_deref().map(list).transpose()?;
    let mut found = Pictures {
        all: Vec::new(),
        many_meant: listed.is_some(),
        one_shot: false,
    };
    for typed in inputs.iter().chain(listed.iter().flatten()) {
        if typed.is_dir() {
            found.many_meant = true;
            let inside = numbered::in_folder(typed)?;
            found.all.extend(inside.into_iter().map(picture));
        } else if numbered::is_pattern(typed) && !typed.exists() {
            (found.many_meant, found.one_shot) = (true, true);
            found.all.extend(numbered::numbered(typed, frames)?);
        } else {
            found.all.push(picture(typed.clone()));
        }
    }
    if let Some(frames) = frames.filter(|_| !found.one_shot) {
        among(frames, &mut found.all)?;
    }
    if found.all.is_empty() {
        bail!("no picture is given");
    }
    if let Some(first) = args.first_frame {
        for (place, picture) in found.all.iter_mut().enumerate() {
            let number = u32::try_from(place).ok().and_then(|n| first.checked_add(n));
            picture.number = Some(number.context("--first-frame: the numbers become too large")?);
            let named = || shot::name_of(&picture.path);
            picture.shot.get_or_insert_with(named);
        }
    }
    Ok(found)
}

/// A picture that was named by itself.
fn picture(path: PathBuf) -> Picture {
    let name = path.file_name().and_then(|name| name.to_str());
    let number = name.and_then(frame_number);
    Picture {
        shot: shot::of_numbered(&path),
        number,
        missing: false,
        path,
    }
}

/// Keeps those of some files that frame numbers name.
fn among(frames: &Frames, pictures: &mut Vec<Picture>) -> Result<()> {
    if let Some(other) = pictures.iter().find(|p| p.number.is_none()) {
        bail!(
            "{}: there is no number at the end of this name, so --frames can't tell whether it is \
             meant",
            other.path.display()
        );
    }
    pictures.retain(|picture| picture.number.is_some_and(|n| frames.has(n)));
    let absent = |n: &u32| !pictures.iter().any(|p| p.number == Some(*n));
    let absent: Vec<u32> = frames.numbers().filter(absent).collect();
    if !absent.is_empty() {
        bail!(
            "no picture has the number {}, which --frames names",
            in_words(&absent)
        );
    }
    Ok(())
}

/// The names in a list: one a line, or with a zero byte after each.
fn list(path: &Path) -> Result<Vec<PathBuf>> {
    let shown = if path == Path::new("-") {
        Path::new("the list")
    } else {
        path
    };
    let mut bytes = Vec::new();
    let read = if path == Path::new("-") {
        std::io::stdin().lock().read_to_end(&mut bytes)
    } else {
        std::fs::File::open(path).and_then(|mut file| file.read_to_end(&mut bytes))
    };
    read.with_context(|| format!("{}: can't be read", shown.display()))?;
    let text = String::from_utf8(bytes)
        .with_context(|| format!("{}: this is not a text file", shown.display()))?;
    let end = if text.contains('\0') { '\0' } else { '\n' };
    let names = text.split(end).map(|name| name.trim_end_matches('\r'));
    Ok(names
        .filter(|name| !name.is_empty())
        .map(PathBuf::from)
        .collect())
}

/// The sentence for frames that are not there.
pub(crate) fn missing_in_words(pictures: &[Picture]) -> Option<String> {
    let missing: Vec<_> = pictures.iter().filter(|p| p.missing).collect();
    let first = missing.first()?;
    let numbers: Vec<u32> = missing.iter().filter_map(|p| p.number).collect();
    Some(format!(
        "{}: there is no such file (missing: {}); name the frames that are there with --frames, or \
         render those with --keep-going",
        first.path.display(),
        in_words(&numbers)
    ))
}
