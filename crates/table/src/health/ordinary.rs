//! Ordinary colours: those that most of a picture has, where a fault shows first.

use super::judge::{BLACK_VELVET, Judge};
use crate::Grid3;
use lookwright_colour::space::Lab;

/// An ordinary colour (skin, walls, sky, leaves) has no more chroma (CIELAB) than this, before the table and
/// after it; light skin has 20 to 30. Where it is not known what goes in, its codes are no further apart than
/// the second number.
/// Nor more chroma than lightness: skin has 0.4 to 0.5 of it, leaves 0.7.
const ORDINARY_CHROMA: f64 = 30.0;
const ORDINARY_SPREAD: f64 = 0.1;
/// Its lightness (CIELAB) lies between black velvet's and white plaster's (reflectance 80 %: 92, from memory). Beyond are noise in the dark, and lamps and glints that
/// have come to rest near white, whatever their colour.
const ORDINARY_LIGHTNESS: core::ops::RangeInclusive<f64> = BLACK_VELVET..=92.0;

/// For each node whether its colour is an ordinary one. A step or a tetrahedron is ordinary if all
/// its nodes are.
pub(super) fn ordinary_nodes(grid: &Grid3, judge: &Judge) -> Vec<bool> {
    let size = grid.size();
    // In a coarse table neighbours of grey count, or no cell would.
    let most_apart = (ORDINARY_SPREAD * (size - 1) as f64).max(1.0);
    grid.nodes()
        .iter()
        .enumerate()
        .map(|(i, &out)| {
            let node = [i % size, i / size % size, i / (size * size)];
            let spread = node.iter().max().unwrap_or(&0) - node.iter().min().unwrap_or(&0);
            let ordinary = |colour: Lab| {
                colour.chroma() <= ORDINARY_CHROMA.min(colour.l)
                    && ORDINARY_LIGHTNESS.contains(&colour.l)
            };
            let goes_in = match &judge.source {
                Some(source) => ordinary(source.lab(grid.input_of(node))),
                None => spread as f64 <= most_apart,
            };
            goes_in && ordinary(judge.lab(out))
        })
        .collect()
}
