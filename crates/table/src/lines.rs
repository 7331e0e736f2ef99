//! A text file line by line, for formats whose lines mean something by their order.

use std::borrow::Cow;

use super::number::finite;
use lookwright_colour::error::{Error, Result};

/// Bytes of the shortest row, `0 0 0` and its line end.
pub(super) const ROW_BYTES_MIN: usize = 6;

/// The lines of a file that say something, each with its number and without the space around it.
pub(super) struct Lines<'a> {
    rest: &'a [u8],
    /// Number of the line that was given last, from 1.
    number: usize,
    ended: bool,
}

impl<'a> Lines<'a> {
    pub(super) fn new(bytes: &'a [u8]) -> Self {
        Self {
            rest: bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes),
            number: 0,
            ended: false,
        }
    }

    /// The next line that is not blank.
    pub(super) fn next(&mut self) -> Option<Cow<'a, str>> {
        while !self.ended {
            let end = self.rest.iter().position(|&byte| byte == b'\n');
            let (line, rest) = match end {
                Some(end) => (&self.rest[..end], &self.rest[end + 1..]),
                None => (self.rest, &self.rest[..0]),
            };
            let line = line.trim_ascii();
            self.ended = end.is_none();
            self.rest = rest;
            // What ends with a line end has no further line.
            if !(self.ended && line.is_empty()) {
                self.number += 1;
            }
            if !line.is_empty() {
                return Some(String::from_utf8_lossy(line));
            }
        }
        None
    }

    /// The next line that is not blank; `what` is said to be missing where there is none.
    pub(super) fn expect(&mut self, what: &str) -> Result<Cow<'a, str>> {
        match self.next() {
            Some(line) => Ok(line),
            None => Err(self.refuse(format!("the file ends before {what}"))),
        }
    }

    /// A sentence about the line that was given last.
    pub(super) fn refuse(&self, sentence: impl Into<String>) -> Error {
        self.placed(Error::new(sentence))
    }

    /// An error with the line that was given last.
    pub(super) fn placed(&self, error: Error) -> Error {
        error.at(&format!("line {}", self.number.max(1)))
    }

    /// Room for `expected` rows, or for as many as can follow.
    pub(super) fn room<T>(&self, expected: usize) -> Vec<T> {
        Vec::with_capacity(expected.min(self.rest.len() / ROW_BYTES_MIN + 1))
    }
}

/// Exactly `N` numbers in a line.
///
/// # Errors
/// If there are more or fewer, or one is not a finite number.
pub(super) fn numbers<const N: usize>(line: &str, what: &str) -> Result<[f32; N]> {
    let mut values = [0.0; N];
    let mut count = 0;
    for word in line.split_whitespace() {
        if let Some(slot) = values.get_mut(count) {
            *slot = finite(word)?;
        }
        count += 1;
    }
    if count == N {
        Ok(values)
    } else {
        let s = if N == 1 { "" } else { "s" };
        Err(Error::new(format!(
            "{what} has {N} number{s}, found {count}"
        )))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blank_lines_count_and_are_not_given() {
        let mut lines = Lines::new(b"\xef\xbb\xbfa\r\n\n  b c \n");
        assert_eq!(lines.next().as_deref(), Some("a"));
        assert_eq!(lines.next().as_deref(), Some("b c"));
        assert_eq!(lines.refuse("x").message(), "line 3: x");
        let end = lines.expect("rows").unwrap_err();
        assert_eq!(end.message(), "line 3: the file ends before rows");
        assert!(Lines::new(b"").next().is_none());
    }

    #[test]
    fn numbers_are_counted() {
        assert_eq!(numbers::<2>("1 -2e1", "From").unwrap(), [1.0, -20.0]);
        assert_eq!(
            numbers::<3>("1 2 3 4", "a row").unwrap_err().message(),
            "a row has 3 numbers, found 4"
        );
    }
}
