//! The XML under CLF and ASC CDL: elements that know their line, numbers in text, escaping.
//!
//! Parsing is `roxmltree`: a well-kept, pure-Rust tree without recursion, without external
//! entities, and with positions for messages. Its memory grows with the number of tags and
//! attributes, so those are counted before it is asked.

use roxmltree::{Document, Node, ParsingOptions};

use super::number::{finite, quoted};
use lookwright_colour::error::{Error, Result};

/// More tags than any table file has reason to hold: about 20 MB of tree.
const TAGS_MAX: usize = 200_000;
/// More attributes than any table file has reason to hold.
const ATTRIBUTES_MAX: usize = 20_000;
/// Each element that declares a namespace copies those of its parents, hence a small number.
const NAMESPACES_MAX: usize = 64;

/// Most characters of the parser's sentence that are told.
const SENTENCE_MAX: usize = 200;

/// Parses `bytes` and hands the root element to `read`.
///
/// Memory: below 3 times `bytes.len()` plus 40 MB besides what `read` makes.
///
/// # Errors
/// One sentence with the line, if this is not well-formed XML, or what `read` finds.
pub(super) fn with_root<T>(
    bytes: &[u8],
    read: impl FnOnce(Element<'_, '_>) -> Result<T>,
) -> Result<T> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text = core::str::from_utf8(bytes).map_err(|error| {
        let line = line_at(bytes, error.valid_up_to());
        Error::new("the file is not UTF-8 text, which XML tables have to be")
            .at(&format!("line {line}"))
    })?;
    for (what, count, max) in [
        ("tags", count_of(bytes, b'<'), TAGS_MAX),
        ("attributes", count_of(bytes, b'='), ATTRIBUTES_MAX),
        ("namespaces", text.matches("xmlns").count(), NAMESPACES_MAX),
    ] {
        if count > max {
            return Err(Error::new(format!(
                "the file has {count} {what}; a table has at most {max}"
            ))
            .at("line 1"));
        }
    }
    let options = ParsingOptions {
        nodes_limit: 2 * TAGS_MAX as u32,
        ..ParsingOptions::default()
    };
    let document = Document::parse_with_options(text, options).map_err(|error| {
        // The parser's sentence ends in "at row:column"; ours begins with the line.
        let sentence = error.to_string();
        let sentence = match sentence.rsplit_once(" at ") {
            Some((start, _)) => start.to_owned(),
            None => sentence,
        };
        // It quotes names of any length from the file.
        let sentence: String = sentence.chars().take(SENTENCE_MAX).collect();
        Error::new(format!("not well-formed XML: {sentence}"))
            .at(&format!("line {}", error.pos().row))
    })?;
    read(Element {
        node: document.root_element(),
        text,
    })
}

fn count_of(bytes: &[u8], wanted: u8) -> usize {
    bytes.iter().filter(|&&byte| byte == wanted).count()
}

/// The line, from 1, that byte `position` stands on.
fn line_at(bytes: &[u8], position: usize) -> usize {
    1 + count_of(&bytes[..position.min(bytes.len())], b'\n')
}

/// An element of a parsed file.
#[derive(Clone, Copy)]
pub(super) struct Element<'a, 'input> {
    node: Node<'a, 'input>,
    text: &'a str,
}

impl<'a, 'input> Element<'a, 'input> {
    /// Name without namespace.
    pub(super) fn name(&self) -> &'a str {
        self.node.tag_name().name()
    }

    /// Namespace, or nothing.
    pub(super) fn namespace(&self) -> Option<&'a str> {
        self.node.tag_name().namespace()
    }

    /// A sentence about this element, with its line and name.
    pub(super) fn error(&self, sentence: impl core::fmt::Display) -> Error {
        self.error_at(self.node.range().start, sentence)
    }

    /// As [`Error::not_one_of`], about a word of this element.
    pub(super) fn not_one_of(&self, what: &str, given: &str, known: &[&str]) -> Error {
        let what = format!("{what} {}", quoted(given));
        self.error(Error::not_one_of(&what, given, known))
    }

    fn error_at(&self, position: usize, sentence: impl core::fmt::Display) -> Error {
        Error::new(format!("{}: {sentence}", self.name())).at(&self.line(position))
    }

    fn line(&self, position: usize) -> String {
        format!("line {}", line_at(self.text.as_bytes(), position))
    }

    /// A remark about this element that is not an error.
    pub(super) fn remark(&self, sentence: &str) -> String {
        format!(
            "{}: {}: {sentence}",
            self.line(self.node.range().start),
            self.name()
        )
    }

    /// The value of an attribute, or nothing.
    pub(super) fn attribute(&self, name: &str) -> Option<&'a str> {
        self.node.attribute(name)
    }

    /// The value of an attribute that has to be there.
    pub(super) fn required(&self, name: &str) -> Result<&'a str> {
        self.attribute(name)
            .ok_or_else(|| self.error(format_args!("the attribute {name} is missing")))
    }

    /// An attribute that is a finite number, or nothing.
    pub(super) fn number_attribute(&self, name: &str) -> Result<Option<f64>> {
        self.attribute(name)
            .map(|word| {
                finite_f64(word.trim())
                    .map_err(|error| self.error(format_args!("{name}: {}", error.message())))
            })
            .transpose()
    }

    /// Child elements in order.
    pub(super) fn children(self) -> impl Iterator<Item = Element<'a, 'input>> {
        let text = self.text;
        self.node
            .children()
            .filter(Node::is_element)
            .map(move |node| Element { node, text })
    }

    /// The only child element of this name, or nothing.
    pub(super) fn child(self, name: &str) -> Result<Option<Element<'a, 'input>>> {
        let mut found = self.children().filter(|child| child.name() == name);
        let first = found.next();
        match found.next() {
            Some(second) => Err(second.error("is given twice")),
            None => Ok(first),
        }
    }

    /// All text in this element, comments left out, on one line.
    pub(super) fn words(&self) -> String {
        let all: Vec<&str> = self.text_pieces().flat_map(str::split_whitespace).collect();
        all.join(" ")
    }

    fn text_pieces(&self) -> impl Iterator<Item = &'a str> {
        self.node
            .children()
            .filter(Node::is_text)
            .filter_map(|node| node.text())
    }

    /// Bytes of text in this element: an upper bound for how many numbers it can hold.
    pub(super) fn text_length(&self) -> usize {
        self.text_pieces().map(str::len).sum()
    }

    /// Every word of the text to `take`, which may refuse it; the refusal gets the word's line.
    pub(super) fn each_word(&self, mut take: impl FnMut(&str) -> Result<()>) -> Result<()> {
        for piece in self.node.children().filter(Node::is_text) {
            let words = piece.text().unwrap_or_default();
            for word in words.split_whitespace() {
                take(word).map_err(|error| {
                    // Both point into the same string, so their distance is the word's place.
                    let inside = word.as_ptr() as usize - words.as_ptr() as usize;
                    self.error_at(piece.range().start + inside, error.message())
                })?;
            }
        }
        Ok(())
    }

    /// Exactly `N` finite numbers.
    pub(super) fn numbers<const N: usize>(&self) -> Result<[f64; N]> {
        let mut values = [0.0; N];
        let mut count = 0;
        self.each_word(|word| {
            if let Some(slot) = values.get_mut(count) {
                *slot = finite_f64(word)?;
            }
            count += 1;
            Ok(())
        })?;
        if count == N {
            Ok(values)
        } else {
            let number = if N == 1 { "number" } else { "numbers" };
            Err(self.error(format_args!("expected {N} {number}, found {count}")))
        }
    }
}

/// A number in double precision whose `f32` is finite too.
fn finite_f64(word: &str) -> Result<f64> {
    finite(word)?;
    word.parse()
        .map_err(|_| Error::new(format!("{} is not a number", quoted(word))))
}

/// `words` as text or attribute value of XML, HTML or SVG: markup escaped, control characters as
/// spaces.
#[must_use]
pub fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in words.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{fffe}' | '\u{ffff}' => out.push(' '),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn malformed_files_are_refused_with_line_and_reason() {
        let refused = |bytes: &[u8]| {
            with_root(bytes, |root| Ok(root.name().to_owned()))
                .unwrap_err()
                .message()
                .to_owned()
        };
        assert!(refused(b"<a>\n<b>\n</a>").starts_with("line 3: not well-formed XML: "));
        assert!(refused(b"<a>\n\xff</a>").starts_with("line 2: the file is not UTF-8"));
        assert!(refused(b"").starts_with("line 1: not well-formed XML: "));
        let many = "<a>".repeat(TAGS_MAX + 1);
        assert_eq!(
            refused(many.as_bytes()),
            "line 1: the file has 200001 tags; a table has at most 200000"
        );
        let entity = b"<!DOCTYPE a [<!ENTITY x \"y\">]>\n<a>&x;</a>";
        assert!(refused(entity).starts_with("line 1: not well-formed XML: "));
    }

    #[test]
    fn deep_nesting_does_not_exhaust_the_stack() {
        let depth = TAGS_MAX / 2 - 1;
        let deep = "<a>".repeat(depth) + &"</a>".repeat(depth);
        // Whether it is taken or refused is the parser's affair; that we get here is ours.
        let name = with_root(deep.as_bytes(), |root| Ok(root.name().to_owned()));
        assert!(name.is_err() || name.is_ok_and(|name| name == "a"));
    }

    #[test]
    fn escaped_text_is_read_back_as_it_was() {
        let words = "a < b & \"c\" > 'd'";
        let file = format!("<a b=\"{0}\">{0}</a>", escaped(words));
        with_root(file.as_bytes(), |root| {
            assert_eq!(root.attribute("b"), Some(words));
            assert_eq!(root.words(), words);
            Ok(())
        })
        .unwrap();
    }
}
