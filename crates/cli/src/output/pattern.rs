//! Names for several pictures, made from theirs: one small grammar, understood whole or refused.
//!
//! | written | stands for |
//! | --- | --- |
//! | `%` | the picture's name without its ending |
//! | `%d`, `%04d` | the number at the end of that name, here with zeros to four digits |
//! | `####` | the same number, with zeros to as many digits as there are hashes |
//! | `%%`, `%#` | a percent sign, a hash |
//!
//! A letter or digit after `%` that makes none of these is refused, and so is a digit beside a number:
//! `Shot #3` means no pattern, and 0001 beside 2 can't be told from 00012.

use std::ffi::OsString;
use std::path::Path;

use anyhow::{Context, Result, bail};

/// Most digits that are filled up with zeros.
const MOST_DIGITS: usize = 9;

#[derive(Debug, PartialEq)]
enum Part {
    Text(String),
    Name,
    Number { digits: usize },
}

/// A file's name with places for a picture's name or number.
#[derive(Debug, PartialEq)]
pub(crate) struct Pattern(Vec<Part>);

impl Pattern {
    /// What a file's name says, without its folder.
    ///
    /// # Errors
    /// One sentence for what is not in the grammar.
    pub(crate) fn parse(name: &str) -> Result<Self> {
        let mut parts = Vec::new();
        let mut rest = name;
        while let Some(first) = rest.chars().next() {
            let (part, length) = match first {
                '%' => after_percent(name, &rest[1..])?,
                '#' => hashes(name, rest)?,
                _ => text(rest),
            };
            match (parts.last_mut(), part) {
                (Some(Part::Text(before)), Part::Text(more)) => before.push_str(&more),
                (_, part) => parts.push(part),
            }
            rest = &rest[length..];
        }
        let ends_in_digit = |part: &Part| matches!(part, Part::Text(t) if t.ends_with(is_digit));
        let begins_with_digit = |part: &Part| match part {
            Part::Text(t) => t.starts_with(is_digit),
            Part::Number { .. } => true,
            Part::Name => false,
        };
        for pair in parts.windows(2) {
            let number = |part: &Part| matches!(part, Part::Number { .. });
            if (number(&pair[0]) && begins_with_digit(&pair[1]))
                || (ends_in_digit(&pair[0]) && number(&pair[1]))
            {
                bail!(
                    "{name}: a picture's number stands beside a digit, so that nobody could tell \
                     them apart; put a point between them, or write %# for a hash"
                );
            }
        }
        Ok(Self(parts))
    }

    /// The name itself, if it has a place for nothing.
    pub(crate) fn plain(&self) -> Option<&str> {
        match self.0.as_slice() {
            [Part::Text(text)] => Some(text),
            _ => None,
        }
    }

    /// What stands before and after its only place, if that is a number's, and to how many digits it is
    /// filled up.
    pub(crate) fn around_number(&self) -> Option<(String, usize, String)> {
        let text = |parts: &[Part]| match parts {
            [] => Some(String::new()),
            [Part::Text(text)] => Some(text.clone()),
            _ => None,
        };
        let is_number = |part: &Part| matches!(part, Part::Number { .. });
        let place = self.0.iter().position(is_number)?;
        let Part::Number { digits } = self.0[place] else {
            return None;
        };
        Some((text(&self.0[..place])?, digits, text(&self.0[place + 1..])?))
    }

    /// The name for a picture, whose number in its sequence is `number`.
    ///
    /// # Errors
    /// If a number is wanted and the picture has none.
    pub(crate) fn fill(&self, picture: &Path, number: Option<u32>) -> Result<OsString> {
        let mut name = OsString::new();
        for part in &self.0 {
            match part {
                Part::Text(text) => name.push(text),
                Part::Name => name.push(picture.file_stem().unwrap_or_default()),
                Part::Number { digits } => {
                    let number = number.with_context(|| {
                        format!(
                            "{}: there is no number at the end of this name; write % for the name \
                             instead of a number, or number the pictures with --first-frame",
                            picture.display()
                        )
                    })?;
                    name.push(format!("{number:0digits$}"));
                }
            }
        }
        Ok(name)
    }
}

fn is_digit(c: char) -> bool {
    c.is_ascii_digit()
}

/// What stands before the next sign.
fn text(rest: &str) -> (Part, usize) {
    let length = rest.find(['%', '#']).unwrap_or(rest.len());
    (Part::Text(rest[..length].to_owned()), length)
}

/// What a percent sign begins, and its length with it.
fn after_percent(name: &str, rest: &str) -> Result<(Part, usize)> {
    let digits = rest.find(|c| !is_digit(c)).unwrap_or(rest.len());
    match (&rest.as_bytes()[..digits], rest[digits..].chars().next()) {
        ([], Some('%')) => Ok((Part::Text("%".to_owned()), 2)),
        ([], Some('#')) => Ok((Part::Text("#".to_owned()), 2)),
        ([], Some('d')) => Ok((Part::Number { digits: 1 }, 2)),
        ([b'0', width @ b'1'..=b'9'], Some('d')) => {
            let digits = usize::from(width - b'0');
            Ok((Part::Number { digits }, 4))
        }
        ([], next) if !next.is_some_and(char::is_alphanumeric) => Ok((Part::Name, 1)),
        _ => bail!(
            "{name}: \"%{}\" is not understood; % is a picture's name, %04d or #### its number, %% a \
             percent sign",
            rest.chars().take(digits + 1).collect::<String>()
        ),
    }
}

/// A number by its hashes.
fn hashes(name: &str, rest: &str) -> Result<(Part, usize)> {
    let digits = rest.find(|c| c != '#').unwrap_or(rest.len());
    if digits > MOST_DIGITS {
        bail!("{name}: {digits} hashes are more than a number's digits; use up to {MOST_DIGITS}");
    }
    Ok((Part::Number { digits }, digits))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn filled(pattern: &str, picture: &str) -> String {
        let pattern = Pattern::parse(pattern).unwrap();
        let number = lookwright_picture::frame_number(picture);
        let name = pattern.fill(Path::new(picture), number).unwrap();
        name.into_string().unwrap()
    }

    #[test]
    fn every_sign_of_the_grammar() {
        let picture = "in/f.0007.tif";
        for (pattern, name) in [
            ("%.png", "f.0007.png"),
            ("%-print.jpg", "f.0007-print.jpg"),
            ("g.%d.png", "g.7.png"),
            ("g.%03d.png", "g.007.png"),
            ("g.####.png", "g.0007.png"),
            ("#.png", "7.png"),
            ("100%%.png", "100%.png"),
            ("take %#3 ##.png", "take #3 07.png"),
            ("%_##_%.exr", "f.0007_07_f.0007.exr"),
        ] {
            assert_eq!(filled(pattern, picture), name, "{pattern}");
        }
        assert_eq!(filled("%04d.png", "f.12345.tif"), "12345.png");
        assert_eq!(
            Pattern::parse("quay.png").unwrap().plain(),
            Some("quay.png")
        );
        assert_eq!(
            Pattern::parse("100%%.png").unwrap().plain(),
            Some("100%.png")
        );
        assert_eq!(Pattern::parse("%.png").unwrap().plain(), None);
        let around = |pattern| Pattern::parse(pattern).unwrap().around_number();
        let whole = |before: &str, digits, after: &str| Some((before.into(), digits, after.into()));
        assert_eq!(around("f.####.exr"), whole("f.", 4, ".exr"));
        assert_eq!(around("%d.dpx"), whole("", 1, ".dpx"));
        assert_eq!((around("%.####.exr"), around("f.exr")), (None, None));
    }

    #[test]
    fn the_rest_is_refused() {
        for pattern in [
            "%4d.png",
            "%00d.png",
            "%010d.png",
            "%04x.png",
            "%04.png",
            "%s.png",
            "%name.png",
            "%i.png",
            "%3.png",
            "shot #3.png",
            "v2%04d.png",
            "%d##.png",
            "##########.png",
        ] {
            let refusal = Pattern::parse(pattern).unwrap_err().to_string();
            assert!(refusal.starts_with(pattern), "{refusal}");
        }
        let number = Pattern::parse("%04d.png").unwrap();
        let refusal = number.fill(Path::new("in/quay.tif"), None).unwrap_err();
        assert!(refusal.to_string().starts_with("in/quay.tif: "));
    }
}
