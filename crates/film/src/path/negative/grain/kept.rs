//! A grain field that is made once: for looking again and again.
//!
//! A frame at rest gets the very grain that [`super::add_grain`] would add, whatever the development
//! and the grain's strength are while they change. A clip that plays takes the field of its frame 0
//! for all frames: each takes it from another place, drawn from a hash of the frame's
//! number, around its edges. So grain has the right size, strength and colour, moves from frame to
//! frame and is the same when a frame comes back; what it is not is drawn anew for every frame, and
//! where the field's edges meet, two pixels beside each other know nothing of each other. Neither
//! can be told from the exact field while frames change. Resting and saved pictures never take it.

use core::ops::Range;

use super::{GrainParams, LayerLaw, each_run, laws};
use crate::path::negative::gauge::FilmScale;
use crate::spatial::Planes;
use lookwright_colour::hash;
use lookwright_colour::lane::widest;

/// Grain for frames of one size.
#[derive(Clone, Debug)]
pub struct KeptGrain {
    params: GrainParams,
    scale: FilmScale,
    laws: [LayerLaw; 3],
    /// Of unit granularity.
    field: Box<Fields>,
}

/// The fields of small and of large clouds.
#[derive(Clone, Debug, PartialEq)]
struct Fields {
    small: Planes,
    large: Planes,
}

impl KeptGrain {
    /// For frames of `width` by `height` pixels; `before` is taken over as far as it suits.
    #[must_use]
    pub fn new(
        width: usize,
        height: usize,
        scale: &FilmScale,
        params: &GrainParams,
        before: Option<Self>,
    ) -> Self {
        // The field depends neither on its strength nor on the stock's density.
        let drawn = |of: &GrainParams| (of.correlation_um, of.colour, of.seed, of.frame);
        let suits = |kept: &Self| {
            (kept.field.small.width, kept.field.small.height) == (width, height)
                && kept.scale == *scale
                && drawn(&kept.params) == drawn(params)
        };
        let field = match before.filter(suits) {
            Some(kept) => kept.field,
            None => Box::new(Fields::new(width, height, scale, params)),
        };
        Self {
            params: *params,
            scale: *scale,
            laws: laws(scale, params),
            field,
        }
    }

    /// Adds the grain of the frame that the field was drawn for to a whole picture of density above
    /// base, in place: as [`super::add_grain`], bit by bit.
    pub fn add_still(&self, density: &mut Planes) {
        let rows = 0..self.field.small.height;
        self.add_from(
            rows,
            density.planes.each_mut().map(Vec::as_mut_slice),
            (0, 0),
        );
    }

    /// Adds the grain of frame `number` of a clip to rows `rows` of density above base, in place.
    pub fn add(&self, rows: Range<usize>, density: [&mut [f32]; 3], number: u32) {
        let (width, height) = (self.field.small.width, self.field.small.height);
        let place = place(number, self.params.seed, width, height);
        self.add_from(rows, density, place);
    }

    fn add_from(
        &self,
        rows: Range<usize>,
        density: [&mut [f32]; 3],
        (across, down): (usize, usize),
    ) {
        let (width, height) = (self.field.small.width, self.field.small.height);
        for (layer, density) in density.into_iter().enumerate() {
            let law = self.laws[layer];
            for (y, row) in rows.clone().zip(density.chunks_exact_mut(width)) {
                let at = (y + down) % height;
                let small = self.field.small.row(layer, at);
                let large = self.field.large.row(layer, at);
                let (left, right) = row.split_at_mut(width - across);
                widest(
                    #[inline(always)]
                    || {
                        law.grain_run(left, &small[across..], &large[across..]);
                        law.grain_run(right, &small[..across], &large[..across]);
                    },
                );
            }
        }
    }
}

impl Fields {
    fn new(width: usize, height: usize, scale: &FilmScale, params: &GrainParams) -> Self {
        let mut small = Planes::filled(width, height, 0.0);
        let mut large = small.clone();
        each_run(width, height, scale, params, |x, y, run, large_run| {
            for layer in 0..3 {
                let span = x..x + run[layer].len();
                small.row_mut(layer, y)[span.clone()].copy_from_slice(run[layer]);
                large.row_mut(layer, y)[span].copy_from_slice(&large_run[layer]);
            }
        });
        Self { small, large }
    }
}

/// Where in the field frame `number` begins: column and row.
fn place(number: u32, seed: u32, width: usize, height: usize) -> (usize, usize) {
    let h = hash::pair(number, seed, 0x27d4_eb2f);
    ((h & 0xffff) as usize % width, (h >> 16) as usize % height)
}

#[cfg(test)]
mod tests {
    use super::*;

    const PARAMS: GrainParams = GrainParams {
        rms_x1000: [5.0, 4.5, 8.0],
        correlation_um: [8.0, 7.0, 9.0],
        colour: 0.7,
        density_max: 2.0,
        seed: 5,
        frame: 0,
    };
    const SIZE: (usize, usize) = (160, 90);

    fn scale() -> FilmScale {
        FilmScale {
            um_per_pixel: 12.0,
            first_pixel: (0, 0),
        }
    }

    fn grained(number: u32) -> Vec<f32> {
        let grain = KeptGrain::new(SIZE.0, SIZE.1, &scale(), &PARAMS, None);
        let mut density = Planes::filled(SIZE.0, SIZE.1, 1.0);
        let planes = density.planes.each_mut().map(Vec::as_mut_slice);
        grain.add(0..SIZE.1, planes, number);
        density.planes[1].clone()
    }

    /// Correlation of what was added to an even density of 1.
    fn alike(a: &[f32], b: &[f32]) -> f64 {
        let sum = |x: &[f32], y: &[f32]| -> f64 {
            let pairs = x.iter().zip(y);
            pairs
                .map(|(x, y)| f64::from(x - 1.0) * f64::from(y - 1.0))
                .sum()
        };
        sum(a, b) / (sum(a, a) * sum(b, b)).sqrt()
    }

    #[test]
    fn frames_differ_and_come_back() {
        let first = grained(7);
        assert_eq!(first, grained(7));
        for other in [6, 8, 9, 1007] {
            assert!(alike(&first, &grained(other)).abs() < 0.05, "{other}");
        }
    }

    #[test]
    fn grain_is_as_strong_as_that_of_the_still() {
        let deviation = |values: &[f32]| {
            let squares: f64 = values.iter().map(|v| f64::from(v - 1.0).powi(2)).sum();
            (squares / values.len() as f64).sqrt()
        };
        let mut still = Planes::filled(SIZE.0, SIZE.1, 1.0);
        super::super::add_grain(&mut still, &scale(), &PARAMS);
        let ratio = deviation(&grained(3)) / deviation(&still.planes[1]);
        assert!((ratio - 1.0).abs() < 0.02, "{ratio}");
    }

    #[test]
    fn a_still_has_the_grain_that_is_added_without_keeping() {
        for frame in [0, 9] {
            let params = GrainParams { frame, ..PARAMS };
            let mut density = Planes::filled(SIZE.0, SIZE.1, 0.6);
            let mut kept = density.clone();
            KeptGrain::new(SIZE.0, SIZE.1, &scale(), &params, None).add_still(&mut kept);
            super::super::add_grain(&mut density, &scale(), &params);
            assert!(kept == density);
        }
    }

    #[test]
    fn a_field_is_kept_while_nothing_that_draws_it_changes() {
        let make = |params: &GrainParams, before| KeptGrain::new(16, 9, &scale(), params, before);
        let kept = make(&PARAMS, None);
        let stronger = GrainParams {
            rms_x1000: [9.0; 3],
            ..PARAMS
        };
        let address = kept.field.small.planes[0].as_ptr();
        let taken = make(&stronger, Some(kept));
        assert_eq!(taken.field.small.planes[0].as_ptr(), address);
        assert_ne!(taken.laws, make(&PARAMS, None).laws);
        for redrawn in [
            GrainParams { seed: 6, ..PARAMS },
            GrainParams { frame: 1, ..PARAMS },
        ] {
            let other = make(&redrawn, Some(taken.clone()));
            assert!(other.field != taken.field);
        }
    }
}
