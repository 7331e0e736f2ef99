//! Numbers in table files: how they are read, refused and written.

use core::fmt::Write;

use lookwright_colour::error::{Error, Result};

/// A finite decimal number, with or without an exponent. The decimal sign is a point whatever the
/// machine's language; `nan` and `inf` are no numbers here.
///
/// # Errors
/// A sentence that quotes the word.
pub(super) fn finite(word: &str) -> Result<f32> {
    match word.parse::<f32>() {
        Ok(value) if value.is_finite() => Ok(value),
        Ok(_) => Err(Error::new(format!(
            "{} is not a finite number",
            quoted(word)
        ))),
        Err(_) => Err(Error::new(format!("{} is not a number", quoted(word)))),
    }
}

/// A word from a file in quotes, cut short if it is long, so that a message stays one line.
pub(super) fn quoted(word: &str) -> String {
    const SHOWN: usize = 40;
    let mut shown: String = word
        .chars()
        .take(SHOWN)
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .collect();
    if word.chars().nth(SHOWN).is_some() {
        shown.push_str("...");
    }
    format!("\"{shown}\"")
}

/// The sentence for a size out of range.
pub(super) fn size_refused(kind: &str, size: usize, min: usize, max: usize) -> Error {
    Error::new(format!(
        "a {kind} table of size {size} is not supported: sizes run from {min} to {max}"
    ))
}

/// Rows of three numbers with seven decimals, so that each comes back to within 5e-8.
pub(super) fn write_rows(text: &mut String, rows: &[[f32; 3]]) {
    for row in rows {
        // What would print as -0.0000000 loses its sign.
        let [r, g, b] = row.map(|v| if v.abs() < 5e-8 { 0.0 } else { v });
        // Writing to a string cannot fail.
        let _ = writeln!(text, "{r:.7} {g:.7} {b:.7}");
    }
}
