//! Small pictures as PNG of 16 bits, always the same bytes.

use lookwright_colour::Result;
use lookwright_picture::{OutColour, OutFormat, PictureWriter, Rows, WriteOptions};

/// Interleaved 16-bit codes as a PNG file.
pub(crate) fn png16(
    width: usize,
    codes: &[u16],
    colour: OutColour,
    legal_range: bool,
    description: &str,
) -> Result<Vec<u8>> {
    let options = WriteOptions {
        colour,
        legal_range,
        description: Some(description.to_owned()),
        ..WriteOptions::default()
    };
    let height = codes.len() / (3 * width.max(1));
    let mut writer = PictureWriter::new(OutFormat::Png16, width as u32, height as u32, &options)?;
    writer.push_rows(Rows::U16(codes))?;
    writer.finish()
}
