//! What a table says of itself: the encoding that goes in, and the screen that it is for.

use lookwright_colour::encoding::{EncodingId, Range, ScreenId};

/// What the words of a table's header mean.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Said {
    /// The encoding that goes in, and how its codes fill the scale.
    pub source: Option<(EncodingId, Range)>,
    /// The screen, and how its codes fill the scale.
    pub output: Option<(ScreenId, Range)>,
}

impl Said {
    /// Of the words for what goes in and what comes out: an encoding's or screen's name for people or in
    /// files, and after a comma its range, as this project writes them. Other words say nothing.
    #[must_use]
    pub fn of([input, output]: [&str; 2]) -> Self {
        Self {
            source: one_of(input, &EncodingId::ALL, |it| [it.id(), it.info().label]),
            output: one_of(output, &ScreenId::ALL, |it| [it.id(), it.info().label]),
        }
    }
}

fn one_of<T: Copy>(
    words: &str,
    all: &[T],
    names: fn(T) -> [&'static str; 2],
) -> Option<(T, Range)> {
    let ranges = [Range::Full, Range::Legal, Range::Expanded];
    let ranged = words
        .strip_suffix(" range")
        .and_then(|it| it.rsplit_once(", "));
    let (name, range) = match ranged {
        Some((name, range)) => (name, ranges.into_iter().find(|it| it.id() == range)?),
        None => (words, Range::Full),
    };
    let named = |it: &T| {
        names(*it)
            .iter()
            .any(|known| known.eq_ignore_ascii_case(name.trim()))
    };
    Some((all.iter().copied().find(named)?, range))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_and_ranges_are_understood() {
        let logc3 = EncodingId::LogC3.info().label;
        let said = Said::of([
            &format!("{logc3}, legal range"),
            "Rec.709, gamma 2.4, full range",
        ]);
        assert_eq!(said.source, Some((EncodingId::LogC3, Range::Legal)));
        assert_eq!(said.output, Some((ScreenId::Rec709, Range::Full)));
        assert_eq!(
            Said::of(["VLOG", ""]).source,
            Some((EncodingId::VLog, Range::Full))
        );
    }

    #[test]
    fn other_words_say_nothing() {
        assert_eq!(
            Said::of(["the camera", "a monitor, wide range"]),
            Said::default()
        );
        assert_eq!(Said::of(["", ""]), Said::default());
    }
}
