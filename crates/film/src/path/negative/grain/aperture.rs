//! How the film's white noise becomes the grain that a pixel sees, along one axis, and how much
//! of it a densitometer's aperture sees.
//!
//! White noise is clumped by a Gaussian of standard deviation `sigma` and averaged over the pixel's
//! own width `p`. Both are separable, and a cell's weight has a closed form: the integral over the
//! cell of the Gaussian's and the box's convolution.

use core::f64::consts::PI;

/// Radius of the aperture that RMS granularity is measured with (ISO 10505: 48 um across).
pub(super) const RMS_APERTURE_RADIUS_UM: f64 = 24.0;
/// The Gaussian is cut at this many standard deviations; 3e-3 of it lies outside.
const CUT: f64 = 3.0;

/// Numbers side by side: one per layer, and one of padding.
pub(super) const LANES: usize = 4;

/// Places within a cell that a pixel's window may begin at: a few nanometres apart.
const PHASES: i64 = 256;

/// What pixels see of cells, along one axis: a window of cells and their weights, which depend on
/// where in its first cell the window begins.
#[derive(Clone, Debug)]
pub(super) struct Window {
    pixel_cells: f64,
    half_cells: f64,
    /// Cells that every pixel sees.
    pub(super) taps: usize,
    /// `taps` weights for each phase, for three layers; the fourth is 0.
    weights: Vec<[f32; LANES]>,
}

/// Which cells each of some pixels sees.
#[derive(Clone, Debug)]
pub(super) struct Places {
    /// The first pixel's first cell.
    pub(super) first_cell: i32,
    /// Each pixel's first cell, counted from `first_cell`, and its phase.
    pub(super) starts: Vec<(u32, u32)>,
}

/// The coarsest level whose cells (of `2^level` um) are fine enough for pixels of `pixel_um` and
/// clumps of `sigma_um`: no wider than 5/3 of the standard deviation of both together.
pub(super) fn level_for(pixel_um: f64, sigma_um: f64, top: usize) -> usize {
    let spread = (sigma_um * sigma_um + pixel_um * pixel_um / 12.0).sqrt();
    let level = libm::floor(libm::log2(spread / 0.6));
    (level.max(0.0) as usize).min(top)
}

impl Window {
    /// For pixels of `pixel_um`, cells of `cell_um`, and the layers' clumps. The weights sum to 1,
    /// times `1 / sqrt(cell_um)`: both axes together make a field of unit spectral density (per
    /// square micrometre) from cells of variance 1.
    pub(super) fn new(pixel_um: f64, cell_um: f64, sigma_um: [f64; 3]) -> Self {
        let widest = sigma_um.iter().fold(0.0_f64, |a, &b| a.max(b));
        let half = pixel_um / 2.0 + CUT * widest;
        let taps = libm::ceil(2.0 * half / cell_um) as usize + 1;
        let weights = (0..PHASES).flat_map(|phase| {
            let from = -half - phase as f64 / PHASES as f64 * cell_um;
            let [red, green, blue] = sigma_um.map(|sigma| {
                let edges: Vec<f64> = (0..=taps)
                    .map(|tap| cumulative(from + tap as f64 * cell_um, pixel_um, sigma))
                    .collect();
                let total = (edges[taps] - edges[0]) * cell_um.sqrt();
                let weight = |pair: &[f64]| ((pair[1] - pair[0]) / total) as f32;
                edges.windows(2).map(weight).collect::<Vec<f32>>()
            });
            (0..taps).map(move |tap| [red[tap], green[tap], blue[tap], 0.0])
        });
        Self {
            pixel_cells: pixel_um / cell_um,
            half_cells: half / cell_um,
            taps,
            weights: weights.collect(),
        }
    }

    /// For the pixels `first_pixel .. first_pixel + count` of the film.
    pub(super) fn places(&self, first_pixel: u32, count: usize) -> Places {
        let place = |pixel: usize| {
            let centre = (f64::from(first_pixel) + pixel as f64 + 0.5) * self.pixel_cells;
            let phases = libm::round((centre - self.half_cells) * PHASES as f64) as i64;
            (
                phases.div_euclid(PHASES) as i32,
                phases.rem_euclid(PHASES) as u32,
            )
        };
        let first_cell = place(0).0;
        let starts = (0..count).map(|pixel| {
            let (cell, phase) = place(pixel);
            ((cell - first_cell) as u32, phase)
        });
        Places {
            first_cell,
            starts: starts.collect(),
        }
    }

    /// The weights of one phase.
    #[inline(always)]
    pub(super) fn of(&self, phase: u32) -> &[[f32; LANES]] {
        let first = phase as usize * self.taps;
        &self.weights[first..first + self.taps]
    }
}

/// The share of the convolution of a box of width `p` and a Gaussian that lies below `u`.
fn cumulative(u: f64, p: f64, sigma: f64) -> f64 {
    // The integral of the Gaussian's cumulative distribution.
    let ramp = |u: f64| {
        if sigma < 1e-9 {
            return u.max(0.0);
        }
        let z = u / sigma;
        let phi = libm::exp(-z * z / 2.0) / (2.0 * PI).sqrt();
        u * 0.5 * libm::erfc(-z / core::f64::consts::SQRT_2) + sigma * phi
    };
    (ramp(u + p / 2.0) - ramp(u - p / 2.0)) / p
}

/// Variance of white noise of unit spectral density, clumped by a Gaussian of `sigma_um`, as a
/// circular aperture of `radius_um` sees it, per square micrometre. For fine grain it is one over
/// the aperture's area (Selwyn's law); coarser grain is seen less of.
///
/// `1 / A^2` times the integral of the aperture's autocorrelation and the clump's.
pub(super) fn seen_variance(radius_um: f64, sigma_um: f64) -> f64 {
    let area = PI * radius_um * radius_um;
    if sigma_um < 1e-3 {
        return 1.0 / area;
    }
    let overlap = |h: f64| {
        let x = (h / (2.0 * radius_um)).min(1.0);
        let lens = 2.0 * radius_um * radius_um * libm::acos(x);
        lens - h * radius_um * (1.0 - x * x).max(0.0).sqrt()
    };
    // The clump's autocorrelation is a Gaussian of twice the variance; midpoints over h.
    let variance = 2.0 * sigma_um * sigma_um;
    let end = (2.0 * radius_um).min(8.0 * variance.sqrt());
    const STEPS: usize = 2000;
    let step = end / STEPS as f64;
    let sum: f64 = (0..STEPS)
        .map(|i| (i as f64 + 0.5) * step)
        .map(|h| h / variance * libm::exp(-h * h / (2.0 * variance)) * overlap(h) * step)
        .sum();
    sum / (area * area)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fine_grain_follows_selwyn_and_coarse_grain_is_seen_less_of() {
        let area = PI * 24.0 * 24.0;
        assert!((area - 1_809.557_368).abs() < 1e-6);
        assert!((seen_variance(24.0, 0.1) * area - 1.0).abs() < 0.005);
        // Very coarse: the aperture sees the field's own variance, 1 / (4 pi sigma^2).
        let coarse = seen_variance(24.0, 400.0) * 4.0 * PI * 400.0 * 400.0;
        assert!((coarse - 1.0).abs() < 0.005, "{coarse}");
    }

    #[test]
    fn weights_hold_the_moments_of_box_and_gaussian() {
        let window = Window::new(6.0, 1.0, [2.0, 1.0, 0.0]);
        let places = window.places(3, 5);
        for pixel in 0..5 {
            let centre = (3.5 + pixel as f64) * 6.0;
            for (layer, sigma) in [2.0, 1.0, 0.0].into_iter().enumerate() {
                let (mut sum, mut first, mut second) = (0.0, 0.0, 0.0);
                let (start, phase) = places.starts[pixel];
                for (tap, w) in window.of(phase).iter().enumerate() {
                    let cell = places.first_cell + start as i32 + tap as i32;
                    let off = f64::from(cell) + 0.5 - centre;
                    sum += f64::from(w[layer]);
                    first += off * f64::from(w[layer]);
                    second += off * off * f64::from(w[layer]);
                }
                assert!((sum - 1.0).abs() < 1e-6 && first.abs() < 5e-3);
                // A cell's own width adds nothing here: its edges lie on the pixel's.
                let variance = sigma * sigma + 36.0 / 12.0;
                assert!((second / variance - 1.0).abs() < 0.03, "{sigma}: {second}");
            }
        }
    }

    #[test]
    fn levels_follow_the_wider_of_pixel_and_clump() {
        assert_eq!(level_for(6.08, 3.75, 8), 2);
        assert_eq!(level_for(0.3, 0.5, 8), 0);
        assert_eq!(level_for(1e6, 4.0, 8), 8);
    }
}
