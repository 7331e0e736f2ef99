//! What a table says about itself, whatever the format.

/// Words that go into a table's header, so that a file found alone still tells what it is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Label {
    /// One line: what this table is.
    pub title: String,
    /// The encoding that goes in, with its range: "LogC3, full range".
    pub input: String,
    /// The encoding that comes out, with its range: "Rec.709, full range".
    pub output: String,
    /// Further lines, in order: look, stock, grid, what the table does not contain.
    pub notes: Vec<String>,
    /// Fingerprint of the look, or empty.
    pub fingerprint: String,
}

/// Longest line of words that is written; the specification of `.cube` asks readers for 250 bytes.
const LINE_BYTES_MAX: usize = 224;

impl Label {
    /// All but the title, a line each, for formats whose words are lines.
    pub(super) fn lines(&self) -> impl Iterator<Item = String> + '_ {
        let named = [
            ("Input", &self.input),
            ("Output", &self.output),
            ("Fingerprint", &self.fingerprint),
        ];
        let named = named
            .into_iter()
            .filter(|(_, words)| !words.is_empty())
            .map(|(name, words)| format!("{name}: {}", one_line(words)));
        named.chain(self.notes.iter().map(|note| one_line(note)))
    }

    /// The title and all lines behind it, each after `mark`.
    pub(super) fn write_lines(&self, text: &mut String, mark: &str) {
        let title = one_line(&self.title);
        let title = (!title.is_empty()).then_some(title);
        for line in title.into_iter().chain(self.lines()) {
            text.push_str(mark);
            text.push_str(&line);
            text.push('\n');
        }
    }
}

/// The words on one line that every reader takes: no line ends, cut at [`LINE_BYTES_MAX`].
pub(super) fn one_line(words: &str) -> String {
    let mut out = String::new();
    for c in words.chars() {
        if out.len() + c.len_utf8() > LINE_BYTES_MAX {
            break;
        }
        out.push(if c.is_control() { ' ' } else { c });
    }
    out
}
