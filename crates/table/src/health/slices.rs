//! Slices through a table, for pictures of it.

use crate::{Grid3, Interpolation};

/// One square slice of the table at a fixed blue input.
#[derive(Clone, Debug, PartialEq)]
pub struct Slice {
    /// The blue input, 0 ... 1 of the domain.
    pub blue: f32,
    /// Points along an edge.
    pub size: usize,
    /// Output at each point, red fastest, green second.
    pub out: Vec<[f32; 3]>,
}

/// `count` slices (at least 2) at equal steps of blue, each of `size` x `size` points (at least 2).
#[must_use]
pub fn slices(grid: &Grid3, count: usize, size: usize) -> Vec<Slice> {
    let (min, max) = (grid.domain_min(), grid.domain_max());
    let step = |i: usize, of: usize| i as f32 / (of.max(2) - 1) as f32;
    let at = |channel: usize, code: f32| min[channel] + (max[channel] - min[channel]) * code;
    (0..count.max(2))
        .map(|k| {
            let blue = step(k, count);
            let mut out = Vec::with_capacity(size * size);
            for j in 0..size.max(2) {
                for i in 0..size.max(2) {
                    let input = [at(0, step(i, size)), at(1, step(j, size)), at(2, blue)];
                    out.push(grid.apply(input, Interpolation::Tetrahedral));
                }
            }
            Slice {
                blue,
                size: size.max(2),
                out,
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slices_of_an_identity_are_the_inputs() {
        let grid = Grid3::sample_codes(5, |rgb| rgb).unwrap();
        let slices = slices(&grid, 3, 4);
        assert_eq!(slices.len(), 3);
        assert_eq!(slices[1].blue, 0.5);
        assert_eq!(slices[2].out[4 * 3], [0.0, 1.0, 1.0]);
        assert_eq!(slices[0].out.len(), 16);
    }
}
