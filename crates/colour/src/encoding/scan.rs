//! What the codes of a film scan say of the negative.

use super::curves::{adx, film_scan};
use super::{Curve, EncodingId};
use crate::Mat3;

/// Codes of a film scan as printing density.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScanDensity {
    /// Density from code 0 to full scale.
    pub full_scale: f64,
    /// Density from code 0 to the negative's base.
    pub base: f64,
    /// Density per log10 of exposure that the encoding takes for the negative's.
    pub gamma: f64,
    /// Density above base of mid-grey on a scan that is exposed as the encoding wants it.
    pub grey: f64,
}

impl EncodingId {
    /// What the codes of a film scan say of the negative; none for all other encodings.
    pub const fn scan_density(self) -> Option<ScanDensity> {
        match self {
            Self::FilmScan => Some(film_scan::DENSITY),
            Self::Adx10 => Some(adx::DENSITY_10),
            Self::Adx16 => Some(adx::DENSITY_16),
            _ => None,
        }
    }

    /// What is to be done to the three codes before the curve, where it is not to nothing: of ADX, taking
    /// out of each channel what it has of its neighbours' dyes. Greys stay as they are.
    pub const fn unmixing(self) -> Option<Mat3> {
        match self.info().curve {
            Curve::Adx10 | Curve::Adx16 => Some(adx::UNMIXING),
            _ => None,
        }
    }
}
