//! The function of one pixel that a table stands for.

use lookwright_colour::encoding::{EncodingClass, EncodingId, Range, ScreenId};
use lookwright_colour::{Error, Result, Rgb};
use lookwright_film::look::{Delivery, Frame, Look, StageId};
use lookwright_film::path::scene_out::{SceneCode, SceneOut};
use lookwright_film::path::{DisplayLin, LightPath, PointPart, Points, SceneLin};
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
    /// The screen's code that comes out; for [`Split::CameraToScan`] the one that the other half makes, of
    /// which its figures in a row are.
    pub delivery: Delivery,
    /// The part of the light path.
    pub split: Split,
    /// The scene code that comes out in place of the screen's, for pipelines that render for the
    /// display themselves.
    pub scene: Option<SceneCode>,
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

    /// Whether scene-linear light comes out: the lattice then holds ACEScct, since light is no
    /// straight line between nodes.
    #[must_use]
    pub fn gives_scene_light(&self) -> bool {
        self.scene
            .is_some_and(|code| code.encoding.info().class == EncodingClass::SceneLinear)
    }

    /// The scene code that the lattice holds.
    fn held(&self) -> Option<SceneCode> {
        let held = |code: SceneCode| match self.gives_scene_light() {
            true => SceneCode {
                encoding: EncodingId::AcesCct,
                ..code
            },
            false => code,
        };
        self.scene.map(held)
    }
}

/// A recipe's function, prepared for pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct Mapping {
    path: LightPath,
    points: Points,
    shaper: Option<Shaper>,
    /// Behind the points: from display light, or, where there is no look, from scene light.
    scene: Option<(SceneOut, bool)>,
}

impl Mapping {
    /// Prepares a recipe's function. Its grid is not looked at.
    ///
    /// # Errors
    /// If scene light is said to come in another range than full, or scene code from a scan.
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
        let whole = path.points_up_to(StageId::Screen);
        let points = match recipe.split {
            Split::Whole => whole,
            Split::CameraToScan => path.points_up_to(StageId::Scan),
            Split::ScanToScreen => Points::only(PointPart::Print).and(PointPart::Screen),
        };
        if recipe.scene.is_some() && recipe.split == Split::CameraToScan {
            return Err(Error::new(
                "a table to the scan gives the scan's code, so it can't give scene code as well",
            ));
        }
        let unstyled = points == Points::UNSTYLED;
        let scene = recipe.held().map(|code| {
            let out = SceneOut::new(code, &recipe.look.print);
            (out, unstyled)
        });
        let points = match scene {
            Some(_) => points.without(PointPart::Screen).without(PointPart::Show),
            None => points,
        };
        Ok(Self {
            path,
            points,
            shaper: shaped.then(Shaper::scene),
            scene,
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
        self.behind(self.path.pixel_along(self.points, Rgb::from_array(input)))
            .to_array()
    }

    /// What comes out, of what the points give.
    fn behind(&self, rgb: Rgb) -> Rgb {
        match &self.scene {
            Some((out, true)) => out.of_scene(SceneLin(rgb)),
            Some((out, false)) => out.apply(DisplayLin(rgb)),
            None => rgb,
        }
    }

    /// What comes out as it is looked at: scene code as the pipeline's rendering shows it, all else as it is.
    #[must_use]
    pub fn seen(&self, output: [f32; 3]) -> [f32; 3] {
        match &self.scene {
            Some((out, _)) => {
                let shown = out.shown(Rgb::from_array(output));
                self.path
                    .pixel_along(Points::only(PointPart::Screen), shown.0)
                    .to_array()
            }
            None => output,
        }
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
    fn run(&self, [r, g, b]: [&mut [f32]; 3]) {
        Along(&self.path, self.points).run_rows([r, g, b]);
        if self.scene.is_some() {
            for ((r, g), b) in r.iter_mut().zip(g).zip(b) {
                Rgb {
                    r: *r,
                    g: *g,
                    b: *b,
                } = self.behind(Rgb::new(*r, *g, *b));
            }
        }
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

/// Why tables for two of the screens hold the same numbers.
pub const SAME_CODES: &str = "Rec.709 and sRGB get the same codes, so their tables hold the same numbers: \
    television's gamma 2.4 in a dim room and sRGB's curve in a lit one are taken to show the same picture \
    (common practice, no source). Looks that set a white of their own are the exception.";

/// Whether a look's tables for Rec.709 and sRGB hold the same numbers; see [`SAME_CODES`].
#[must_use]
pub fn has_same_codes(look: &Look) -> bool {
    let whole = |screen| {
        let mut delivery = Delivery::default();
        delivery.display.screen = screen;
        Mapping::new(&Recipe {
            look: look.clone(),
            encoding: EncodingId::LogC3,
            range: Range::Full,
            delivery,
            split: Split::Whole,
            scene: None,
            grid: 2,
        })
    };
    let (Ok(one), Ok(other)) = (whole(ScreenId::Rec709), whole(ScreenId::Srgb)) else {
        return false;
    };
    let codes = lookwright_table::health::halton(64).into_iter();
    codes
        .map(|code| (one.exact(code), other.exact(code)))
        .all(|(one, other)| one == other)
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_film::look::StartingStock;
    use lookwright_film::path::scene_out::Rendering;

    fn recipe(encoding: EncodingId, split: Split) -> Recipe {
        Recipe {
            look: Look::starting(StartingStock::Overcast),
            encoding,
            range: Range::Full,
            delivery: Delivery::default(),
            split,
            scene: None,
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
    fn scene_code_is_seen_as_the_look_s_own_picture() {
        let whole = Mapping::new(&recipe(EncodingId::VLog, Split::Whole)).unwrap();
        for encoding in [EncodingId::AcesCct, EncodingId::VLog, EncodingId::AcesCg] {
            for rendering in [Rendering::Plain, Rendering::Aces] {
                let mut scene = recipe(EncodingId::VLog, Split::Whole);
                scene.scene = Some(SceneCode::new(encoding, rendering).unwrap());
                let scene = Mapping::new(&scene).unwrap();
                for code in [[0.2, 0.25, 0.3], [0.42; 3], [0.6, 0.5, 0.45]] {
                    let (seen, direct) = (scene.seen(scene.exact(code)), whole.exact(code));
                    let near = seen.iter().zip(direct).all(|(a, b)| (a - b).abs() < 1e-3);
                    assert!(near, "{encoding:?} {rendering:?} {seen:?} {direct:?}");
                }
            }
        }
    }

    /// Without a look a camera's code to the same code is no change.
    #[test]
    fn scene_code_without_a_look_is_what_came_in() {
        let mut plain = recipe(EncodingId::LogC3, Split::Whole);
        for stage in [
            StageId::Lens,
            StageId::Negative,
            StageId::Scan,
            StageId::Print,
        ] {
            plain.look.bypass(stage);
        }
        plain.scene = Some(SceneCode::new(EncodingId::LogC3, Rendering::Plain).unwrap());
        let mapping = Mapping::new(&plain).unwrap();
        for code in [[0.1_f32, 0.2, 0.9], [0.391; 3]] {
            let same = mapping.exact(code).into_iter().zip(code);
            assert!(
                same.into_iter().all(|(a, b)| (a - b).abs() < 2e-4),
                "{code:?}"
            );
        }
    }

    #[test]
    fn a_table_to_the_scan_gives_no_scene_code() {
        let mut wrong = recipe(EncodingId::LogC3, Split::CameraToScan);
        wrong.scene = Some(SceneCode::new(EncodingId::AcesCct, Rendering::Plain).unwrap());
        assert!(
            Mapping::new(&wrong)
                .unwrap_err()
                .message()
                .starts_with("a table to the scan")
        );
    }

    #[test]
    fn rec709_and_srgb_get_the_same_codes_unless_a_look_sets_a_white() {
        let mut look = Look::starting(StartingStock::Overcast);
        assert!(has_same_codes(&look));
        look.print.white.on = true;
        look.print.white.amount = 1.0;
        look.print.white.white = lookwright_film::look::WhitePoint::D55;
        assert!(!has_same_codes(&look));
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
