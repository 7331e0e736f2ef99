//! Pictures of every format.

use lookwright_picture::{Header, Limits, check_developing, decode_if, probe};
use lookwright_wasm_first::answer::problem;
use lookwright_wasm_first::{Picture, examine};
use wasm_bindgen::prelude::*;

/// Decodes a picture's file.
///
/// # Errors
/// One sentence if it is no picture that can be read.
#[wasm_bindgen]
pub fn open_picture(bytes: &[u8], name: &str) -> Result<Picture, JsError> {
    let limits = Limits::default();
    let accept = |header: &Header| check_developing(header, &limits);
    let decoded = decode_if(bytes, &limits, accept).map_err(problem)?;
    Ok(Picture::of(decoded, name))
}

/// As [`Picture::examine`], of every format.
///
/// # Errors
/// One sentence if the file can't be opened.
#[wasm_bindgen]
pub fn examine_picture(head: &[u8], file_bytes: f64) -> Result<(), JsError> {
    examine(head, file_bytes, probe)
}
