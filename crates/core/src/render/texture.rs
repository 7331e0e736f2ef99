//! The texture part of a look, between the point passes: settings to the spatial steps.

use super::plan::Job;
use crate::spatial::Planes;

/// Diffusion on scene light.
pub(super) fn diffuse(_scene_lin: &mut Planes, _job: &Job) {}

/// Halation and softness on layer exposure.
pub(super) fn spread(_exposure: &mut Planes, _job: &Job) {}

/// Grain and dust on density.
pub(super) fn grain_and_dust(_density: &mut Planes, _job: &Job) {}
