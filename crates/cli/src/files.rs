//! Files that are read, and what is said.

use std::fs::File;
use std::io::{Read, Write};
use std::path::Path;

use anyhow::{Context, Result, bail};
use lookwright_film::look::Look;
use lookwright_picture::{Carried, Decoded, Extent, Header, Limits, decode_extent, probe, sniff};

/// A line on standard error; if nobody reads it any more, the work goes on.
pub(crate) fn say(line: &str) {
    let _ = writeln!(std::io::stderr().lock(), "{line}");
}

/// Text on standard output; a closed pipe comes back as an error.
pub(crate) fn print(text: &str) -> Result<()> {
    let mut out = std::io::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()?;
    Ok(())
}

/// As much of a picture's file as its header mostly takes, in bytes.
const HEAD: u64 = 1 << 20;

/// More than any look or table has, in bytes.
const MOST_TEXT: u64 = 1 << 30;

/// A look's or a table's bytes.
pub(crate) fn read(path: &Path) -> Result<Vec<u8>> {
    let (mut file, length) = open(path)?;
    if length > MOST_TEXT {
        bail!(
            "{}: this file has {} MiB; looks and tables have fewer than {}",
            path.display(),
            length >> 20,
            MOST_TEXT >> 20
        );
    }
    let mut bytes = Vec::new();
    file.read_to_end(&mut bytes)
        .with_context(|| unreadable(path))?;
    Ok(bytes)
}

/// A file and how long it is; 0 if that is not known.
fn open(path: &Path) -> Result<(File, u64)> {
    let file = File::open(path).with_context(|| unreadable(path))?;
    let length = file.metadata().with_context(|| unreadable(path))?.len();
    Ok((file, length))
}

fn unreadable(path: &Path) -> String {
    format!("{}: can't be read", path.display())
}

pub(crate) fn read_look(path: &Path) -> Result<Look> {
    let text = String::from_utf8(read(path)?)
        .with_context(|| format!("{}: this is not a text file", path.display()))?;
    let (look, notes) =
        Look::read_with_notes(&text).with_context(|| format!("{}", path.display()))?;
    for note in notes {
        say(&format!("{}: {note}", path.display()));
    }
    Ok(look)
}

pub(crate) fn read_picture(path: &Path) -> Result<Decoded> {
    read_picture_if(path, Extent::Shown, &|_| Ok(()))
}

/// Reads a picture that `accept` takes by its header. What is no picture, or too big, is refused by
/// its first bytes, before the rest is read.
pub(crate) fn read_picture_if(path: &Path, extent: Extent, accept: &Accept<'_>) -> Result<Decoded> {
    decode_picture(&read_picture_bytes(path, accept)?, path, extent, accept)
}

/// A picture's bytes, as for [`read_picture_if`].
pub(crate) fn read_picture_bytes(path: &Path, accept: &Accept<'_>) -> Result<Vec<u8>> {
    let (mut file, length) = open(path)?;
    let state = |file: &File| {
        file.metadata()
            .map(|meta| (meta.len(), meta.modified().ok()))
    };
    let before = state(&file).with_context(|| unreadable(path))?;
    let mut bytes = Vec::new();
    let head = (&mut file).take(HEAD).read_to_end(&mut bytes);
    head.with_context(|| unreadable(path))?;
    let place = || path.display().to_string();
    sniff(&bytes).with_context(place)?;
    let limits = Limits::default();
    limits.check_file(length).with_context(place)?;
    // Where the header lies farther on, this is done once the whole file is there.
    if let Ok(header) = probe(&bytes) {
        limits.check(&header, length).with_context(place)?;
        accept(&header).with_context(place)?;
    }
    bytes
        .try_reserve_exact((length as usize).saturating_sub(bytes.len()))
        .with_context(place)?;
    file.read_to_end(&mut bytes)
        .with_context(|| unreadable(path))?;
    if state(&file).with_context(|| unreadable(path))? != before {
        bail!(
            "{}: this file was written to while it was read; try again later",
            path.display()
        );
    }
    Ok(bytes)
}

/// Decodes what [`read_picture_bytes`] gave.
pub(crate) fn decode_picture(
    bytes: &[u8],
    path: &Path,
    extent: Extent,
    accept: &Accept<'_>,
) -> Result<Decoded> {
    decode_extent(bytes, &Limits::default(), extent, accept)
        .with_context(|| path.display().to_string())
}

/// What goes on from a picture to what is made of it.
pub(crate) fn carried(picture: &Decoded, place: bool) -> Carried {
    let carried = picture.carried.clone();
    if place {
        carried
    } else {
        carried.without_place()
    }
}

/// Columns and rows of a picture as its header says, if its first bytes do.
pub(crate) fn size_of(path: &Path) -> Option<(u64, u64)> {
    let mut head = Vec::new();
    File::open(path)
        .ok()?
        .take(HEAD)
        .read_to_end(&mut head)
        .ok()?;
    let header = probe(&head).ok()?;
    Some((header.width, header.height))
}

/// Takes a picture by its header, or says why not.
pub(crate) type Accept<'a> = dyn Fn(&Header) -> lookwright_colour::Result<()> + 'a;

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicBool, Ordering};

    /// What another program is still writing is no picture yet.
    #[test]
    fn a_file_that_changes_meanwhile_is_said() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("frame.png");
        std::fs::write(&path, b"\x89PNG\r\n\x1a\n").unwrap();
        let stop = AtomicBool::new(false);
        let error = std::thread::scope(|scope| {
            scope.spawn(|| {
                let mut file = File::options().append(true).open(&path).unwrap();
                while !stop.load(Ordering::Relaxed) {
                    file.write_all(&[0; 64]).unwrap();
                }
            });
            let error = (0..10_000).find_map(|_| read_picture_bytes(&path, &|_| Ok(())).err());
            stop.store(true, Ordering::Relaxed);
            error
        });
        let said = format!("{:#}", error.unwrap());
        assert!(said.contains("written to while it was read"), "{said}");
    }
}
