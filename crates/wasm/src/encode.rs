//! Pictures that the page has put together, as files that say which colours they hold.

use lookwright_colour::Error;
use lookwright_picture::{OutFormat, PictureWriter, Rows, WriteOptions};
use lookwright_wasm_first::answer::problem;
use wasm_bindgen::prelude::*;

/// Bytes of a pixel as a canvas gives it.
const RGBA: usize = 4;

/// A picture of `width` pixels a row, RGBA in sRGB code, as the bytes of a file with the profile of
/// sRGB. What is not opaque is written as if it were; `quality` is JPEG's, 1 ... 100.
///
/// # Errors
/// One sentence if there is no such format, or the pixels are not whole rows.
#[wasm_bindgen(unchecked_return_type = "Uint8Array<ArrayBuffer>")]
pub fn encode_picture(
    pixels: &[u8],
    width: u32,
    format: &str,
    quality: u8,
) -> Result<Vec<u8>, JsError> {
    let format = OutFormat::from_id(format, quality).map_err(problem)?;
    let row = RGBA * width as usize;
    if row == 0 || pixels.is_empty() || !pixels.len().is_multiple_of(row) {
        let bytes = pixels.len();
        return Err(problem(Error::new(format!(
            "{bytes} bytes are no whole rows of {width} pixels"
        ))));
    }
    let height = u32::try_from(pixels.len() / row).unwrap_or(u32::MAX);
    let mut writer =
        PictureWriter::new(format, width, height, &WriteOptions::default()).map_err(problem)?;
    let mut line = Vec::with_capacity(3 * width as usize);
    let mut file = Vec::new();
    for pixels in pixels.chunks_exact(row) {
        line.clear();
        let (pixels, _) = pixels.as_chunks::<RGBA>();
        line.extend(pixels.iter().flat_map(|[r, g, b, _]| [*r, *g, *b]));
        writer.push_rows(Rows::U8(&line)).map_err(problem)?;
        file.append(&mut writer.written());
    }
    file.append(&mut writer.finish().map_err(problem)?);
    Ok(file)
}
