//! A shaper: scene-linear light spread over the nodes of a 3D table by stops, light below zero too.
//!
//! ```text
//! code = zero + (1 - zero) log(1 + lin / offset) / log(1 + lin_max / offset)          from zero up
//! code = zero - zero log(1 + lin / offset_below) / log(1 + lin_min / offset_below)    below zero
//! ```
//!
//! A table over linear light would put almost all its nodes above white (errors up to 0.07 of the
//! display range at 33 nodes for a plain 1/2.4 power); over stops they lie where the picture is.
//! The offset makes the way through black straight. Lamps of pure colours have components below zero
//! in most primaries, the brighter the further: so a second logarithm, mirrored, goes on there, over
//! fewer nodes. Where the two meet the curve has a bend, and a node stands there at the usual grids.

use super::clf::{Log, LogParams, LogStyle, Matrix, ProcessNode, Range};
use super::csp::Prelut;
use super::{Curve1, Grid3};
use lookwright_colour::Mat3;
use lookwright_colour::error::{Error, Result};
use lookwright_colour::lane::Lane;

/// A logarithmic shaper for scene-linear light.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shaper {
    below: Side,
    above: Side,
}

/// A logarithm away from zero to one side.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Side {
    /// Most light, as its distance from zero.
    end: f64,
    /// Light below which the curve is about straight.
    offset: f64,
    /// `log2(1 + end / offset)`.
    stops: f64,
    /// The share of 0 ... 1 that these stops fill.
    codes: f64,
}

impl Side {
    fn new(end: f64, offset: f64, codes: f64) -> Self {
        Self {
            end,
            offset,
            stops: libm::log2(1.0 + end / offset),
            codes,
        }
    }

    #[inline(always)]
    fn encode<L: Lane>(&self, size: L) -> L {
        (size * (1.0 / self.offset) as f32 + 1.0).log2() * (self.codes / self.stops) as f32
    }

    #[inline(always)]
    fn decode<L: Lane>(&self, code: L) -> L {
        ((code * (self.stops / self.codes) as f32).exp2() - 1.0) * self.offset as f32
    }

    fn exact(&self, size: f64) -> f64 {
        libm::log2(1.0 + size / self.offset) * self.codes / self.stops
    }
}

impl Shaper {
    /// From -16 to 64, which is 8.5 stops above mid-grey at 0.18. Chosen by measuring ordinary colours
    /// and lamps ("Lamps in light" in `handover/TABLES.md`): an offset that leaves ordinary colours
    /// their nodes, and a zero on a node at grids 17, 33 and 65.
    pub fn scene() -> Self {
        Self::of([-16.0, 0.125], [64.0, 0.003_906_25], 1.0 / 16.0)
    }

    /// A shaper from light below zero to light above, each with its offset, and the code of zero.
    ///
    /// # Errors
    /// If `below` does not begin below zero or `above` not end above, an offset is not above zero,
    /// `zero` is not between 0 and 1, or a number is not finite.
    pub fn new(below: [f32; 2], above: [f32; 2], zero: f32) -> Result<Self> {
        let ([lin_min, offset_below], [lin_max, offset]) = (below, above);
        let sides = lin_min < 0.0 && lin_max > 0.0 && offset_below > 0.0 && offset > 0.0;
        let sum = lin_max - lin_min + offset_below + offset;
        if !(sides && sum.is_finite() && zero > 0.0 && zero < 1.0) {
            return Err(Error::new(format!(
                "a shaper cannot run from {lin_min} (offset {offset_below}) to {lin_max} (offset \
                 {offset}) with zero at {zero}: it has to run from below zero to above it, with \
                 offsets above 0 and the code of zero between 0 and 1"
            )));
        }
        Ok(Self::of(
            below.map(f64::from),
            above.map(f64::from),
            zero.into(),
        ))
    }

    fn of(below: [f64; 2], above: [f64; 2], zero: f64) -> Self {
        Self {
            below: Side::new(-below[0], below[1], zero),
            above: Side::new(above[0], above[1], 1.0 - zero),
        }
    }

    /// Least light that it carries.
    pub fn lin_min(&self) -> f32 {
        -self.below.end as f32
    }

    /// Most light that it carries.
    pub fn lin_max(&self) -> f32 {
        self.above.end as f32
    }

    /// Scene-linear light to code 0 ... 1; light outside the range is held at its ends.
    #[inline(always)]
    #[must_use]
    pub fn encode<L: Lane>(&self, lin: L) -> L {
        let held = lin.clamp_to(self.lin_min(), self.lin_max());
        let zero = lin.of(0.0);
        let (below, above) = (-held.min(zero), held.max(zero));
        self.above.encode(above) - self.below.encode(below) + self.zero()
    }

    /// Code 0 ... 1 to scene-linear light; codes outside are carried on.
    #[inline(always)]
    #[must_use]
    pub fn decode<L: Lane>(&self, code: L) -> L {
        let zero = code.of(0.0);
        let away = code - self.zero();
        self.above.decode(away.max(zero)) - self.below.decode(-away.min(zero))
    }

    /// The code of no light.
    fn zero(&self) -> f32 {
        self.below.codes as f32
    }

    /// The same as [`Shaper::encode`], for set-up.
    fn exact(&self, lin: f64) -> f64 {
        let (below, above) = (-lin.min(0.0), lin.max(0.0));
        self.below.codes + self.above.exact(above) - self.below.exact(below)
    }

    /// The shaper as a 1D table for formats without logarithms. With 65536 samples its error in
    /// code is below 1.1e-3, all of it at black, where a sample is a third of the offset wide; from
    /// 0.01 up, below 2e-4.
    ///
    /// # Errors
    /// If `size` is not 2 ... 65536.
    pub fn curve(&self, size: usize) -> Result<Curve1> {
        Curve1::sample(size, self.lin_min(), self.lin_max(), |lin| self.exact(lin))
    }

    /// The shaper as a curve through points at equal steps of code, for formats whose points may stand
    /// anywhere. With 1025 points its error in code is below 3e-4, beside zero.
    ///
    /// # Errors
    /// If `points` is not 2 ... 65536.
    pub fn prelut(&self, points: usize) -> Result<Prelut> {
        let codes = (0..points).map(|i| i as f64 / (points.max(2) - 1) as f64);
        let inputs = codes
            .map(|code| self.decode(code as f32))
            .collect::<Vec<_>>();
        let values = inputs.iter().map(|&lin| self.exact(lin.into()) as f32);
        let values = values.collect();
        Prelut::new(inputs, values)
    }

    /// The shaper as exact CLF nodes: a Range that holds light to what the table knows, a Log that
    /// goes straight on below zero, and, turned over, a Log of what went straight on.
    ///
    /// # Errors
    /// None for a shaper that could be made.
    pub fn nodes(&self) -> Result<[ProcessNode; 5]> {
        let range = [-self.below.end, self.above.end];
        let slope = self.above.codes / self.above.stops;
        let above = LogParams {
            log_side_slope: slope,
            lin_side_slope: 1.0 / self.above.offset,
            lin_side_offset: 1.0,
            lin_side_break: Some(0.0),
            ..LogParams::plain(2.0)
        };
        // Codes a unit of light, where it goes straight on.
        let straight = slope / (self.above.offset * core::f64::consts::LN_2);
        let below = LogParams {
            log_side_slope: self.below.codes / self.below.stops,
            lin_side_slope: 1.0 / (self.below.offset * straight),
            lin_side_offset: 1.0,
            lin_side_break: Some(0.0),
            linear_slope: Some(1.0),
            ..LogParams::plain(2.0)
        };
        let turned = |offset: f64| {
            ProcessNode::Matrix(Matrix {
                matrix: Mat3::diagonal([-1.0; 3]),
                offset: [offset; 3],
            })
        };
        Ok([
            ProcessNode::Range(Range::line(range, range, true)?),
            ProcessNode::Log(Log::new(LogStyle::CameraLinToLog, [above; 3])?),
            turned(0.0),
            ProcessNode::Log(Log::new(LogStyle::CameraLinToLog, [below; 3])?),
            turned(self.below.codes),
        ])
    }

    /// `f` of scene-linear light, sampled over the shaper's codes.
    ///
    /// # Errors
    /// As [`Grid3::sample`].
    pub fn sample(&self, size: usize, f: impl Fn([f32; 3]) -> [f32; 3]) -> Result<Grid3> {
        Grid3::sample_codes(size, |code| f(code.map(|v| self.decode(v))))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clf::{Lut3d, ProcessList};
    use crate::{Cube, Interpolation};

    #[test]
    fn light_comes_back_and_the_ends_are_the_ends() {
        let shaper = Shaper::scene();
        assert!(shaper.encode(shaper.lin_min()).abs() < 1e-6);
        assert!((shaper.encode(shaper.lin_max()) - 1.0).abs() < 1e-6);
        assert_eq!(shaper.encode(1e9), shaper.encode(64.0));
        assert_eq!(shaper.encode(f32::NAN), shaper.encode(-16.0));
        for lin in [0.0, 0.001, 0.18, 1.0, 16.0, 60.0] {
            let back: f32 = shaper.decode(shaper.encode(lin));
            assert!((back - lin).abs() < 3e-6 * (lin + 0.01), "{lin} {back}");
        }
        // Below zero a code of rounding is more light.
        for lin in [-0.002, -0.1, -1.0, -15.0] {
            let back: f32 = shaper.decode(shaper.encode(lin));
            assert!((back - lin).abs() < 3e-5 * (0.125 - lin), "{lin} {back}");
        }
        for (below, above, zero) in [
            ([0.0, 0.1], [1.0, 0.1], 0.1),
            ([-1.0, 0.1], [0.0, 0.1], 0.1),
            ([-1.0, 0.0], [1.0, 0.1], 0.1),
            ([-1.0, 0.1], [1.0, 0.1], 1.0),
            ([-1.0, f32::INFINITY], [1.0, 0.1], 0.5),
        ] {
            assert!(Shaper::new(below, above, zero).is_err());
        }
        assert!(Shaper::new([-1.0, 0.1], [1.0, 0.1], 0.5).is_ok());
    }

    /// At the usual grids a node stands on zero, where the curve bends.
    #[test]
    fn zero_is_a_node() {
        for steps in [16.0, 32.0, 64.0] {
            let node: f32 = Shaper::scene().encode(0.0) * steps;
            assert_eq!(node, node.round());
        }
    }

    /// The table's way to say it (nodes, or a sampled curve) and the formula agree.
    #[test]
    fn nodes_and_curve_say_the_same_as_the_formula() {
        let shaper = Shaper::scene();
        let curve = shaper.curve(65_536).unwrap();
        let nodes = ProcessList::of_nodes(shaper.nodes().unwrap().to_vec());
        let prelut = shaper.prelut(1025).unwrap();
        for step in -4000..5000 {
            let way = step as f32 / 4900.0;
            let lin = 64.0 * way.abs().powi(6) * way.signum();
            let code = shaper.encode(lin);
            assert!((nodes.apply([lin; 3])[1] - code).abs() < 1e-6);
            assert!((prelut.apply(lin) - code).abs() < 3e-4, "{lin}");
            let bound = if lin.abs() < 0.01 { 1.1e-3 } else { 2e-4 };
            assert!((curve.apply([lin; 3])[1] - code).abs() < bound, "{lin}");
        }
    }

    /// Baking a 1/2.4 power of linear light without a shaper is off by 0.0737 at 33 nodes
    /// (published order: step^(1/2.4)); with one it has to be a small fraction of that.
    #[test]
    fn a_shaper_makes_linear_light_fit_a_table() {
        let f = |rgb: [f32; 3]| rgb.map(|v| (v.clamp(0.0, 1.0)).pow(1.0 / 2.4));
        let shaper = Shaper::scene();
        let grid = shaper.sample(33, f).unwrap();
        let mut nodes = shaper.nodes().unwrap().to_vec();
        nodes.push(ProcessNode::Lut3d(Lut3d {
            grid: grid.clone(),
            how: Interpolation::Tetrahedral,
        }));
        let list = ProcessList::of_nodes(nodes);
        let mut cube = Cube::of_grid(grid);
        cube.curve = Some(shaper.curve(65_536).unwrap());
        let plain = Grid3::sample_codes(33, f).unwrap();
        let (mut worst, mut worst_plain) = (0.0_f32, 0.0_f32);
        for step in 0..=3000 {
            let lin = 0.001 + 0.6 * (step as f32 / 3000.0).powi(3);
            let exact = f([lin; 3])[0];
            let got = list.apply([lin; 3])[0];
            worst = worst.max((got - exact).abs());
            let straight = plain.apply([lin; 3], Interpolation::Tetrahedral)[0];
            worst_plain = worst_plain.max((straight - exact).abs());
            let sampled = cube.apply([lin; 3], Interpolation::Tetrahedral)[0];
            assert!((sampled - got).abs() < 2e-3);
        }
        // Worst at 0.001, in the first cell above zero, where a power is steepest.
        assert!(worst < 0.011, "{worst}");
        assert!(worst_plain > 0.05, "{worst_plain}");
    }
}
