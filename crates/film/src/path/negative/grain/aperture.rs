//! How the film's white noise becomes the grain that a pixel sees, along one axis, and how much
//! of it a densitometer's aperture sees.
//!
//! White noise is clumped by a Gaussian of standard deviation `sigma` and averaged over the pixel's
//! own width `p`. Both are separable, and a cell's weight has a closed form: the integral over the
//! cell of the Gaussian's and the box's convolution.
//!
//! Cells have a width too, which would blur the clumps and take from their variance. So the weights
//! are those of a narrower Gaussian, or of a narrower box too, with which a pixel sees the variance
//! that it should; see [`Kernel::within`].

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
        let kernels = sigma_um.map(|sigma| Kernel::within(cell_um, pixel_um, sigma));
        let half = kernels.iter().fold(0.0_f64, |a, k| a.max(k.half()));
        let taps = libm::ceil(2.0 * half / cell_um) as usize + 1;
        let weights = (0..PHASES).flat_map(|phase| {
            let from = -half - phase as f64 / PHASES as f64 * cell_um;
            let [red, green, blue] = kernels.map(|kernel| {
                let edges: Vec<f64> = (0..=taps)
                    .map(|tap| kernel.below(from + tap as f64 * cell_um))
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
    pub(super) fn places(&self, first_pixel: i64, count: usize) -> Places {
        let place = |pixel: usize| {
            let centre = ((first_pixel + pixel as i64) as f64 + 0.5) * self.pixel_cells;
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

/// A box and a Gaussian, convolved: how much of a place along one axis a pixel sees.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Kernel {
    box_um: f64,
    sigma_um: f64,
}

impl Kernel {
    /// What, averaged over cells, gives a pixel the variance that it sees of clumps themselves.
    fn within(cell_um: f64, pixel_um: f64, sigma_um: f64) -> Self {
        let aim = Seen::new(pixel_um, sigma_um).covariance(0.0);
        let of = |box_um, sigma_um| Self { box_um, sigma_um };
        let exceeds = |kernel: &Self| kernel.variance_in(cell_um) > aim;
        let halved = |from: &dyn Fn(f64) -> Self| {
            // The largest part at which the variance is still enough.
            let (mut low, mut high) = (0.0, 1.0);
            for _ in 0..24 {
                let middle = f64::midpoint(low, high);
                if exceeds(&from(middle)) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            from(low)
        };
        let without = of(pixel_um, 0.0);
        if exceeds(&without) {
            halved(&|part| of(pixel_um, part * sigma_um))
        } else {
            halved(&|part| of((part * pixel_um).max(1e-3), 0.0))
        }
    }

    /// The variance that it gives to white noise of unit density that comes in cells, over all
    /// places that a cell may have. Midpoints over the cell's own covariance.
    fn variance_in(&self, cell_um: f64) -> f64 {
        const STEPS: usize = 16;
        let seen = Seen::new(self.box_um, self.sigma_um);
        let weighted = (0..STEPS)
            .map(|i| (i as f64 + 0.5) / STEPS as f64)
            .map(|u| {
                let inside = 2.0 * (1.0 - u) / STEPS as f64;
                inside * seen.covariance(u * cell_um)
            });
        weighted.sum()
    }

    /// Nothing that counts lies farther out.
    fn half(&self) -> f64 {
        self.box_um / 2.0 + CUT * self.sigma_um
    }

    /// The share that lies below `u`.
    fn below(&self, u: f64) -> f64 {
        let half = self.box_um / 2.0;
        (ramp(u + half, self.sigma_um) - ramp(u - half, self.sigma_um)) / self.box_um
    }
}

/// What pixels see, along one axis, of white noise of unit density clumped by a Gaussian.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Seen {
    pixel_um: f64,
    sigma_um: f64,
}

impl Seen {
    pub(super) const fn new(pixel_um: f64, sigma_um: f64) -> Self {
        Self { pixel_um, sigma_um }
    }

    /// Covariance of two pixels that lie `apart_um` from each other: the box's own covariance, a
    /// triangle, through a Gaussian of twice the variance.
    pub(super) fn covariance(&self, apart_um: f64) -> f64 {
        let (p, spread) = (self.pixel_um, self.sigma_um * core::f64::consts::SQRT_2);
        let [before, here, after] = [-p, 0.0, p].map(|by| ramp(apart_um + by, spread));
        (before - 2.0 * here + after) / (p * p)
    }

    /// How much more skewed a count is than one over the root of its mean, as a pixel sees it along
    /// both axes: `(integral of k^3 / (integral of k^2)^2)^2` of the kernel along one.
    pub(super) fn skew(&self) -> f64 {
        const STEPS: usize = 256;
        let kernel = Kernel {
            box_um: self.pixel_um,
            sigma_um: self.sigma_um,
        };
        let step = 2.0 * (self.pixel_um / 2.0 + 4.0 * self.sigma_um) / STEPS as f64;
        let (mut squares, mut cubes) = (0.0, 0.0);
        let mut below = kernel.below(-(STEPS as f64) / 2.0 * step);
        for i in 1..=STEPS {
            let next = kernel.below((i as f64 - STEPS as f64 / 2.0) * step);
            let height = (next - below) / step;
            squares += height * height * step;
            cubes += height * height * height * step;
            below = next;
        }
        let ratio = cubes / (squares * squares);
        ratio * ratio
    }
}

/// The integral of a Gaussian's cumulative distribution.
fn ramp(u: f64, sigma: f64) -> f64 {
    if sigma < 1e-9 {
        return u.max(0.0);
    }
    let z = u / sigma;
    let phi = libm::exp(-z * z / 2.0) / (2.0 * PI).sqrt();
    u * 0.5 * libm::erfc(-z / core::f64::consts::SQRT_2) + sigma * phi
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
                // Cells blur; what they blur is taken off before, so that the variance which
                // pixels see is right, and the moment nearly so.
                let variance = sigma * sigma + 36.0 / 12.0;
                assert!((second / variance - 1.0).abs() < 0.1, "{sigma}: {second}");
            }
        }
    }

    #[test]
    fn pixels_see_the_clumps_variance_whatever_the_cells() {
        // sum of squared weights, mean over phases, for cells from fine to the coarsest taken.
        for (pixel, sigma) in [
            (6.08, 3.25),
            (12.4, 2.0),
            (3.0, 4.5),
            (20.0, 0.5),
            (1.5, 2.0),
        ] {
            let level = level_for(pixel, sigma, 8);
            for cell in [0.25, libm::exp2(level as f64)] {
                let window = Window::new(pixel, cell, [sigma; 3]);
                let squares: f64 = window.weights.iter().map(|w| f64::from(w[0]).powi(2)).sum();
                let found = squares / PHASES as f64;
                // The triangle's peak through a Gaussian: 1/p for no clumps, 1/(2 sqrt(pi) sigma)
                // for pixels far smaller than they.
                let aim = Seen::new(pixel, sigma).covariance(0.0);
                assert!(
                    (found / aim - 1.0).abs() < 0.01,
                    "{pixel} {sigma} {cell}: {}",
                    found / aim
                );
            }
        }
        assert!((Seen::new(5.0, 0.0).covariance(0.0) - 0.2).abs() < 1e-12);
        let fine = Seen::new(1e-2, 3.0).covariance(0.0);
        assert!((fine * 2.0 * PI.sqrt() * 3.0 - 1.0).abs() < 1e-4);
    }

    #[test]
    fn skewness_is_that_of_counts_in_large_pixels_and_four_thirds_at_a_point() {
        // Integrals of a Gaussian's square and cube: 1/(4 pi s^2) and 1/(12 pi^2 s^4).
        assert!((Seen::new(100.0, 0.01).skew() - 1.0).abs() < 0.01);
        assert!((Seen::new(0.01, 3.0).skew() - 4.0 / 3.0).abs() < 0.01);
    }

    #[test]
    fn levels_follow_the_wider_of_pixel_and_clump() {
        assert_eq!(level_for(6.08, 3.75, 8), 2);
        assert_eq!(level_for(0.3, 0.5, 8), 0);
        assert_eq!(level_for(1e6, 4.0, 8), 8);
    }
}
