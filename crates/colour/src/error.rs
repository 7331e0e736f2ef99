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

impl core::fmt::Display for Error {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(&self.message)
    }
}

impl core::error::Error for Error {}

/// Shorthand for results of this crate.
pub type Result<T> = core::result::Result<T, Error>;
