//! Softness for moving pictures: each layer's spread as one Gaussian of the same variance.
//!
//! The emulsion's `exp(-r / a)` has a variance of `3 a^2` along each axis. On a preview that is a
//! fraction of a pixel, where kernels of equal variance can't be told apart.

use lookwright_colour::lane::widest;
use lookwright_film::path::negative::gauge::FilmScale;
use lookwright_film::path::negative::softness::{SoftnessParams, scale_um};
use lookwright_film::spatial::Planes;

/// Below this variance, in square pixels, a layer stays as it is: as in the exact step, a pixel
/// keeps all but a hundredth of its light.
const SMALLEST_VARIANCE: f64 = 3.0 * 0.04 * 0.04;
/// Up to this variance three taps of the right variance are the kernel.
const THREE_TAPS: f64 = 0.4;

/// Softness for pictures at one scale.
pub(super) struct Soft {
    /// From the middle outwards, per layer; none where nothing shows.
    taps: [Option<Vec<f32>>; 3],
    across: Vec<f32>,
}

impl Soft {
    pub(super) fn new(scale: &FilmScale, params: &SoftnessParams) -> Option<Self> {
        let taps = params.mtf50_per_mm.map(|per_mm| {
            let reach_px = scale.px(scale_um(per_mm.max(0.1)) * params.spread.max(0.0));
            let variance = 3.0 * reach_px * reach_px;
            (variance >= SMALLEST_VARIANCE).then(|| half_kernel(variance))
        });
        taps.iter().any(Option::is_some).then_some(Self {
            taps,
            across: Vec::new(),
        })
    }

    /// Softens layer exposure in place.
    pub(super) fn run(&mut self, exposure: &mut Planes) {
        let (width, height) = (exposure.width, exposure.height);
        for (plane, taps) in exposure.planes.iter_mut().zip(&self.taps) {
            let Some(taps) = taps else { continue };
            self.across.resize(plane.len(), 0.0);
            for (from, to) in plane.chunks(width).zip(self.across.chunks_mut(width)) {
                widest(
                    #[inline(always)]
                    || along(from, to, taps),
                );
            }
            let row = |y: usize| &self.across[y * width..][..width];
            for (y, to) in plane.chunks_mut(width).enumerate() {
                widest(
                    #[inline(always)]
                    || {
                        for (to, from) in to.iter_mut().zip(row(y)) {
                            *to = from * taps[0];
                        }
                        for (far, tap) in taps.iter().enumerate().skip(1) {
                            let above = row(y.saturating_sub(far));
                            let below = row((y + far).min(height - 1));
                            for ((to, a), b) in to.iter_mut().zip(above).zip(below) {
                                *to += (a + b) * tap;
                            }
                        }
                    },
                );
            }
        }
    }
}

/// One row, edges held.
#[inline(always)]
fn along(from: &[f32], to: &mut [f32], taps: &[f32]) {
    let (width, far) = (from.len(), taps.len() - 1);
    let at = |x: usize| {
        let sides = taps.iter().enumerate().skip(1);
        let around = |(d, tap): (usize, &f32)| {
            (from[x.saturating_sub(d)] + from[(x + d).min(width - 1)]) * tap
        };
        from[x] * taps[0] + sides.map(around).sum::<f32>()
    };
    if width <= 2 * far {
        for (x, to) in to.iter_mut().enumerate() {
            *to = at(x);
        }
        return;
    }
    let inside = &mut to[far..width - far];
    for (to, from) in inside.iter_mut().zip(&from[far..]) {
        *to = from * taps[0];
    }
    for (d, tap) in taps.iter().enumerate().skip(1) {
        let pairs = from[far - d..].iter().zip(&from[far + d..]);
        for (to, (left, right)) in inside.iter_mut().zip(pairs) {
            *to += (left + right) * tap;
        }
    }
    for x in (0..far).chain(width - far..width) {
        to[x] = at(x);
    }
}

/// A kernel of this variance, from its middle outwards; all its taps sum to 1.
fn half_kernel(variance: f64) -> Vec<f32> {
    if variance <= THREE_TAPS {
        return vec![(1.0 - variance) as f32, (variance / 2.0) as f32];
    }
    let far = libm::ceil(3.0 * variance.sqrt()) as usize;
    let tap = |d: usize| libm::exp(-((d * d) as f64) / (2.0 * variance));
    let total = 1.0 + 2.0 * (1..=far).map(tap).sum::<f64>();
    (0..=far).map(|d| (tap(d) / total) as f32).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_film::path::negative::softness::soften;

    #[test]
    fn a_point_spreads_as_far_as_in_the_exact_step() {
        // From far below a pixel to two of them.
        for um_per_pixel in [24.0, 8.0, 2.0] {
            let scale = FilmScale {
                um_per_pixel,
                first_pixel: (0, 0),
            };
            let params = SoftnessParams {
                mtf50_per_mm: [40.0, 50.0, 60.0],
                spread: 1.0,
            };
            let (width, height) = (61, 61);
            let mut point = Planes::filled(width, height, 0.0);
            point.planes[0][30 * width + 30] = 1.0;
            let mut exact = point.clone();
            soften(&mut exact, &scale, &params);
            Soft::new(&scale, &params).unwrap().run(&mut point);
            let moments = |plane: &[f32]| {
                let (mut sum, mut second) = (0.0, 0.0);
                for (i, v) in plane.iter().enumerate() {
                    let x = (i % width) as f64 - 30.0;
                    sum += f64::from(*v);
                    second += x * x * f64::from(*v);
                }
                (sum, second)
            };
            let (sum, second) = moments(&point.planes[0]);
            assert!((sum - 1.0).abs() < 1e-4, "{sum}");
            let reach = scale.px(scale_um(40.0));
            let aim = 3.0 * reach * reach;
            assert!((second / aim - 1.0).abs() < 0.06, "{second} of {aim}");
            let centre = |p: &Planes| p.planes[0][30 * width + 30];
            // An exponential is more pointed than a Gaussian.
            assert!((centre(&point) - centre(&exact)).abs() < 0.25);
        }
    }

    #[test]
    fn an_even_field_stays_and_edges_too() {
        let scale = FilmScale {
            um_per_pixel: 3.0,
            first_pixel: (0, 0),
        };
        let params = SoftnessParams {
            mtf50_per_mm: [40.0; 3],
            spread: 2.0,
        };
        for size in [(40, 30), (3, 2), (1, 1)] {
            let mut even = Planes::filled(size.0, size.1, 0.5);
            Soft::new(&scale, &params).unwrap().run(&mut even);
            let far = even.planes.iter().flatten().map(|v| (v - 0.5).abs());
            assert!(far.fold(0.0, f32::max) < 1e-6);
        }
    }
}
