//! The identity lattice as a picture: what any picture tool can carry a table in.
//!
//! Level L gives a square of L^3 pixels a side that holds a lattice of `N = L^2` nodes an edge in
//! scan-line order, red fastest: pixel i = y L^3 + x is node (i mod N, i / N mod N, i / N^2), its
//! value index / (N - 1). Source: the Hald layout (E. Steenberg), as GraphicsMagick and ImageMagick
//! document it. Pixels are 16-bit: 8 bits would round the lattice to 1/255.

use super::Grid3;
use lookwright_colour::error::{Error, Result};

/// Smallest level that makes a table of at least 2 nodes an edge.
pub const LEVEL_MIN: usize = 2;
/// Largest level whose lattice is not above 129 nodes an edge.
pub const LEVEL_MAX: usize = 11;

/// Pixels along an edge of the picture of `level`.
///
/// # Errors
/// If `level` is not 2 ... 11.
pub fn side(level: usize) -> Result<usize> {
    if (LEVEL_MIN..=LEVEL_MAX).contains(&level) {
        Ok(level * level * level)
    } else {
        Err(Error::new(format!(
            "level {level} is not supported: levels run from {LEVEL_MIN} to {LEVEL_MAX}"
        )))
    }
}

/// The picture of the identity: interleaved RGB, 16 bits a channel, in scan-line order.
///
/// # Errors
/// If `level` is not 2 ... 11.
pub fn identity(level: usize) -> Result<Vec<u16>> {
    let grid = Grid3::sample_codes(nodes_of(level)?, |rgb| rgb)?;
    to_pixels(&grid)
}

/// The picture of a table whose size is the square of a level (4, 9, 16 ... 121) and whose domain
/// is 0 ... 1: interleaved RGB, 16 bits a channel. Values outside 0 ... 1 are held at the ends.
///
/// # Errors
/// If the table's size or domain does not fit.
pub fn to_pixels(grid: &Grid3) -> Result<Vec<u16>> {
    let size = grid.size();
    if !(LEVEL_MIN..=LEVEL_MAX).any(|level| level * level == size) {
        return Err(Error::new(format!(
            "a table of size {size} does not fill a lattice picture; its size has to be the square \
             of a level from {LEVEL_MIN} to {LEVEL_MAX}"
        )));
    }
    if grid.domain_min() != [0.0; 3] || grid.domain_max() != [1.0; 3] {
        return Err(Error::new(
            "a lattice picture has the domain 0 to 1, this table has another",
        ));
    }
    let code = |value: f32| (value.clamp(0.0, 1.0) * 65_535.0 + 0.5) as u16;
    Ok(grid.nodes().iter().flatten().map(|&v| code(v)).collect())
}

/// The table in a lattice picture of `width` x `height` pixels of interleaved 16-bit RGB.
///
/// # Errors
/// If the picture is no lattice: not square, no level's side, or of another length.
pub fn from_pixels(width: usize, height: usize, pixels: &[u16]) -> Result<Grid3> {
    let level = (LEVEL_MIN..=LEVEL_MAX).find(|level| level * level * level == width);
    let (Some(level), true) = (level, width == height) else {
        return Err(Error::new(format!(
            "a picture of {width} x {height} pixels is not a lattice picture: those are square with \
             L^3 pixels a side, from 8 to 1331"
        )));
    };
    if pixels.len() != width * height * 3 {
        return Err(Error::new(format!(
            "expected {} numbers for {width} x {height} pixels of RGB, found {}",
            width * height * 3,
            pixels.len()
        )));
    }
    let nodes = pixels
        .as_chunks::<3>()
        .0
        .iter()
        .map(|rgb| rgb.map(|v| f32::from(v) / 65_535.0))
        .collect();
    Grid3::from_nodes(nodes_of(level)?, [0.0; 3], [1.0; 3], nodes)
}

fn nodes_of(level: usize) -> Result<usize> {
    side(level)?;
    Ok(level * level)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Interpolation;

    /// GraphicsMagick's and ImageMagick's documents: level 8 is 512 pixels a side and 64 nodes an
    /// edge; pixel (65, 9) is i = 4673, node (1, 9, 1).
    #[test]
    fn level_8_is_laid_out_as_documented() {
        let pixels = identity(8).unwrap();
        assert_eq!(side(8).unwrap(), 512);
        assert_eq!(pixels.len(), 512 * 512 * 3);
        let at = (9 * 512 + 65) * 3;
        let expected = [1.0_f64, 9.0, 1.0].map(|v| (v / 63.0 * 65_535.0).round() as u16);
        assert_eq!(pixels[at..at + 3], expected);
    }

    #[test]
    fn a_table_comes_back_within_half_a_code() {
        let grid = Grid3::sample_codes(16, |[r, g, b]| [r * r, g * b, 1.0 - b]).unwrap();
        let back = from_pixels(64, 64, &to_pixels(&grid).unwrap()).unwrap();
        let input = [0.3, 0.6, 0.9];
        let (a, b) = (
            grid.apply(input, Interpolation::Tetrahedral),
            back.apply(input, Interpolation::Tetrahedral),
        );
        assert!(a.iter().zip(b).all(|(a, b)| (a - b).abs() < 0.6 / 65_535.0));
    }

    #[test]
    fn other_pictures_are_refused() {
        for (width, height) in [(64, 63), (65, 65), (1, 1), (1728, 1728)] {
            let message = from_pixels(width, height, &[]).unwrap_err();
            assert!(message.message().contains("is not a lattice picture"));
        }
        assert!(from_pixels(8, 8, &[0; 5]).is_err());
        assert!(identity(12).is_err());
        let odd = Grid3::sample_codes(17, |rgb| rgb).unwrap();
        assert!(to_pixels(&odd).is_err());
    }
}
