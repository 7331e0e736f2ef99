//! Point passes: one function from pixel to pixel over a whole buffer, one read and one write.

use super::fast::{self, Vectors};
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;
use lookwright_film::path::{LightPath, Points};
use lookwright_film::spatial::Planes;

/// A function from pixel to pixel, written once over any [`Lane`].
pub trait PointOp {
    /// One pixel, or several side by side. `#[inline(always)]`, with all that it calls.
    fn apply<L: Lane>(&self, pixel: Rgb<L>) -> Rgb<L>;
}

/// Some parts of a light path as one function.
pub struct Along<'a>(pub &'a LightPath, pub Points);

impl PointOp for Along<'_> {
    #[inline(always)]
    fn apply<L: Lane>(&self, pixel: Rgb<L>) -> Rgb<L> {
        self.0.along(self.1, pixel)
    }
}

/// The path is long, and so is its code; these are compiled once, here, and not for every caller.
impl Along<'_> {
    /// Runs it over every pixel, in place.
    pub fn run(&self, picture: &mut Planes) {
        run(self, picture);
    }

    /// Runs it over a part of a picture, as [`run_rows`].
    pub fn run_rows(&self, planes: [&mut [f32]; 3]) {
        run_rows(self, planes);
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
