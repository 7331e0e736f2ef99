//! Tables that are baked, and how far they are off their looks.

use lookwright_colour::encoding::EncodingId;
use lookwright_film::look::Look;
use lookwright_handover::Baked;

use crate::common::recipe;

/// A whole table of full range, for the default screen.
pub fn baked(look: &Look, encoding: EncodingId, grid: usize) -> Baked {
    Baked::new(recipe(look, encoding, grid)).unwrap()
}

/// Places of a table's lattice, as what goes in there.
pub fn inputs_at(table: &Baked, places: &[[f32; 3]]) -> Vec<[f32; 3]> {
    let input = |place: &[f32; 3]| match table.mapping().shaper() {
        Some(shaper) => place.map(|code| shaper.decode(code)),
        None => *place,
    };
    places.iter().map(input).collect()
}

/// Mean, 99 of 100, and largest difference to the exact path in codes of 10 bits.
pub fn codes(table: &Baked, inputs: &[[f32; 3]]) -> [f64; 3] {
    let mut off: Vec<f64> = inputs
        .iter()
        .map(|&input| {
            let (got, wanted) = (table.apply(input), table.mapping().exact(input));
            let apart = (0..3).map(|c| f64::from((got[c] - wanted[c]).abs()) * 1023.0);
            apart.fold(0.0, f64::max)
        })
        .collect();
    off.sort_by(f64::total_cmp);
    let mean = off.iter().sum::<f64>() / off.len() as f64;
    [mean, off[off.len() * 99 / 100], off[off.len() - 1]]
}
