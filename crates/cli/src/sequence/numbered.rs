//! Pictures that a numbered pattern stands for: `shot.####.exr`, `shot.%06d.dpx`.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};

use super::{Frames, Picture};
use crate::output::Pattern;

/// The pictures of a pattern: those that `frames` names, or those that are there and, marked as
/// missing, those between them that are not.
///
/// # Errors
/// One sentence if the pattern is not understood, or there is no such picture.
pub(super) fn numbered(typed: &Path, frames: Option<&Frames>) -> Result<Vec<Picture>> {
    let name = typed.file_name().and_then(|name| name.to_str());
    let name = name.with_context(|| format!("{}: this name is no text", typed.display()))?;
    let pattern = Pattern::parse(name)?;
    let Some((before, digits, after)) = pattern.around_number() else {
        bail!(
            "{name}: a pattern of pictures to read has one number, as in shot.####.exr or shot.%04d.exr"
        );
    };
    let file = |number: u32| typed.with_file_name(format!("{before}{number:0digits$}{after}"));
    let picture = |number: u32, missing: bool| Picture {
        path: file(number),
        number: Some(number),
        shot: Some(super::shot::name_of(
            &typed.with_file_name(format!("{before}0")),
        )),
        missing,
    };
    if let Some(frames) = frames {
        let numbers = frames.numbers();
        return Ok(numbers.map(|n| picture(n, !file(n).exists())).collect());
    }
    let there = numbers_there(typed, &before, digits, &after)?;
    let (Some(first), Some(last)) = (there.first(), there.last()) else {
        bail!("{}: there is no such picture", typed.display());
    };
    // A stray number far away is a slip, not a gap of millions.
    if (last - first) as usize > 100 * there.len() + 1000 {
        bail!(
            "{}: the numbers run from {first} to {last}, but only {} pictures are there; name them \
             with --frames",
            typed.display(),
            there.len()
        );
    }
    let mut found = there.iter().copied().peekable();
    let all = (*first..=*last).map(|n| picture(n, found.next_if_eq(&n).is_none()));
    Ok(all.collect())
}

/// The numbers of a pattern's files, in ascending order.
fn numbers_there(typed: &Path, before: &str, digits: usize, after: &str) -> Result<Vec<u32>> {
    let folder = match typed.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let entries = std::fs::read_dir(folder)
        .with_context(|| format!("{}: can't be read", folder.display()))?;
    let mut numbers = Vec::new();
    for entry in entries {
        let entry = entry.with_context(|| format!("{}: can't be read", folder.display()))?;
        let name = entry.file_name();
        let text = name.to_string_lossy();
        let rest = text
            .strip_prefix(before)
            .and_then(|rest| rest.strip_suffix(after));
        let Some(number) = rest.and_then(|digits| digits.parse::<u32>().ok()) else {
            continue;
        };
        // A number that is filled up otherwise belongs to another sequence.
        if rest == Some(format!("{number:0digits$}").as_str()) {
            numbers.push(number);
        }
    }
    numbers.sort_unstable();
    Ok(numbers)
}

/// Whether a name that is no file's is meant as a pattern.
pub(super) fn is_pattern(typed: &Path) -> bool {
    let name = typed.file_name().unwrap_or_default().to_string_lossy();
    name.contains(['#', '%'])
}

/// The pictures of a folder in the order of their shots and numbers; by their endings.
///
/// # Errors
/// If there is none, or the folder can't be read.
pub(super) fn in_folder(folder: &Path) -> Result<Vec<PathBuf>> {
    let unreadable = || format!("{}: can't be read", folder.display());
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).with_context(unreadable)? {
        let path = entry.with_context(unreadable)?.path();
        let ending = path.extension().unwrap_or_default().to_string_lossy();
        let ending = ending.to_lowercase();
        let hidden = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .starts_with('.');
        if !hidden && lookwright_picture::Kind::endings().any(|e| e == ending) && path.is_file() {
            found.push(path);
        }
    }
    if found.is_empty() {
        bail!(
            "{}: there is no picture in this folder; {} are read",
            folder.display(),
            lookwright_picture::Kind::names()
        );
    }
    found.sort_by_cached_key(|path| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let number = lookwright_picture::frame_number(&name);
        (
            number.map(|_| super::shot::name_of(path)),
            number,
            path.clone(),
        )
    });
    Ok(found)
}
