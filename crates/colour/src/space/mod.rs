//! Colour spaces: primaries, whites, adaptation, colour temperature and colour difference.
//!
//! Everything here is set-up in double precision; pixels meet it as a [`crate::PixelMatrix`].
//! XYZ is relative: the white has Y = 1.

mod adapt;
mod chromaticity;
mod cmf;
mod daylight;
mod delta_e;
mod lab;
mod locus;
mod planck;
pub mod primaries;
mod temperature;
pub mod white;

pub use adapt::{Cat, adaptation, rgb_to_rgb};
pub use chromaticity::{Uv, Xy};
pub use daylight::daylight;
pub use delta_e::delta_e_2000;
pub use lab::Lab;
pub use locus::spectral_locus;
pub use planck::planck;
pub use primaries::Primaries;
pub use temperature::{
    DUV_MAX, KELVIN_MAX, KELVIN_MIN, Temperature, planckian_white, temperature_of, white_of,
};

/// Every cell of a matrix within `tolerance` of another's.
#[cfg(test)]
fn assert_cells(ours: crate::Mat3, theirs: [[f64; 3]; 3], tolerance: f64) {
    for (ours, theirs) in ours.0.iter().flatten().zip(theirs.iter().flatten()) {
        assert!((ours - theirs).abs() <= tolerance, "{ours} for {theirs}");
    }
}
