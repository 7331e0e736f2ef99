//! Rendering: a look over a picture, pass by pass.
//!
//! The light path is split at its spatial steps; what lies between them is fused into one point
//! pass each. Every pass's result is kept under a key of all that it depends on, so moving a
//! control recomputes nothing that comes before it.

mod clip;
mod fast;
pub mod judge;
mod output;
mod plan;
mod plate;
pub mod pointwise;
mod quick;
mod strips;
mod texture;

pub use clip::ClipRenderer;
pub use fast::{TablePass, Vectors};
pub use output::{dither8, to_rgba8};
pub use plan::{Job, Renderer, render, unstyled};
pub use plate::{dust_plate, grain_plate, halation_plate};
pub use strips::{
    Offer, OneThread, Recent, SHARE_ROWS, Share, Sheet, Source, Taken, Work, Workers,
    render_strips, unstyled_strips,
};
pub use texture::reach_px;
