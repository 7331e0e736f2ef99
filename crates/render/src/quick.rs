//! What follows the negative, as a dense table: for looking at while a control moves.
//!
//! Density to screen is a map without neighbours. Its toe and what mixes its layers are undone before
//! the table ([`Spacing`]), so that few nodes follow it; what limits it to the screen comes after, pixel
//! by pixel, as it is too sharp for nodes. Between 39 of them a layer, over the densities that a
//! picture has, the straight finish is then off by less than one step of 8 bits in 999 of 1000 pixels
//! (measured on noise of all colours: .7 to .9 on three stocks with contrast and density raised), and
//! several times as fast. At rest the exact picture takes its place; saved pictures never take it.

use super::fast::TablePass;
use super::pointwise::{self, Along, PointOp};
use lookwright_colour::Rgb;
use lookwright_colour::error::Result;
use lookwright_colour::lane::Lane;
use lookwright_film::path::{Density, DisplayLin, LightPath, PointPart, Points, ScanCode, Spacing};
use lookwright_film::spatial::Planes;
use lookwright_table::Grid3;

/// Nodes per layer.
const NODES: usize = 39;
/// Fewest pixels that making the table is worth.
pub(super) const WORTHWHILE: usize = NODES * NODES * NODES;

/// Densities to the stage's numbers by `points` of `path`, in place, through a table over the
/// densities that are there.
///
/// # Errors
/// None for finite densities.
pub(super) fn finish(density: &mut Planes, path: &LightPath, points: Points) -> Result<()> {
    let spaced = Spaced(path.spacing());
    pointwise::run(&spaced, density);
    let ranges = density.planes.each_ref().map(|plane| range(plane));
    if !points.has(PointPart::Screen) {
        spaced.table(&Along(path, points), ranges)?.run(density);
        return Ok(());
    }
    let unlimited = Unlimited(path, points.without(PointPart::Screen));
    spaced.table(&unlimited, ranges)?.run(density);
    pointwise::run(&Limited(path), density);
    Ok(())
}

/// What follows the density in a light path, as far as it is among the points, and then the screen
/// but for its limits.
struct Unlimited<'a>(&'a LightPath, Points);

impl PointOp for Unlimited<'_> {
    #[inline(always)]
    fn apply<L: Lane>(&self, pixel: Rgb<L>) -> Rgb<L> {
        let Self(path, points) = self;
        let mut rgb = pixel;
        if points.has(PointPart::Scan) {
            rgb = path.scan(Density(rgb)).0;
        }
        if points.has(PointPart::Print) {
            rgb = path.print(ScanCode(rgb)).0;
        }
        path.screen_unlimited(DisplayLin(rgb))
    }
}

/// The screen's limits.
struct Limited<'a>(&'a LightPath);

impl PointOp for Limited<'_> {
    #[inline(always)]
    fn apply<L: Lane>(&self, pixel: Rgb<L>) -> Rgb<L> {
        self.0.screen_limited(pixel).0
    }
}

/// Densities to places on axes on which few nodes are enough.
pub(super) struct Spaced(pub(super) Spacing);

impl PointOp for Spaced {
    #[inline(always)]
    fn apply<L: Lane>(&self, pixel: Rgb<L>) -> Rgb<L> {
        self.0.place(pixel)
    }
}

impl Spaced {
    /// `op` on densities as a table over places from the lowest to the highest of each axis.
    ///
    /// # Errors
    /// None for finite limits.
    pub(super) fn table(&self, op: &impl PointOp, ranges: [(f32, f32); 3]) -> Result<TablePass> {
        table_of(op, ranges, |axes| {
            let [r, g, b] = &axes;
            let codes = r
                .iter()
                .zip(g)
                .zip(b)
                .map(|((r, g), b)| self.0.codes([*r, *g, *b]));
            let codes: Vec<_> = codes.collect();
            let mut lattice = lattice(&[0, 1, 2].map(|i| codes.iter().map(|c| c[i]).collect()));
            let [r, g, b] = &mut lattice.planes;
            for ((r, g), b) in r.iter_mut().zip(g).zip(b) {
                [*r, *g, *b] = self.0.density([*r, *g, *b]);
            }
            lattice
        })
    }
}

/// `op` as a table over codes from 0 to 1.
///
/// # Errors
/// None.
pub(super) fn table_of_codes(op: &impl PointOp) -> Result<TablePass> {
    table_of(op, [(0.0, 1.0); 3], |axes| lattice(&axes))
}

fn table_of(
    op: &impl PointOp,
    ranges: [(f32, f32); 3],
    input: impl Fn([Vec<f32>; 3]) -> Planes,
) -> Result<TablePass> {
    let spans = ranges.map(|(low, high)| (high - low).max(1e-3));
    let axes = [0, 1, 2].map(|axis: usize| {
        let step = spans[axis] / (NODES - 1) as f32;
        (0..NODES)
            .map(|i| ranges[axis].0 + i as f32 * step)
            .collect()
    });
    let mut lattice = input(axes);
    pointwise::run(op, &mut lattice);
    let [r, g, b] = &lattice.planes;
    let out = r.iter().zip(g).zip(b).map(|((r, g), b)| [*r, *g, *b]);
    let low = ranges.map(|(low, _)| low);
    let high = [0, 1, 2].map(|axis| low[axis] + spans[axis]);
    Ok(TablePass::new(Grid3::from_nodes(
        NODES,
        low,
        high,
        out.collect(),
    )?))
}

/// All nodes of three axes, red fastest.
fn lattice(axes: &[Vec<f32>; 3]) -> Planes {
    let mut lattice = Planes::filled(NODES.pow(3), 1, 0.0);
    for (axis, plane) in lattice.planes.iter_mut().enumerate() {
        for (i, value) in plane.iter_mut().enumerate() {
            *value = axes[axis][i / NODES.pow(axis as u32) % NODES];
        }
    }
    lattice
}

/// The lowest and the highest of all values.
fn range(plane: &[f32]) -> (f32, f32) {
    // Side by side, so that they are compared in vectors.
    let (mut low, mut high) = ([f32::MAX; 16], [f32::MIN; 16]);
    let (blocks, rest) = plane.as_chunks::<16>();
    for block in blocks {
        for i in 0..16 {
            low[i] = if block[i] < low[i] { block[i] } else { low[i] };
            high[i] = if block[i] > high[i] {
                block[i]
            } else {
                high[i]
            };
        }
    }
    for value in rest {
        low[0] = low[0].min(*value);
        high[0] = high[0].max(*value);
    }
    let lowest = low.into_iter().fold(f32::MAX, f32::min);
    (lowest, high.into_iter().fold(lowest, f32::max))
}
