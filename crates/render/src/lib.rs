//! Rendering: a look over a picture, pass by pass.
//!
//! What is done, and in which order, is said by the plan ([`lookwright_film::path::plan`]); here are
//! the ways to do it. None of them knows a step by name.
//!
//! - [`Renderer`]: a whole picture again and again, with what can be kept from before; quickly, while
//!   a control moves.
//! - [`render_strips`], [`Partition`]: a picture in strips, and in parts on workers without common memory.
//! - [`Detail`]: a part of a picture at full size, for looking at it.
//! - [`ClipRenderer`]: frames of a clip while it plays.
//! - [`Job::budget`]: what a picture would cost, before it is there.
//! - [`swings`]: what a step on the film does to a grey scale.

mod budget;
mod clip;
mod detail;
#[cfg(test)]
mod every_control;
mod fast;
mod job;
pub mod judge;
mod kept;
mod output;
pub mod pointwise;
mod quick;
#[cfg(test)]
mod reference;
mod strips;
mod swing;
#[cfg(test)]
mod tests;

pub use budget::{Budget, strip_pixels};
pub use clip::ClipRenderer;
pub use detail::Detail;
pub use fast::{TablePass, Vectors};
pub use job::Job;
pub use kept::Renderer;
pub use output::{dither8, to_rgba8};
pub use strips::{
    CarriedRows, HaloPlane, HaloRanges, OneThread, PARTITION_ROWS, Partition, PictureRows,
    RoundResults, StripResult, Workers, render_strips, unstyled_strips,
};
pub use swing::{Swing, swings};
