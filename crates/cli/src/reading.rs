//! What pictures are read as: one encoding and range for a run, chosen once, and said.
//!
//! Shots of one sequence are not all alike: a fade to black or a burnt-out frame looks like another
//! encoding. So where the files have to be guessed from, all of them are looked at before anything
//! is written, and they must agree.

use std::path::{Path, PathBuf};

use anyhow::{Result, bail};
use indicatif::ProgressBar;
use lookwright_colour::encoding::{EncodingId, Range};
use lookwright_picture::{Decoded, Extent, Suggestion, suggest};

use crate::args::FrameArgs;
use crate::files::{Accept, read_picture_if, say};

/// An encoding, and how the codes fill its scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Reading {
    pub(crate) encoding: EncodingId,
    pub(crate) range: Range,
}

impl Reading {
    /// Of codes that were typed with their encoding.
    pub(crate) fn of_codes(args: &FrameArgs) -> Self {
        Self {
            encoding: args.from.unwrap_or(EncodingId::Srgb),
            range: args.range.unwrap_or_default(),
        }
    }

    /// Of a command's only picture.
    pub(crate) fn of_one(args: &FrameArgs, picture: &Decoded, name: &str) -> Result<Self> {
        let encoding = match args.from {
            Some(encoding) => encoding,
            None => {
                let suggestion = suggest(picture, name);
                say_guess(name, &suggestion, "--from");
                suggestion.encoding
            }
        };
        Ok(Self {
            encoding,
            range: args.range.unwrap_or_else(|| declared(picture.legal_range)),
        })
    }
}

/// The range that a file declares.
fn declared(legal: bool) -> Range {
    if legal { Range::Legal } else { Range::Full }
}

/// Says how a picture is read, and the option that says otherwise.
pub(crate) fn say_guess(name: &str, suggestion: &Suggestion, option: &str) {
    say(&format!(
        "{name}: read as {} (choose with {option})",
        suggestion.reason
    ));
}

/// How the pictures of a run are read: alike.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Readings {
    encoding: EncodingId,
    /// `None`: each file's own, as it declares it.
    range: Option<Range>,
}

impl Readings {
    /// Chooses the run's encoding and says it. A picture by itself, which had to be looked at for that,
    /// is given back.
    ///
    /// # Errors
    /// If files can't be read, or would be read differently.
    pub(crate) fn of(
        args: &FrameArgs,
        inputs: &[PathBuf],
        (alone, extent): (bool, Extent),
        accept: &Accept<'_>,
        progress: &ProgressBar,
    ) -> Result<(Self, Option<Decoded>)> {
        if let Some(encoding) = args.from {
            let range = args.range;
            return Ok((Self { encoding, range }, None));
        }
        if let ([input], true) = (inputs, alone) {
            let picture = read_picture_if(input, extent, accept)?;
            let reading = Reading::of_one(args, &picture, &name_of(input))?;
            let this = Self {
                encoding: reading.encoding,
                range: Some(reading.range),
            };
            return Ok((this, Some(picture)));
        }
        let mut guesses = Vec::new();
        for input in inputs {
            progress.set_message(format!("{} is looked at", input.display()));
            let name = name_of(input);
            let mut guess = suggest(&read_picture_if(input, Extent::Shown, accept)?, &name);
            if let Some(range) = args.range {
                guess.legal_range = range == Range::Legal;
            }
            guesses.push((name, guess));
        }
        let guess = agreed(&guesses)?;
        let this = Self {
            encoding: guess.encoding,
            range: Some(args.range.unwrap_or_else(|| declared(guess.legal_range))),
        };
        Ok((this, None))
    }

    /// For frames that are read as the first of them.
    pub(crate) fn as_first(args: &FrameArgs, first: Reading) -> Self {
        // The range that a guess saw holds for all; one that nobody chose is each file's own.
        let guessed = args.from.is_none().then_some(first.range);
        Self {
            encoding: first.encoding,
            range: args.range.or(guessed),
        }
    }

    /// How a picture is read.
    pub(crate) fn of_picture(&self, picture: &Decoded) -> Reading {
        Reading {
            encoding: self.encoding,
            range: self.range.unwrap_or_else(|| declared(picture.legal_range)),
        }
    }

    /// What was chosen for all; the range, where it is each file's own, as the usual one.
    pub(crate) fn chosen(&self) -> Reading {
        Reading {
            encoding: self.encoding,
            range: self.range.unwrap_or_default(),
        }
    }
}

/// A file's name without its folder, as suggestions look at it.
fn name_of(path: &Path) -> String {
    path.file_name()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned()
}

/// The guess that all pictures share. It is said; where there are several, they are listed.
fn agreed(guesses: &[(String, Suggestion)]) -> Result<&Suggestion> {
    let (Some((first, guess)), Some((last, _))) = (guesses.first(), guesses.last()) else {
        bail!("no picture is given");
    };
    let same =
        |a: &Suggestion, b: &Suggestion| (a.encoding, a.legal_range) == (b.encoding, b.legal_range);
    if guesses.iter().all(|(_, other)| same(guess, other)) {
        say_guess(
            &format!("{} pictures, {first} to {last}", guesses.len()),
            guess,
            "--from",
        );
        return Ok(guess);
    }
    let runs = guesses.chunk_by(|(_, a), (_, b)| same(a, b)).map(|run| {
        let (names, guess) = (run.iter().map(|(name, _)| name.as_str()), &run[0].1);
        let range = if guess.legal_range {
            " in legal range"
        } else {
            ""
        };
        format!("{} as {}{range}", span(names), guess.encoding.id())
    });
    bail!(
        "these pictures would be read differently: {}; choose one encoding for all with --from (and \
         a range with --range), or render them one kind at a time",
        runs.collect::<Vec<_>>().join(", ")
    )
}

/// Names that follow one another.
fn span<'a>(mut names: impl ExactSizeIterator<Item = &'a str>) -> String {
    let count = names.len();
    let first = names.next().unwrap_or_default();
    match (count, names.last()) {
        (2, Some(last)) => format!("{first} and {last}"),
        (_, Some(last)) => format!("{first} to {last}"),
        (_, None) => first.to_owned(),
    }
}
