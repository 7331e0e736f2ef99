//! A shaper: scene-linear light spread over the nodes of a 3D table by stops.
//!
//! ```text
//! code = (log2(lin + offset) - low) / (high - low)
//! low, high = log2(lin_min + offset), log2(lin_max + offset)
//! ```
//!
//! A table over linear light would put almost all its nodes above white (errors up to 0.07 of the
//! display range at 33 nodes for a plain 1/2.4 power); over stops they lie where the picture is.
//! The offset makes the way through black straight and lets a little light below zero pass.

use super::clf::{Log, LogParams, LogStyle, ProcessNode, Range};
use super::{Curve1, Grid3};
use lookwright_colour::error::{Error, Result};
use lookwright_colour::lane::Lane;

/// A logarithmic shaper for scene-linear light.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shaper {
    lin_min: f64,
    lin_max: f64,
    offset: f64,
    low: f64,
    high: f64,
}

impl Shaper {
    /// From -2^-8 (light a little below zero) to 64, which is 8.5 stops above mid-grey at 0.18,
    /// in 14 stops.
    pub fn scene() -> Self {
        Self::of(-0.003_906_25, 64.0, 0.007_812_5)
    }

    /// A shaper over `lin_min ..= lin_max` in linear light.
    ///
    /// # Errors
    /// If the range is empty or not finite, or `lin_min + offset` is not above zero.
    pub fn new(lin_min: f32, lin_max: f32, offset: f32) -> Result<Self> {
        let fits = lin_min + offset > 0.0 && lin_min < lin_max && (lin_max + offset).is_finite();
        if !fits {
            return Err(Error::new(format!(
                "a shaper cannot run from {lin_min} to {lin_max} with offset {offset}: the range \
                 has to run upwards and lin_min + offset has to be above 0"
            )));
        }
        Ok(Self::of(lin_min.into(), lin_max.into(), offset.into()))
    }

    fn of(lin_min: f64, lin_max: f64, offset: f64) -> Self {
        Self {
            lin_min,
            lin_max,
            offset,
            low: libm::log2(lin_min + offset),
            high: libm::log2(lin_max + offset),
        }
    }

    /// Least light that it carries.
    pub fn lin_min(&self) -> f32 {
        self.lin_min as f32
    }

    /// Most light that it carries.
    pub fn lin_max(&self) -> f32 {
        self.lin_max as f32
    }

    /// Scene-linear light to code 0 ... 1; light outside the range is held at its ends.
    #[inline(always)]
    #[must_use]
    pub fn encode<L: Lane>(&self, lin: L) -> L {
        let held = lin.clamp_to(self.lin_min as f32, self.lin_max as f32);
        let scale = (1.0 / (self.high - self.low)) as f32;
        ((held + self.offset as f32).log2() - self.low as f32) * scale
    }

    /// Code 0 ... 1 to scene-linear light; codes outside are carried on.
    #[inline(always)]
    #[must_use]
    pub fn decode<L: Lane>(&self, code: L) -> L {
        let stops = code * (self.high - self.low) as f32 + self.low as f32;
        stops.exp2() - self.offset as f32
    }

    /// The shaper as a 1D table for formats without logarithms. With 65536 samples its error in
    /// code is below 6e-4, worst at black, where a sample is an eighth of the offset wide.
    ///
    /// # Errors
    /// If `size` is not 2 ... 65536.
    pub fn curve(&self, size: usize) -> Result<Curve1> {
        Curve1::sample(size, self.lin_min(), self.lin_max(), |lin| {
            (libm::log2(lin + self.offset) - self.low) / (self.high - self.low)
        })
    }

    /// The shaper as exact CLF nodes: a Range that holds light to what the table knows, and a Log.
    ///
    /// # Errors
    /// None for a shaper that could be made.
    pub fn nodes(&self) -> Result<[ProcessNode; 2]> {
        let range = [self.lin_min, self.lin_max];
        let stops = self.high - self.low;
        let log = LogParams {
            log_side_slope: 1.0 / stops,
            log_side_offset: -self.low / stops,
            lin_side_offset: self.offset,
            ..LogParams::plain(2.0)
        };
        Ok([
            ProcessNode::Range(Range::line(range, range, true)?),
            ProcessNode::Log(Log::new(LogStyle::LinToLog, [log; 3])?),
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
        for lin in [-0.002, 0.0, 0.001, 0.18, 1.0, 16.0, 60.0] {
            let back: f32 = shaper.decode(shaper.encode(lin));
            assert!(
                (back - lin).abs() < 3e-6 * (lin.abs() + 0.01),
                "{lin} {back}"
            );
        }
        assert!(Shaper::new(0.0, 1.0, 0.0).is_err());
        assert!(Shaper::new(0.0, 0.0, 0.1).is_err());
    }

    /// The table's way to say it (nodes, or a sampled curve) and the formula agree.
    #[test]
    fn nodes_and_curve_say_the_same_as_the_formula() {
        let shaper = Shaper::scene();
        let curve = shaper.curve(65_536).unwrap();
        let nodes = ProcessList::of_nodes(shaper.nodes().unwrap().to_vec());
        for step in 0..5000 {
            let lin = 64.0 * (step as f32 / 4900.0).powi(6) - 0.003;
            let code = shaper.encode(lin);
            assert!((nodes.apply([lin; 3])[1] - code).abs() < 1e-6);
            assert!((curve.apply([lin; 3])[1] - code).abs() < 6e-4, "{lin}");
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
        assert!(worst < 0.007, "{worst}");
        assert!(worst_plain > 0.05, "{worst_plain}");
    }
}
