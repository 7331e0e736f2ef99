//! Whether a file may be a picture that can be opened, by its first bytes.

use lookwright_picture::{Header, Limits, check_developing, sniff};
use wasm_bindgen::prelude::*;

use crate::answer::problem;

/// As [`crate::Picture::examine`], by any reader of headers.
///
/// # Errors
/// One sentence if the file can't be opened.
pub fn examine(
    head: &[u8],
    file_bytes: f64,
    probe: fn(&[u8]) -> lookwright_colour::Result<Header>,
) -> Result<(), JsError> {
    sniff(head).map_err(problem)?;
    let limits = Limits::default();
    let file_bytes = file_bytes as u64;
    limits.check_file(file_bytes).map_err(problem)?;
    match probe(head) {
        Ok(header) => limits
            .check(&header, file_bytes)
            .and_then(|()| check_developing(&header, &limits))
            .map_err(problem),
        // The header may lie farther on; what is wrong is said when the whole file is there.
        Err(_) => Ok(()),
    }
}
