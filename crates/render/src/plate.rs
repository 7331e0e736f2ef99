//! Plates: the texture that no table can carry, as pictures of its own.
//!
//! - Grain: log scan code around 0.5, for an even grey; laid by `code + 2 plate - 1`.
//! - Dust: log scan code from 0; laid by adding.
//! - Halation: the light that it adds to layer exposure, linear; it is the picture's own.

use super::plan::Job;
use super::pointwise::{self, ToExposure, ToScene};
use super::texture;
use lookwright_film::path::LightPath;
use lookwright_film::path::negative::{GREY_DENSITY, dust, grain, halation};
use lookwright_film::spatial::Planes;

/// The grain of the job's look over a mid-grey of `width` x `height` pixels, or none if the look
/// has no grain.
pub fn grain_plate(width: usize, height: usize, job: &Job) -> Option<Planes> {
    let params = texture::grain_params(job)?;
    let scale = texture::film_scale(job);
    Some(grain::grain_plate(
        width,
        height,
        &scale,
        &params,
        GREY_DENSITY,
    ))
}

/// The dust of the job's look on a frame of `width` x `height` pixels, or none if it has no dust.
pub fn dust_plate(width: usize, height: usize, job: &Job) -> Option<Planes> {
    let params = texture::dust_params(job)?;
    let scale = texture::film_scale(job);
    Some(dust::dust_plate(
        width,
        height,
        &job.window,
        &scale,
        &params,
    ))
}

/// The light that the look's halation adds to a picture's layer exposure (mid-grey 0.18), from
/// the picture's code, or none if the look has no halation.
pub fn halation_plate(code: Planes, job: &Job) -> Option<Planes> {
    let params = texture::halation_params(job)?;
    let path = LightPath::new(&job.look, &job.frame, &job.delivery);
    let mut picture = code;
    pointwise::run(&ToScene(&path), &mut picture);
    texture::diffuse(&mut picture, job);
    pointwise::run(&ToExposure(&path), &mut picture);
    halation::added_light(&mut picture, &texture::film_scale(job), &params);
    Some(picture)
}
