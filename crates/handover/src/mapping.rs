//! The function of one pixel that a table stands for.

use lookwright_colour::encoding::{EncodingClass, EncodingId, Range};
use lookwright_colour::{Error, Result, Rgb};
use lookwright_film::look::{Delivery, Frame, Look, StageId};
use lookwright_film::path::{LightPath, PointPart, Points};
use lookwright_render::pointwise::Along;
use lookwright_table::{Grid3, Shaper, fit};

use crate::Split;

/// What a table is made of.
#[derive(Clone, Debug, PartialEq)]
pub struct Recipe {
    /// The look.
    pub look: Look,
    /// The encoding that goes in; without meaning for [`Split::ScanToScreen`].
    pub encoding: EncodingId,
    /// How the codes that go in fill the scale.
    pub range: Range,
    /// The screen's code that comes out; without meaning for [`Split::CameraToScan`].
    pub delivery: Delivery,
    /// The part of the light path.
    pub split: Split,
    /// Points along each axis, 2 ... 129.
    pub grid: usize,
}

impl Recipe {
    /// Whether scene-linear light goes in, which a table takes through a shaper.
    #[must_use]
    pub fn takes_scene_light(&self) -> bool {
        self.split != Split::ScanToScreen
            && self.encoding.info().class == EncodingClass::SceneLinear
    }
}

/// A recipe's function, prepared for pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct Mapping {
    path: LightPath,
    points: Points,
    shaper: Option<Shaper>,
}

impl Mapping {
    /// Prepares a recipe's function. Its grid is not looked at.
    ///
    /// # Errors
    /// If scene light is said to come in another range than full.
    pub fn new(recipe: &Recipe) -> Result<Self> {
        let shaped = recipe.takes_scene_light();
        if shaped && recipe.range != Range::Full {
            return Err(Error::new(format!(
                "range {}: {} is light, not code, and has only the range full",
                recipe.range.id(),
                recipe.encoding.id()
            )));
        }
        let mut frame = Frame::default();
        frame.source.encoding = recipe.encoding;
        frame.source.range = recipe.range;
        let path = LightPath::new(&recipe.look, &frame, &recipe.delivery);
        let points = match recipe.split {
            Split::Whole => path.points_up_to(StageId::Screen),
            Split::CameraToScan => path.points_up_to(StageId::Scan),
            Split::ScanToScreen => Points::only(PointPart::Print).and(PointPart::Screen),
        };
        Ok(Self {
            path,
            points,
            shaper: shaped.then(Shaper::scene),
        })
    }

    /// The shaper that stands before the lattice, if scene light goes in.
    #[must_use]
    pub fn shaper(&self) -> Option<&Shaper> {
        self.shaper.as_ref()
    }

    /// The exact value at an input: codes of 1, or scene light.
    #[must_use]
    pub fn exact(&self, input: [f32; 3]) -> [f32; 3] {
        self.path
            .pixel_along(self.points, Rgb::from_array(input))
            .to_array()
    }

    /// The exact value where the lattice stands at `place`, 0 ... 1 along each axis: the code
    /// itself, or what the shaper makes of light.
    #[must_use]
    pub fn at(&self, place: [f32; 3]) -> [f32; 3] {
        self.exact(self.input_at(place))
    }

    /// Where inputs stand on the lattice.
    pub(crate) fn places(&self, mut inputs: Vec<[f32; 3]>) -> Vec<[f32; 3]> {
        if let Some(shaper) = &self.shaper {
            for value in inputs.iter_mut().flatten() {
                *value = shaper.encode(*value);
            }
        }
        inputs
    }

    fn input_at(&self, place: [f32; 3]) -> [f32; 3] {
        match &self.shaper {
            Some(shaper) => place.map(|code| shaper.decode(code)),
            None => place,
        }
    }

    /// The exact values in the place of inputs: as [`Mapping::exact`], many at once.
    fn run(&self, planes: [&mut [f32]; 3]) {
        Along(&self.path, self.points).run_rows(planes);
    }

    /// The lattice over 0 ... 1 that, read by tetrahedra, is nearest to the function: see
    /// [`lookwright_table::fit`]. Greys are exact at its nodes.
    ///
    /// # Errors
    /// If `size` is not 2 ... 129.
    pub fn fitted(&self, size: usize) -> Result<Grid3> {
        fit(&self.sample(size)?, |mut planes| {
            if let Some(shaper) = &self.shaper {
                for value in planes.iter_mut().flat_map(|plane| plane.iter_mut()) {
                    *value = shaper.decode(*value);
                }
            }
            self.run(planes);
        })
    }

    /// The function sampled on a lattice over 0 ... 1.
    ///
    /// # Errors
    /// If `size` is not 2 ... 129.
    pub fn sample(&self, size: usize) -> Result<Grid3> {
        let mut nodes = Grid3::inputs(size, [0.0; 3], [1.0; 3])?;
        let mut planes: [Vec<f32>; 3] = Default::default();
        for node in &nodes {
            for (plane, value) in planes.iter_mut().zip(self.input_at(*node)) {
                plane.push(value);
            }
        }
        self.run(planes.each_mut().map(Vec::as_mut_slice));
        for (i, node) in nodes.iter_mut().enumerate() {
            *node = [planes[0][i], planes[1][i], planes[2][i]];
        }
        Grid3::from_nodes(size, [0.0; 3], [1.0; 3], nodes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_film::look::StartingStock;

    fn recipe(encoding: EncodingId, split: Split) -> Recipe {
        Recipe {
            look: Look::starting(StartingStock::Overcast),
            encoding,
            range: Range::Full,
            delivery: Delivery::default(),
            split,
            grid: 5,
        }
    }

    #[test]
    fn nodes_are_the_exact_path_to_the_bit() {
        for encoding in [EncodingId::LogC3, EncodingId::AcesCg] {
            let mapping = Mapping::new(&recipe(encoding, Split::Whole)).unwrap();
            let grid = mapping.sample(5).unwrap();
            assert_eq!(grid.node([2, 3, 1]), mapping.at([0.5, 0.75, 0.25]));
        }
    }

    /// Mid-grey's neighbours and the ends: grey nodes are held, and a fit moves the rest.
    #[test]
    fn fitted_greys_are_the_exact_path_to_the_bit() {
        for encoding in [EncodingId::LogC3, EncodingId::AcesCg] {
            let mapping = Mapping::new(&recipe(encoding, Split::Whole)).unwrap();
            let grid = mapping.fitted(17).unwrap();
            for i in 0..17 {
                assert_eq!(grid.node([i; 3]), mapping.at([i as f32 / 16.0; 3]));
            }
            assert_ne!(grid.nodes(), mapping.sample(17).unwrap().nodes());
        }
    }

    #[test]
    fn the_two_halves_make_the_whole() {
        let whole = Mapping::new(&recipe(EncodingId::VLog, Split::Whole)).unwrap();
        let scan = Mapping::new(&recipe(EncodingId::VLog, Split::CameraToScan)).unwrap();
        let screen = Mapping::new(&recipe(EncodingId::VLog, Split::ScanToScreen)).unwrap();
        for code in [[0.2, 0.5, 0.7], [0.42; 3], [0.9, 0.1, 0.3]] {
            assert_eq!(screen.exact(scan.exact(code)), whole.exact(code));
        }
    }

    #[test]
    fn light_has_no_legal_range() {
        let mut wrong = recipe(EncodingId::AcesCg, Split::Whole);
        wrong.range = Range::Legal;
        assert_eq!(
            Mapping::new(&wrong).unwrap_err().message(),
            "range legal: acescg is light, not code, and has only the range full"
        );
    }

    /// S-Log3's mid-grey is code 420 of 1023 (Sony, Technical Summary, 2013); squeezed into the
    /// legal range it stands at (420 * 876 / 1023 + 64) / 1023.
    #[test]
    fn legal_input_is_the_same_picture() {
        let full = recipe(EncodingId::SLog3SGamut3Cine, Split::Whole);
        let mut legal = full.clone();
        legal.range = Range::Legal;
        let grey = |code: f32, recipe: &Recipe| Mapping::new(recipe).unwrap().exact([code; 3]);
        let a = grey(420.0 / 1023.0, &full);
        let b = grey((420.0 * 876.0 / 1023.0 + 64.0) / 1023.0, &legal);
        assert!((0..3).all(|c| (a[c] - b[c]).abs() < 1e-5), "{a:?} {b:?}");
    }
}
