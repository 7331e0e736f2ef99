//! Turning a picture upright: the eight orientations of EXIF (CIPA DC-008, tag 0x0112).

use lookwright_colour::Result;

use crate::decoded::Samples;
use crate::limits;

/// Samples turned as `orientation` (1 ... 8) asks, with the new width and height. Other values
/// leave the picture as it is.
pub(crate) fn upright(
    samples: Samples,
    width: u32,
    height: u32,
    orientation: u8,
) -> Result<(Samples, u32, u32)> {
    let size = (width as usize, height as usize);
    let turned = match samples {
        Samples::U8(v) => Samples::U8(turn(v, size, orientation)?),
        Samples::U16(v) => Samples::U16(turn(v, size, orientation)?),
        Samples::F32(v) => Samples::F32(turn(v, size, orientation)?),
    };
    let swapped = (5..=8).contains(&orientation);
    Ok(if swapped {
        (turned, height, width)
    } else {
        (turned, width, height)
    })
}

fn turn<T: Copy + Default>(
    mut samples: Vec<T>,
    (width, height): (usize, usize),
    orientation: u8,
) -> Result<Vec<T>> {
    let (pixels, _) = samples.as_chunks_mut::<3>();
    match orientation {
        2 => pixels.chunks_exact_mut(width).for_each(<[_]>::reverse),
        3 => pixels.reverse(),
        4 => {
            let (top, bottom) = pixels.split_at_mut(height / 2 * width);
            for (a, b) in top
                .chunks_exact_mut(width)
                .zip(bottom.rchunks_exact_mut(width))
            {
                a.swap_with_slice(b);
            }
        }
        5..=8 => return transpose(pixels, (width, height), orientation),
        _ => {}
    }
    Ok(samples)
}

/// A side of the squares that rows and columns are swapped in: small enough for the first cache.
const TILE: usize = 32;

fn transpose<T: Copy + Default>(
    pixels: &[[T; 3]],
    (width, height): (usize, usize),
    orientation: u8,
) -> Result<Vec<T>> {
    let mut turned: Vec<T> = limits::buffer(3 * pixels.len())?;
    let (out, _) = turned.as_chunks_mut::<3>();
    let mirror_x = matches!(orientation, 6 | 7);
    let mirror_y = matches!(orientation, 7 | 8);
    for tile_y in (0..height).step_by(TILE) {
        for tile_x in (0..width).step_by(TILE) {
            for x in tile_x..(tile_x + TILE).min(width) {
                let to_row = if mirror_y { width - 1 - x } else { x } * height;
                for y in tile_y..(tile_y + TILE).min(height) {
                    let to_column = if mirror_x { height - 1 - y } else { y };
                    out[to_row + to_column] = pixels[y * width + x];
                }
            }
        }
    }
    Ok(turned)
}

#[cfg(test)]
mod tests {
    use super::upright;
    use crate::decoded::Samples;

    /// The letter F, 3 wide and 4 high, as each orientation stores it; CIPA DC-008 says where
    /// row 0 and column 0 of the stored picture lie in the upright one.
    #[test]
    fn every_orientation_gives_the_upright_letter() {
        let upright_letter = ["###", "#..", "##.", "#.."];
        let stored: [&[&str]; 8] = [
            &["###", "#..", "##.", "#.."],
            &["###", "..#", ".##", "..#"],
            &["..#", ".##", "..#", "###"],
            &["#..", "##.", "#..", "###"],
            &["####", "#.#.", "#..."],
            &["#...", "#.#.", "####"],
            &["...#", ".#.#", "####"],
            &["####", ".#.#", "...#"],
        ];
        for (index, rows) in stored.iter().enumerate() {
            let codes = |rows: &[&str]| -> Vec<u8> {
                rows.concat().bytes().flat_map(|b| [b, b, b]).collect()
            };
            let (w, h) = (rows[0].len() as u32, rows.len() as u32);
            let (samples, w, h) = upright(Samples::U8(codes(rows)), w, h, index as u8 + 1).unwrap();
            assert_eq!((w, h), (3, 4), "orientation {}", index + 1);
            assert_eq!(
                samples,
                Samples::U8(codes(&upright_letter)),
                "orientation {}",
                index + 1
            );
        }
    }
}
