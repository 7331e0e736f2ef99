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
