//! The one error of the core: a sentence that says what, where, and what to do.

/// What went wrong, in one sentence for the person who caused it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Error {
    message: String,
}

impl Error {
    /// An error with its sentence. It begins with the place (a key's path, a line number) where
    /// there is one, names the offending value, and ends with what is allowed or what to do.
    pub fn new(message: impl Into<String>) -> Self {
        Self {
            message: message.into(),
        }
    }

    /// For a word that is not among those known: the sentence begins with `what` it is, names them
    /// all, and the one that was perhaps meant.
    pub fn not_one_of(what: &str, given: &str, known: &[&str]) -> Self {
        let hint = match nearest(given, known) {
            Some(meant) => format!("; did you mean \"{meant}\"?"),
            None => String::new(),
        };
        Self::new(format!("{what} is not one of {}{hint}", known.join(", ")))
    }

    /// The sentence.
    pub fn message(&self) -> &str {
        &self.message
    }

    /// The same sentence with the place before it: `place: sentence`.
    #[must_use]
    pub fn at(self, place: &str) -> Self {
        Self {
            message: format!("{place}: {}", self.message),
        }
    }
}

/// The known word that a wrong one is perhaps a misspelling of: at most three letters, and no more
/// than half of them, have to be changed.
#[must_use]
pub fn nearest<'a>(given: &str, known: &[&'a str]) -> Option<&'a str> {
    let edits = |word: &str| strsim::levenshtein(given, word);
    let meant = known.iter().copied().min_by_key(|word| edits(word))?;
    (edits(meant) <= 3.min(given.chars().count() / 2)).then_some(meant)
}

impl core::fmt::Display for Error {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(&self.message)
    }
}

impl core::error::Error for Error {}

/// Shorthand for results of this crate.
pub type Result<T> = core::result::Result<T, Error>;
