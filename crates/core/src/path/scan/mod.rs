//! Scan: density to flat log code, and what a colourist does on it.

pub mod code;
mod contrast;
mod points;

pub use contrast::Contrast;
pub use points::{POINT_LOG_E, Points};

use crate::Rgb;
use crate::lane::Lane;
use crate::look::{self, effective_amount};

/// The scan, prepared for pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct ScanPoint {
    timing: [f32; 3],
    points: Option<Points>,
    contrast: Option<Contrast>,
}

impl ScanPoint {
    /// From the look's scan stage and the densities that the set-up adds (the stock's timing).
    pub fn new(settings: &look::Scan, timing: [f32; 3]) -> Self {
        Self {
            timing,
            points: Points::new(&settings.points, effective_amount(&settings.points)),
            contrast: Contrast::new(&settings.contrast, effective_amount(&settings.contrast)),
        }
    }

    /// Density above base to the finished scan's code of 1.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, density: Rgb<L>) -> Rgb<L> {
        let mut log_code = code::to_code(density, self.timing);
        if let Some(step) = &self.points {
            log_code = step.apply(log_code);
        }
        if let Some(step) = &self.contrast {
            log_code = step.apply(log_code);
        }
        log_code
    }
}
