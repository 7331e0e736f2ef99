//! `lookwright pack`: the zip that goes to an editor.

use std::io::{BufWriter, IsTerminal};
use std::path::Path;

use anyhow::{Context, Result, bail};
use indicatif::{ProgressBar, ProgressStyle};
use lookwright_colour::encoding::Range;
use lookwright_film::path::scene_out::SceneCode;
use lookwright_handover::{Pack, Plates, SampleFrame};
use lookwright_picture::suggest;

use crate::args::PackArgs;
use crate::files;
use crate::output::{Unfinished, one_place};
use crate::reading::say_guess;
use crate::workers::AllCores;

pub(crate) fn run(args: &PackArgs) -> Result<()> {
    let looks = args
        .looks
        .iter()
        .map(|path| files::read_look(path))
        .collect::<Result<Vec<_>>>()?;
    let inputs: Vec<&Path> = args.looks.iter().chain(&args.frame).map(|p| &**p).collect();
    let place = one_place(&args.output, &inputs, &args.writing)?;
    let frames = args.frame.iter().map(|path| sample(args, path));
    let pack = Pack {
        looks,
        stocks: args.stock.clone(),
        encodings: args.from.clone(),
        ranges: args.range.clone(),
        screen: args.to,
        out_ranges: args.out_range.clone(),
        splits: args.split.clone(),
        scene: scene(args)?,
        formats: args.format.clone(),
        grid: args.grid,
        date: match &args.date {
            Some(date) => Some(date.clone()),
            None => source_date()?,
        },
        licence: args.licence.clone(),
        frames: frames.collect::<Result<_>>()?,
        plates: args.plates.then_some(Plates {
            width: args.plate_size[0],
            height: args.plate_size[1],
            frames: args.plate_frames,
        }),
    };
    let shown = || place.display().to_string();
    let tables = pack.count_tables().with_context(shown)?;
    let mut file = Unfinished::new(&place)?;
    let progress = if std::io::stderr().is_terminal() {
        let style = ProgressStyle::with_template("{pos}/{len} {wide_bar} {eta}")?;
        ProgressBar::new(0).with_style(style)
    } else {
        ProgressBar::hidden()
    };
    let out = BufWriter::new(file.file());
    let written = pack
        .write_with(&AllCores::ANY, out, |step| {
            progress.set_length(step.total as u64);
            progress.set_position(step.done as u64);
            true
        })
        .with_context(shown)?;
    written
        .into_inner()
        .map_err(std::io::IntoInnerError::into_error)
        .with_context(|| format!("{}: can't be written", shown()))?;
    progress.finish_and_clear();
    file.finish()?;
    files::say(&format!(
        "{}: {tables} tables; README.html says how to use them",
        shown()
    ));
    Ok(())
}

/// Every kind of scene code that is asked for.
fn scene(args: &PackArgs) -> Result<Vec<SceneCode>> {
    let undone = |encoding| args.undo.iter().map(move |undo| (encoding, *undo));
    let codes = args.scene.iter().copied().flat_map(undone);
    codes
        .map(|(encoding, undo)| SceneCode::new(encoding, undo).context("--scene"))
        .collect()
}

/// A picture of the contact sheet.
fn sample(args: &PackArgs, path: &Path) -> Result<SampleFrame> {
    let picture = files::read_picture(path)?;
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let mut frame = lookwright_film::look::Frame::default();
    frame.source.encoding = match args.frame_from {
        Some(encoding) => encoding,
        None => {
            let suggestion = suggest(&picture, &name);
            say_guess(&name, &suggestion, "--frame-from");
            suggestion.encoding
        }
    };
    if picture.legal_range {
        frame.source.range = Range::Legal;
    }
    let name = path.file_stem().unwrap_or_default().to_string_lossy();
    Ok(SampleFrame {
        name: name.into_owned(),
        picture,
        frame,
    })
}

/// The day of the environment's SOURCE_DATE_EPOCH, seconds since 1970, as reproducible builds
/// state it.
fn source_date() -> Result<Option<String>> {
    let Ok(text) = std::env::var("SOURCE_DATE_EPOCH") else {
        return Ok(None);
    };
    match text.parse::<u32>() {
        Ok(seconds) => Ok(Some(day(seconds))),
        Err(_) => bail!("SOURCE_DATE_EPOCH is \"{text}\"; it has to be whole seconds since 1970"),
    }
}

/// The day of the Gregorian calendar, in UTC.
fn day(seconds: u32) -> String {
    let mut days = seconds / 86_400;
    let mut year = 1970;
    loop {
        let length = if is_leap(year) { 366 } else { 365 };
        if days < length {
            break;
        }
        days -= length;
        year += 1;
    }
    let february = if is_leap(year) { 29 } else { 28 };
    let mut month = 1;
    for length in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] {
        if days < length {
            break;
        }
        days -= length;
        month += 1;
    }
    format!("{year:04}-{month:02}-{:02}", days + 1)
}

fn is_leap(year: u32) -> bool {
    (year.is_multiple_of(4) && !year.is_multiple_of(100)) || year.is_multiple_of(400)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// As `date -u -d @SECONDS +%F` says (GNU coreutils).
    #[test]
    fn seconds_become_the_day_that_the_calendar_says() {
        for (seconds, date) in [
            (0, "1970-01-01"),
            (951_782_400, "2000-02-29"),
            (1_709_164_799, "2024-02-28"),
            (1_735_689_599, "2024-12-31"),
            (4_107_542_400, "2100-03-01"),
        ] {
            assert_eq!(day(seconds), date);
        }
    }
}
