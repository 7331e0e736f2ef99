//! Point passes: one function from pixel to pixel over a whole buffer, one read and one write.

use super::fast::{self, Vectors};
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;
use lookwright_film::look::StageId;
use lookwright_film::path::{Density, FrameCode, LayerExposure, LightPath, SceneLin};
use lookwright_film::spatial::Planes;

/// A function from pixel to pixel, written once over any [`Lane`].
pub trait PointOp {
    /// One pixel, or several side by side. `#[inline(always)]`, with all that it calls.
    fn apply<L: Lane>(&self, pixel: Rgb<L>) -> Rgb<L>;
}

/// Code to scene light before diffusion: intake and lens.
pub struct ToScene<'a>(pub &'a LightPath);
/// Scene light to layer exposure, before halation.
pub struct ToExposure<'a>(pub &'a LightPath);
/// Layer exposure to density, before grain.
pub struct ToDensity<'a>(pub &'a LightPath);
/// Density to the stage's numbers: scan, print or screen.
pub struct FromDensity<'a>(pub &'a LightPath, pub StageId);
/// Code to the stage's numbers in one go, without texture.
pub struct UpTo<'a>(pub &'a LightPath, pub StageId);
/// Code to the screen's code with no look at all.
pub struct Unstyled<'a>(pub &'a LightPath);

/// AP1 scene light to the screen's code, with no look: how scene light is looked at.
pub struct ToScreen<'a>(pub &'a LightPath);

impl PointOp for ToScreen<'_> {
    #[inline(always)]
    fn apply<L: Lane>(&self, scene_lin: Rgb<L>) -> Rgb<L> {
        self.0.scene_to_screen(SceneLin(scene_lin)).0
    }
}

impl PointOp for ToScene<'_> {
    #[inline(always)]
    fn apply<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        self.0.lens(self.0.intake(FrameCode(code))).0
    }
}

impl PointOp for ToExposure<'_> {
    #[inline(always)]
    fn apply<L: Lane>(&self, scene_lin: Rgb<L>) -> Rgb<L> {
        self.0.expose(SceneLin(scene_lin)).0
    }
}

impl PointOp for ToDensity<'_> {
    #[inline(always)]
    fn apply<L: Lane>(&self, exposure: Rgb<L>) -> Rgb<L> {
        self.0.develop(LayerExposure(exposure)).0
    }
}

impl PointOp for FromDensity<'_> {
    #[inline(always)]
    fn apply<L: Lane>(&self, density: Rgb<L>) -> Rgb<L> {
        let scan_code = self.0.scan(Density(density));
        if self.1 == StageId::Scan {
            return scan_code.0;
        }
        let display_code = self.0.print(scan_code);
        if self.1 == StageId::Print {
            return display_code.0;
        }
        self.0.screen(display_code).0
    }
}

impl PointOp for UpTo<'_> {
    #[inline(always)]
    fn apply<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        self.0.up_to(self.1, code)
    }
}

impl PointOp for Unstyled<'_> {
    #[inline(always)]
    fn apply<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        self.0.unstyled(code)
    }
}

/// Runs `op` over every pixel, in place, on the widest vectors that the machine has.
pub fn run(op: &impl PointOp, picture: &mut Planes) {
    run_rows(op, picture.planes.each_mut().map(Vec::as_mut_slice));
}

/// [`run`] over a part of a picture: three slices of one length, red, green and blue. Every pixel
/// comes out the same whatever part it is in, so parts can run on threads of the caller's.
pub fn run_rows(op: &impl PointOp, planes: [&mut [f32]; 3]) {
    fast::run(None, op, planes);
}

/// [`run_rows`] on one of [`Vectors::all`], by default the first: to compare them.
pub fn run_on(chosen: Option<Vectors>, op: &impl PointOp, planes: [&mut [f32]; 3]) {
    fast::run(chosen, op, planes);
}
