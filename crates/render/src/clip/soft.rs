//! Narrow steps for moving pictures: each layer's spread as one Gaussian of the same variance.
//!
//! On a preview a film's own spread is a fraction of a pixel, or a pixel or two, where kernels of
//! equal variance can't be told apart.

use lookwright_colour::lane::widest;
use lookwright_film::spatial::Planes;
use lookwright_film::spatial::gaussian::gaussian_taps;
use lookwright_film::spatial::step::SpreadStep;

/// Below this variance, in square pixels, a layer stays as it is: as in the exact step, a pixel
/// keeps all but a hundredth of its light.
const SMALLEST_VARIANCE: f64 = 3.0 * 0.04 * 0.04;
/// Up to this variance, above which a Gaussian can be sampled, three taps of the right variance are
/// the kernel.
const THREE_TAPS: f64 = 0.64;

/// A step that spreads, with Gaussians in place of its kernels.
pub(super) struct Soft {
    step: Box<dyn SpreadStep>,
    /// From the middle outwards, per layer; none where nothing shows.
    taps: [Option<Vec<f32>>; 3],
    spread: Planes,
    across: Vec<f32>,
}

impl Soft {
    /// `variances` per layer, in square pixels; none if nothing would show.
    pub(super) fn new(step: Box<dyn SpreadStep>, variances: [f64; 3]) -> Option<Self> {
        let taps = variances
            .map(|variance| (variance >= SMALLEST_VARIANCE).then(|| half_kernel(variance)));
        taps.iter().any(Option::is_some).then(|| Self {
            step,
            taps,
            spread: Planes::default(),
            across: Vec::new(),
        })
    }

    /// Runs the step, in place.
    pub(super) fn run(&mut self, picture: &mut Planes) {
        let Self {
            step,
            taps,
            spread,
            across,
        } = self;
        let (width, height) = (picture.width, picture.height);
        (spread.width, spread.height) = (width, height);
        for (layer, taps) in taps.iter().enumerate() {
            let spread = &mut spread.planes[layer];
            spread.resize(width * height, 0.0);
            let rows = picture.planes[layer].chunks(width);
            for (from, to) in rows.zip(spread.chunks_mut(width)) {
                step.source(from, to);
            }
            if let Some(taps) = taps {
                across.resize(width * height, 0.0);
                blur(spread, across, width, taps);
            }
        }
        for y in 0..height {
            let span = y * width..(y + 1) * width;
            let row = picture.planes.each_mut().map(|p| &mut p[span.clone()]);
            step.join(row, spread.planes.each_ref().map(|p| &p[span.clone()]));
        }
    }
}

/// Blurs a plane in place by a kernel along both axes, edges held; `across` is of its size.
fn blur(plane: &mut [f32], across: &mut [f32], width: usize, taps: &[f32]) {
    for (from, to) in plane.chunks(width).zip(across.chunks_mut(width)) {
        widest(
            #[inline(always)]
            || along(from, to, taps),
        );
    }
    let height = plane.len() / width.max(1);
    let row = |y: usize| &across[y * width..][..width];
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
    let most = libm::ceil(3.0 * variance.sqrt()) as usize + 1;
    let taps = gaussian_taps(variance, most);
    taps.into_iter().map(|tap| tap as f32).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_film::look::{Gauge, Look};
    use lookwright_film::path::negative::softness;
    use lookwright_film::path::negative::softness::SoftnessParams;
    use lookwright_film::path::plan::{InMotion, OnFilm, Spreading};
    use lookwright_film::spatial::Window;
    use lookwright_film::spatial::step::spread_whole;

    /// The starting look's softness, times `spread`, for a picture whose pixels are that large on
    /// the film; and what it is made of.
    fn softness_at(
        um_per_pixel: f64,
        spread: f64,
        size: (usize, usize),
    ) -> (OnFilm<SoftnessParams>, Window) {
        let mut look = Look::default();
        look.negative.stock.gauge = Gauge::Super35;
        look.negative.softness.spread = spread;
        let node = softness::node(&look.negative).unwrap();
        let mut window = Window::whole(size.0, size.1);
        window.scale = node.scale(&window).um_per_pixel / um_per_pixel;
        (node, window)
    }

    fn soft(
        node: &OnFilm<SoftnessParams>,
        window: &Window,
        size: (usize, usize),
    ) -> (Soft, [f64; 3]) {
        let InMotion::Gaussian(variances) = node.in_motion(window) else {
            panic!("softness is narrow");
        };
        (
            Soft::new(node.step(size, window).unwrap(), variances).unwrap(),
            variances,
        )
    }

    #[test]
    fn a_point_spreads_as_far_as_in_the_exact_step() {
        // From far below a pixel to two of them.
        for um_per_pixel in [24.0, 8.0, 2.0] {
            let (width, height) = (61, 61);
            let (node, window) = softness_at(um_per_pixel, 1.0, (width, height));
            let (mut soft, variances) = soft(&node, &window, (width, height));
            let mut point = Planes::filled(width, height, 0.0);
            point.planes[0][30 * width + 30] = 1.0;
            let mut exact = point.clone();
            spread_whole(
                node.step((width, height), &window).unwrap().as_ref(),
                &mut exact,
            );
            soft.run(&mut point);
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
            let aim = variances[0];
            assert!((second / aim - 1.0).abs() < 0.06, "{second} of {aim}");
            let centre = |p: &Planes| p.planes[0][30 * width + 30];
            // An exponential is more pointed than a Gaussian.
            assert!((centre(&point) - centre(&exact)).abs() < 0.25);
        }
    }

    #[test]
    fn an_even_field_stays_and_edges_too() {
        for size in [(40, 30), (3, 2), (1, 1)] {
            let (node, window) = softness_at(3.0, 2.0, size);
            let mut even = Planes::filled(size.0, size.1, 0.5);
            soft(&node, &window, size).0.run(&mut even);
            let far = even.planes.iter().flatten().map(|v| (v - 0.5).abs());
            assert!(far.fold(0.0, f32::max) < 1e-6);
        }
    }
}
