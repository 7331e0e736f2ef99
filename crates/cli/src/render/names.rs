//! The names that rendered pictures get.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use lookwright_picture::OutFormat;

use crate::args::RenderArgs;
use crate::output::{Folder, Pattern};
use crate::sequence::{Picture, Pictures};

/// The names of a run's pictures.
pub(super) struct Names {
    /// One for each picture.
    pub(super) paths: Vec<PathBuf>,
    /// Whether the folder that they go into has to be there.
    pub(super) folder: Folder,
    /// The folder that they go into.
    pub(super) inside: PathBuf,
}

/// The name that each picture gets, by the folder, pattern or name that was typed.
///
/// # Errors
/// One sentence for a pattern that is not understood, or one name for several pictures.
pub(super) fn names(args: &RenderArgs, pictures: &Pictures) -> Result<Names> {
    let output = &args.output;
    let typed = output.to_string_lossy();
    if output.is_dir() || typed.ends_with(std::path::is_separator) {
        literal(output)?;
        let name = |picture: &Picture| {
            let mut name = picture.path.file_stem().unwrap_or_default().to_owned();
            name.push(format!(".{}", args.format));
            output.join(name)
        };
        return Ok(Names {
            paths: pictures.all.iter().map(name).collect(),
            folder: Folder::Made,
            inside: output.clone(),
        });
    }
    let inside = match output.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
        _ => PathBuf::from("."),
    };
    literal(&inside)?;
    let in_one = |path: PathBuf| -> Result<Names> {
        if pictures.all.len() > 1 {
            bail!(
                "{}: several pictures go into a folder (end its name with /) or to a pattern such as \
                 out/%.png",
                output.display()
            );
        }
        Ok(Names {
            paths: vec![path],
            folder: Folder::Needed,
            inside: inside.clone(),
        })
    };
    // A name that is no text holds no pattern that could be read.
    let Some(name) = output.file_name().and_then(|name| name.to_str()) else {
        return in_one(output.clone());
    };
    let pattern = Pattern::parse(name)?;
    if let Some(plain) = pattern.plain() {
        return in_one(output.with_file_name(plain));
    }
    let named = |picture: &Picture| -> Result<PathBuf> {
        Ok(output.with_file_name(pattern.fill(&picture.path, picture.number)?))
    };
    Ok(Names {
        paths: pictures.all.iter().map(named).collect::<Result<_>>()?,
        folder: Folder::Needed,
        inside,
    })
}

/// Signs of a pattern have no meaning in the name of a folder.
fn literal(folder: &Path) -> Result<()> {
    let name = folder.to_string_lossy();
    if name.contains(['%', '#']) && !folder.is_dir() {
        bail!("{name}: % and # stand for pictures only in a file's name; make such a folder first");
    }
    Ok(())
}

/// The file type by the name's ending and the depth.
///
/// # Errors
/// If there is none.
pub(crate) fn format_of(output: &Path, args: &RenderArgs) -> Result<OutFormat> {
    let ending = output.extension().unwrap_or_default().to_string_lossy();
    OutFormat::from_ending(&ending, args.depth, args.quality)
        .with_context(|| output.display().to_string())
}
