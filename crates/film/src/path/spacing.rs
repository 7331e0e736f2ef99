//! Where the nodes of a table belong that stands in for what follows the negative.
//!
//! The straight finish undoes the toe of each layer, so it is steep and bends where there is little
//! density, and on the layers as they were before dyes and couplers mixed them. On these axes, with
//! the toe undone, it is nearly a straight line in log light: few nodes, evenly spaced, follow it.

use super::scan::{LayerCodes, ScanPoint, Straight};
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// Density to places on axes on which what follows bends little, and back.
#[derive(Clone, Debug, PartialEq)]
pub struct Spacing {
    layers: LayerCodes,
    straight: Option<Straight>,
}

impl Spacing {
    /// For a scan.
    pub(super) fn new(scan: &ScanPoint) -> Self {
        Self {
            layers: scan.layer_codes(),
            straight: scan.straight(),
        }
    }

    /// Density to places.
    #[inline(always)]
    pub fn place<L: Lane>(&self, density: Rgb<L>) -> Rgb<L> {
        let code = self.layers.apply(density);
        match &self.straight {
            Some(straight) => straight.places(code),
            None => code,
        }
    }

    /// The codes of places on each axis.
    pub fn codes(&self, places: [f32; 3]) -> [f32; 3] {
        let Some(straight) = &self.straight else {
            return places;
        };
        // Places rise with codes; found by halving.
        let (mut low, mut high) = ([-8.0_f32; 3], [8.0_f32; 3]);
        for _ in 0..32 {
            let middle = [0, 1, 2].map(|i| f32::midpoint(low[i], high[i]));
            let found = straight.places(Rgb::from_array(middle)).to_array();
            for i in 0..3 {
                if found[i] < places[i] {
                    low[i] = middle[i];
                } else {
                    high[i] = middle[i];
                }
            }
        }
        low
    }

    /// Density of a code on each axis.
    pub fn density(&self, code: [f32; 3]) -> [f32; 3] {
        let (back, offset) = self.layers.back();
        let from = [0, 1, 2].map(|i| f64::from(code[i]) - f64::from(offset[i]));
        back.apply(from).map(|d| d as f32)
    }
}
