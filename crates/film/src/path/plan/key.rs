//! What tells a prepared step from every other.

use core::fmt::{self, Debug, Write};
use core::hash::Hasher;
use std::hash::DefaultHasher;

/// A hash of a prepared step by all its fields, as its derived `Debug` writes them: numbers by the
/// shortest digits that tell them from all others.
pub(super) fn key_of(step: &str, prepared: &dyn Debug) -> u64 {
    let mut hash = Hashed(DefaultHasher::new());
    // Hashing can't fail.
    let _ = write!(hash, "{step}{prepared:?}");
    hash.0.finish()
}

struct Hashed(DefaultHasher);

impl Write for Hashed {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        self.0.write(text.as_bytes());
        Ok(())
    }
}
