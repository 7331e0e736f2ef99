//! A clip through a look, frame by frame, while it plays: 8 bits in, 8 bits out.
//!
//! What does not show in motion is cut:
//!
//! - code to layer exposure, and density to the screen, are tables of 33 nodes, made once per look;
//! - stray light is worked out at half the size ([`stray`]);
//! - the emulsion's softness is one Gaussian ([`soft`]);
//! - one field of grain is moved about (`KeptGrain`).
//!
//! Without grain, 9 of 10 codes lie within one step of 8 bits of the exact picture and 99 of 100
//! within two (held by the tests); at the edges of small lamps up to 36 was seen. A frame at rest and whatever is saved goes the exact way.

mod soft;
mod stray;
#[cfg(test)]
mod tests;

use core::ops::Range;

use super::fast::TablePass;
use super::plan::Job;
use super::pointwise::{self, FromDensity, PointOp, ToDensity, Unstyled};
use super::quick::table_of;
use super::texture::{dust_params, film_scale, grain_params, softness_params};
use lookwright_colour::Rgb;
use lookwright_colour::error::Result;
use lookwright_colour::lane::Lane;
use lookwright_film::look::StageId;
use lookwright_film::path::negative::dust::{DustParams, add_dust};
use lookwright_film::path::negative::gauge::FilmScale;
use lookwright_film::path::negative::grain::{GrainParams, KeptGrain};
use lookwright_film::path::{FrameCode, LayerExposure, LightPath};
use lookwright_film::spatial::Planes;
use soft::Soft;
use stray::Stray;

/// Rows that go through the point passes at once: so few that they stay in the cache.
const BAND: usize = 8;
/// By how much stray light may raise an exposure above the brightest that a code leads to.
const STRAY_ROOM: f32 = 1.5;
/// Density that grain may add or take at the ends.
const GRAIN_ROOM: f32 = 0.12;

/// Renders the frames of a clip at one size through one look.
pub struct ClipRenderer {
    job: Job,
    path: LightPath,
    /// Code to layer exposure; without a look, code to the screen's code.
    entering: TablePass,
    film: Option<Film>,
    picture: Planes,
}

/// What the negative does, and all that follows.
struct Film {
    stray: Option<Stray>,
    soft: Option<Soft>,
    grain: Option<KeptGrain>,
    dust: Option<(DustParams, FilmScale)>,
    /// Density to the stage's numbers.
    leaving: TablePass,
}

/// Code to layer exposure, before halation.
struct ToExposed<'a>(&'a LightPath);

impl PointOp for ToExposed<'_> {
    #[inline(always)]
    fn apply<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        self.0.expose(self.0.lens(self.0.intake(FrameCode(code)))).0
    }
}

impl ClipRenderer {
    /// Whether a stage can be shown while a clip plays: the ends of the path and what follows the
    /// negative.
    pub const fn shows(stage: StageId) -> bool {
        !matches!(stage, StageId::Lens | StageId::Negative)
    }

    /// For frames of `width` by `height` pixels, whose place and scale is the job's window; its
    /// frame number does not matter, [`Self::shows`] must hold for its stage. What can be kept of
    /// `before` is.
    ///
    /// # Errors
    /// None for jobs that were read.
    pub fn new(job: &Job, width: usize, height: usize, before: Option<Self>) -> Result<Self> {
        let path = LightPath::new(&job.look, &job.frame, &job.delivery);
        let film = match job.stage {
            StageId::Intake => None,
            _ => {
                let grain = before.and_then(|before| before.film?.grain);
                Some(Film::new(job, &path, width, height, grain)?)
            }
        };
        let entering = match film {
            None => table_of(&Unstyled(&path), 0.0, 1.0)?,
            Some(_) => table_of(&ToExposed(&path), 0.0, 1.0)?,
        };
        Ok(Self {
            job: job.clone(),
            path,
            entering,
            film,
            picture: Planes::filled(width, height, 0.0),
        })
    }

    /// Whether this renders frames of that size for that job.
    pub fn suits(&self, job: &Job, width: usize, height: usize) -> bool {
        (self.picture.width, self.picture.height) == (width, height)
            && self.job
                == Job {
                    frame_number: self.job.frame_number,
                    ..job.clone()
                }
    }

    /// Frame `number`, in place: RGBA, 8 bits each, as many pixels as this is made for. Grain and
    /// dust follow the number.
    ///
    /// # Panics
    /// If there are fewer pixels.
    pub fn render(&mut self, rgba: &mut [u8], number: u32) {
        let (width, height) = (self.picture.width, self.picture.height);
        let bands = || (0..height).step_by(BAND).map(|y| y..height.min(y + BAND));
        let Some(film) = &mut self.film else {
            for rows in bands() {
                let bytes = &mut rgba[4 * rows.start * width..4 * rows.end * width];
                let mut planes = part(&mut self.picture, &rows);
                read(bytes, &mut planes);
                self.entering.run_rows(planes.each_mut().map(|p| &mut **p));
                write(&planes, bytes);
            }
            return;
        };
        for rows in bands() {
            let bytes = &rgba[4 * rows.start * width..4 * rows.end * width];
            let mut planes = part(&mut self.picture, &rows);
            read(bytes, &mut planes);
            self.entering.run_rows(planes);
        }
        if let Some(stray) = &mut film.stray {
            stray.add(&mut self.picture);
        }
        if let Some(soft) = &mut film.soft {
            soft.run(&mut self.picture);
        }
        let leave = |picture: &mut Planes, rows: &Range<usize>, rgba: &mut [u8]| {
            let mut planes = part(picture, rows);
            film.leaving.run_rows(planes.each_mut().map(|p| &mut **p));
            write(
                &planes,
                &mut rgba[4 * rows.start * width..4 * rows.end * width],
            );
        };
        for rows in bands() {
            let mut planes = part(&mut self.picture, &rows);
            let develop = ToDensity(&self.path);
            pointwise::run_rows(&develop, planes.each_mut().map(|p| &mut **p));
            if let Some(grain) = &film.grain {
                grain.add(rows.clone(), planes, number);
            }
            if film.dust.is_none() {
                leave(&mut self.picture, &rows, rgba);
            }
        }
        if let Some((params, scale)) = &film.dust {
            let params = DustParams {
                frame: number,
                ..*params
            };
            add_dust(&mut self.picture, &self.job.window, scale, &params);
            for rows in bands() {
                leave(&mut self.picture, &rows, rgba);
            }
        }
    }
}

impl Film {
    fn new(
        job: &Job,
        path: &LightPath,
        width: usize,
        height: usize,
        grain: Option<KeptGrain>,
    ) -> Result<Self> {
        let scale = film_scale(job);
        let (lowest, highest) = densities(path);
        Ok(Self {
            stray: Stray::new(job, width, height),
            soft: softness_params(job).and_then(|params| Soft::new(&scale, &params)),
            grain: grain_params(job)
                .map(|params| GrainParams { frame: 0, ..params })
                .map(|params| KeptGrain::new(width, height, &scale, &params, grain)),
            dust: dust_params(job).map(|params| (params, scale)),
            leaving: table_of(&FromDensity(path, job.stage), lowest, highest)?,
        })
    }
}

/// The lowest and the highest density that a code can lead to, with room for stray light and grain.
fn densities(path: &LightPath) -> (f32, f32) {
    // Exposures are largest and smallest where codes are; densities, whose layers only hold each
    // other back, where exposures are.
    let corner = |i: usize, ends: [[f32; 3]; 2]| {
        let end = |axis: usize| ends[i >> axis & 1][axis];
        Rgb::new(end(0), end(1), end(2))
    };
    let mut ends = [[f32::MAX; 3], [f32::MIN; 3]];
    for i in 0..8 {
        let exposure = ToExposed(path).apply(corner(i, [[0.0; 3], [1.0; 3]]));
        for (axis, value) in exposure.to_array().into_iter().enumerate() {
            ends[0][axis] = ends[0][axis].min(value);
            ends[1][axis] = ends[1][axis].max(value * STRAY_ROOM);
        }
    }
    let densities = (0..8).flat_map(|i| path.develop(LayerExposure(corner(i, ends))).0.to_array());
    let (low, high) = densities.fold((f32::MAX, f32::MIN), |(low, high), d| {
        (low.min(d), high.max(d))
    });
    (low - GRAIN_ROOM, high + GRAIN_ROOM)
}

/// Some rows of a picture.
fn part<'a>(picture: &'a mut Planes, rows: &Range<usize>) -> [&'a mut [f32]; 3] {
    let width = picture.width;
    let range = rows.start * width..rows.end * width;
    picture
        .planes
        .each_mut()
        .map(|plane| &mut plane[range.clone()])
}

/// Codes of 8 bits, on the scale where the largest is 1.
fn read(rgba: &[u8], [red, green, blue]: &mut [&mut [f32]; 3]) {
    let pixels = rgba.as_chunks::<4>().0.iter();
    let planes = red.iter_mut().zip(green.iter_mut()).zip(blue.iter_mut());
    for (pixel, ((r, g), b)) in pixels.zip(planes) {
        let code = |byte: u8| f32::from(byte) * (1.0 / 255.0);
        (*r, *g, *b) = (code(pixel[0]), code(pixel[1]), code(pixel[2]));
    }
}

/// To codes of 8 bits, rounded; the fourth byte is opaque.
fn write([red, green, blue]: &[&mut [f32]; 3], rgba: &mut [u8]) {
    let pixels = rgba.as_chunks_mut::<4>().0.iter_mut();
    let planes = red.iter().zip(green.iter()).zip(blue.iter());
    for (pixel, ((r, g), b)) in pixels.zip(planes) {
        // What is limited fits an integer, so the conversion is one of the machine's.
        let byte = |code: f32| (code.clamp(0.0, 1.0) * 255.0 + 0.5) as i32 as u8;
        *pixel = [byte(*r), byte(*g), byte(*b), 255];
    }
}
