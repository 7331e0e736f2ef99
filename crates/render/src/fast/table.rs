//! A 3D table over a picture, tetrahedral.
//!
//! Cells, tetrahedra and weights are worked out on whole vectors. The four nodes of a pixel are
//! then fetched as rows of red, green and blue, one load each, weighted, and turned back into
//! planes four pixels at a time: gathering every channel by itself would take three times as many
//! loads.

use fearless_simd::prelude::*;
use fearless_simd::{Level, f32x4};

use super::backend::Backend;
use super::pixels::Pixels;
use super::{LANES_MAX, Vectors};
use lookwright_colour::Rgb;
use lookwright_film::spatial::Planes;
use lookwright_table::{Grid3, Interpolation, TetraSplit};

/// The four nodes of each pixel of a vector: their places, and their weights. One for a whole
/// picture, because clearing it for every vector would take as long as filling it.
#[derive(Default)]
struct Found {
    nodes: [[i32; LANES_MAX]; 4],
    weights: [[f32; LANES_MAX]; 4],
}

/// A table, prepared for pictures.
#[derive(Clone, Debug, PartialEq)]
pub struct TablePass {
    grid: Grid3,
    /// The grid's nodes, each filled up to four numbers.
    nodes: Vec<[f32; 4]>,
}

impl TablePass {
    /// Prepares a table. Takes 16 bytes per node.
    pub fn new(grid: Grid3) -> Self {
        let nodes = grid.nodes().iter().map(|[r, g, b]| [*r, *g, *b, 0.0]);
        Self {
            nodes: nodes.collect(),
            grid,
        }
    }

    /// Every pixel through the table, in place. The bits of [`Grid3::apply`].
    pub fn run(&self, picture: &mut Planes) {
        self.run_rows(picture.planes.each_mut().map(Vec::as_mut_slice));
    }

    /// [`Self::run`] over a part of a picture: three slices of one length, red, green and blue.
    pub fn run_rows(&self, planes: [&mut [f32]; 3]) {
        self.run_on(None, planes);
    }

    /// [`Self::run_rows`] on one of [`Vectors::all`]: to compare them.
    pub fn run_on(&self, chosen: Option<Vectors>, planes: [&mut [f32]; 3]) {
        on_vectors!(chosen, |simd| self.run_with(simd, planes));
        let [red, green, blue] = planes;
        for ((r, g), b) in red.iter_mut().zip(green).zip(blue) {
            [*r, *g, *b] = self.grid.apply([*r, *g, *b], Interpolation::Tetrahedral);
        }
    }

    #[inline(always)]
    fn run_with<S: Backend>(&self, simd: S, [red, green, blue]: [&mut [f32]; 3]) {
        simd.vectorize(
            #[inline(always)]
            || {
                let width = Pixels::<S>::LEN;
                let mut found = Found::default();
                let whole = red.len() / width * width;
                for start in (0..whole).step_by(width) {
                    let part = start..start + width;
                    self.vector(
                        simd,
                        &mut found,
                        [
                            &mut red[part.clone()],
                            &mut green[part.clone()],
                            &mut blue[part],
                        ],
                    );
                }
                for ((r, g), b) in red[whole..]
                    .iter_mut()
                    .zip(&mut green[whole..])
                    .zip(&mut blue[whole..])
                {
                    [*r, *g, *b] = self.grid.apply([*r, *g, *b], Interpolation::Tetrahedral);
                }
            },
        );
    }

    /// One vector of pixels.
    #[inline(always)]
    fn vector<S: Backend>(&self, simd: S, found: &mut Found, [r, g, b]: [&mut [f32]; 3]) {
        let input = Rgb::new(
            Pixels::<S>::load(simd, r),
            Pixels::load(simd, g),
            Pixels::load(simd, b),
        );
        let (first, d) = self.grid.locate(input);
        let stride = self.grid.stride();
        let split = TetraSplit::of(d, stride);
        let Found { nodes, weights } = found;
        first.store_whole(&mut nodes[0]);
        (first + split.step_a).store_whole(&mut nodes[1]);
        (first + split.step_ab).store_whole(&mut nodes[2]);
        (first + (stride[0] + stride[1] + stride[2])).store_whole(&mut nodes[3]);
        for (weights, weight) in weights.iter_mut().zip(split.weight) {
            weight.store(weights);
        }
        for four in (0..Pixels::<S>::LEN).step_by(4) {
            let p0 = self.weigh(simd, nodes, weights, four);
            let p1 = self.weigh(simd, nodes, weights, four + 1);
            let p2 = self.weigh(simd, nodes, weights, four + 2);
            let p3 = self.weigh(simd, nodes, weights, four + 3);
            let (even, odd) = (p0.zip_low(p2), p1.zip_low(p3));
            even.zip_low(odd).store_slice(&mut r[four..four + 4]);
            even.zip_high(odd).store_slice(&mut g[four..four + 4]);
            let (even, odd) = (p0.zip_high(p2), p1.zip_high(p3));
            even.zip_low(odd).store_slice(&mut b[four..four + 4]);
        }
    }

    /// The four nodes of pixel `i`, weighted: red, green, blue and nothing.
    #[inline(always)]
    fn weigh<S: Backend>(
        &self,
        simd: S,
        nodes: &[[i32; LANES_MAX]; 4],
        weights: &[[f32; LANES_MAX]; 4],
        i: usize,
    ) -> f32x4<S> {
        let mut sum = self.node(simd, nodes[0][i]) * weights[0][i];
        for k in 1..4 {
            sum += self.node(simd, nodes[k][i]) * weights[k][i];
        }
        sum
    }

    #[inline(always)]
    fn node<S: Backend>(&self, simd: S, place: i32) -> f32x4<S> {
        f32x4::from_slice(simd, &self.nodes[place.cast_unsigned() as usize])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_vector_gives_what_the_grid_gives() {
        let bend = |[r, g, b]: [f32; 3]| [r * r + 0.1 * g, g * (1.5 - b), b - 0.3 * r * g];
        for size in [2, 17, 33] {
            let pass = TablePass::new(Grid3::sample(size, [-0.2; 3], [1.1; 3], bend).unwrap());
            let mut input = Planes::filled(1021, 1, 0.0);
            let mut state = 9_u32;
            for plane in &mut input.planes {
                for value in plane.iter_mut() {
                    state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                    *value = (state >> 8) as f32 / 8_388_608.0 - 0.5;
                }
            }
            for (place, ugly) in [f32::NAN, f32::INFINITY, f32::NEG_INFINITY, -0.0, 1.1, -0.2]
                .into_iter()
                .enumerate()
            {
                input.planes[place % 3][place * 150] = ugly;
            }
            for vectors in Vectors::all() {
                let mut out = input.clone();
                pass.run_on(Some(vectors), out.planes.each_mut().map(Vec::as_mut_slice));
                for i in 0..input.pixels() {
                    let pixel = [0, 1, 2].map(|c| input.planes[c][i]);
                    let expected = pass.grid.apply(pixel, Interpolation::Tetrahedral);
                    let got = [0, 1, 2].map(|c| out.planes[c][i]);
                    assert_eq!(
                        got.map(f32::to_bits),
                        expected.map(f32::to_bits),
                        "{vectors:?}"
                    );
                }
            }
        }
    }
}
