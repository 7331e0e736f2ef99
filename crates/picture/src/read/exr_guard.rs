//! What is checked before the decoder believes it: the display window, and sizes in a DWA block.
//!
//! A DWAA or DWAB block begins with eleven little-endian 64-bit counters (OpenEXR,
//! `internal_dwa_compressor.h`); exr 1.74 reserves what they say, and a damaged one would end the
//! program instead of giving an error.

use exr::block::chunk::{Chunk, CompressedBlock};
use exr::meta::header::Header;
use exr::prelude::Compression;
use lookwright_colour::Result;

use super::{broken, unsupported};
use crate::kind::Kind;

/// Accepts a block whose counters are within what its pixels can need.
pub(super) fn check(chunk: &Chunk, header: &Header) -> Result<()> {
    if !matches!(
        header.compression,
        Compression::DWAA(_) | Compression::DWAB(_)
    ) {
        return Ok(());
    }
    let packed = match &chunk.compressed_block {
        CompressedBlock::ScanLine(block) => &block.compressed_pixels_le,
        CompressedBlock::Tile(tile) => &tile.compressed_pixels_le,
        CompressedBlock::DeepScanLine(_) | CompressedBlock::DeepTile(_) => return Ok(()),
    };
    let size = header
        .get_block_data_indices(&chunk.compressed_block)
        .and_then(|tile| header.get_absolute_block_pixel_coordinates(tile))
        .map_err(|why| broken(Kind::Exr, why))?
        .size;
    // A block that would not get smaller is stored as it is, without counters.
    if packed.len() == size.area() * header.channels.bytes_per_pixel {
        return Ok(());
    }
    // The first counter is a version, the last the kind of coding.
    let sizes = packed.as_chunks::<8>().0.iter().take(10).skip(1);
    let most = most_bytes(header);
    if sizes
        .map(|size| u64::from_le_bytes(*size))
        .any(|size| size > most)
    {
        return Err(broken(Kind::Exr, "a block claims to be too big"));
    }
    Ok(())
}

/// Refuses a display window whose right or lower end lies before its left or upper one: the decoder
/// would take it for another, up to thousands of times as large.
pub(super) fn refuse_inverted_window(bytes: &[u8]) -> Result<()> {
    const ENTRY: &[u8] = b"displayWindow\0box2i\0\x10\0\0\0";
    let head = &bytes[..bytes.len().min(1 << 20)];
    let place = head.windows(ENTRY.len()).position(|entry| entry == ENTRY);
    let ends = place.and_then(|place| head[place + ENTRY.len()..].first_chunk::<16>());
    let Some(ends) = ends else {
        return Ok(());
    };
    let (ends, _) = ends.as_chunks::<4>();
    let [left, top, right, bottom] = [0, 1, 2, 3].map(|i| i32::from_le_bytes(ends[i]));
    if right < left || bottom < top {
        return Err(unsupported(
            Kind::Exr,
            "has a display window that ends before it begins",
            "set the display window and save it again",
        ));
    }
    Ok(())
}

/// Twice what the largest block's samples take, padded to the 8 x 8 squares of the transform.
fn most_bytes(header: &Header) -> u64 {
    let block = header.max_block_pixel_size();
    let padded = |block: usize, whole: usize| block.min(whole).next_multiple_of(8) as u64;
    let pixels = padded(block.0, header.layer_size.0) * padded(block.1, header.layer_size.1);
    2 * pixels * header.channels.bytes_per_pixel as u64
}
