//! Edge effect: development inhibits itself, and what inhibits it diffuses.
//!
//! Couplers of colour film release an inhibitor where they develop (in black-and-white film the
//! developer's own waste does it). It diffuses a few hundredths of a millimetre before it is used
//! up. In an even field as much leaves a place as comes to it, and that is already in the
//! characteristic curve; at an edge the dense side loses some to the thin side, so the dense side
//! develops more and the thin side less:
//!
//! ```text
//! x  = a (K * D - D)             what comes more than leaves, in density
//! D' = D - x                     where x < 0
//! D' = D - x D / (D + x)         where x > 0: it can't take more than there is
//! ```
//!
//! `K` is the steady state of diffusion with loss, `K0(r / l)`, whose transfer is
//! `1 / (1 + (2 pi l f)^2)`. So small contrasts are multiplied by
//! `1 + a (2 pi l f)^2 / (1 + (2 pi l f)^2)`, and together with the emulsion's spread of light
//! (see [`super::softness`]) the film's modulation transfer rises above 1 before it falls, as makers'
//! curves do. `l` is *chosen* so that the peak lies between 5 and 15 cycles per mm, and each layer's
//! `a` so that it is [`PEAK`], *chosen* within the 1.03 to 1.10 that such curves show (from memory,
//! unverified; the mechanism is the textbooks' Eberhard effect and Mackie lines).

use super::StockData;
use super::gauge::FilmScale;
use super::softness::spread_transfer;
use crate::look::{Negative, effective_amount};
use crate::path::plan::{InMotion, OnFilm, Reach, Spreading};
use crate::spatial::gaussian::{Fineness, diffused};
use crate::spatial::step::{SpreadStep, spread_whole};
use crate::spatial::{Planes, Spread, Window};
use lookwright_colour::lane::{Lane, widest};

/// Largest modulation transfer of film with its own edge effect.
pub const PEAK: f64 = 1.06;
/// How far the inhibitor diffuses before it is used up.
pub const REACH_UM: f64 = 20.0;

/// The edge effect, ready for use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeParams {
    /// The share `a` of each layer, red, green, blue.
    pub shares: [f64; 3],
    /// The diffusion's length `l` in um.
    pub reach_um: f64,
}

impl EdgeParams {
    /// For a stock whose layers spread light so that contrast is half at these frequencies, in
    /// cycles per mm: `strength` times its own effect, which diffuses `reach` times as far.
    #[must_use]
    pub fn of(mtf50_per_mm: [f64; 3], strength: f64, reach: f64) -> Self {
        Self {
            shares: mtf50_per_mm.map(|per_mm| strength * own_share(per_mm)),
            reach_um: REACH_UM * reach,
        }
    }

    /// What a layer's contrast in density is multiplied by at a frequency in cycles per mm.
    #[must_use]
    pub fn transfer(&self, layer: usize, per_mm: f64) -> f64 {
        gain(self.shares[layer], self.reach_um, per_mm)
    }
}

/// `1 + a (2 pi l f)^2 / (1 + (2 pi l f)^2)`.
fn gain(share: f64, reach_um: f64, per_mm: f64) -> f64 {
    let turn = 2.0 * core::f64::consts::PI * reach_um * per_mm / 1000.0;
    1.0 + share * turn * turn / (1.0 + turn * turn)
}

/// The share with which a layer's largest transfer is [`PEAK`], by halving.
fn own_share(mtf50_per_mm: f64) -> f64 {
    let per_mm = mtf50_per_mm.clamp(10.0, 200.0);
    let peak = |share: f64| {
        (1..=400)
            .map(|step| 0.1 * f64::from(step))
            .map(|f| spread_transfer(per_mm, f) * gain(share, REACH_UM, f))
            .fold(0.0, f64::max)
    };
    let (mut low, mut high) = (0.0, LARGEST_SHARE);
    for _ in 0..30 {
        let middle = f64::midpoint(low, high);
        if peak(middle) < PEAK {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

/// A layer too soft to reach the peak with this has no more.
const LARGEST_SHARE: f64 = 0.4;
/// Diffusion over less than this is not seen: a pixel's own area is averaged before.
const SMALLEST_REACH_PX: f64 = 0.1;

/// Adds the edge effect to density above base in place. `density` is the whole picture. Finite for
/// finite densities.
pub fn add_edges(density: &mut Planes, scale: &FilmScale, params: &EdgeParams) {
    if let Some(step) = Inhibiting::new(density.width, density.height, scale, params) {
        spread_whole(&step, density);
    }
}

/// The look's edge effect, if it acts. Half the amount is half of what is held back.
pub fn node(negative: &Negative) -> Option<OnFilm<EdgeParams>> {
    let (step, stock) = (&negative.edge, &negative.stock);
    let strength = step.strength * effective_amount(step);
    (strength > 0.0).then(|| {
        let mtf50_per_mm = StockData::of(stock).mtf50_per_mm;
        OnFilm {
            gauge: stock.gauge,
            params: EdgeParams::of(mtf50_per_mm, strength, step.reach),
        }
    })
}

impl Spreading for OnFilm<EdgeParams> {
    fn reach(&self) -> Reach {
        Reach::Um(6.0 * self.params.reach_um)
    }

    fn step(&self, size: (usize, usize), window: &Window) -> Option<Box<dyn SpreadStep>> {
        let step = Inhibiting::new(size.0, size.1, &self.scale(window), &self.params)?;
        Some(Box::new(step))
    }

    fn in_motion(&self, window: &Window) -> InMotion {
        // `K0(r / l)` has a variance of `2 l^2` along each axis.
        let reach_px = self.scale(window).px(self.params.reach_um);
        InMotion::Gaussian([2.0 * reach_px * reach_px; 3])
    }
}

/// The edge effect of pictures of one size.
#[derive(Clone, Debug)]
pub struct Inhibiting {
    kernel: Spread,
    shares: [f32; 3],
}

impl Inhibiting {
    /// For a picture of `width` by `height` pixels; none if nothing would show.
    #[must_use]
    pub fn new(
        width: usize,
        height: usize,
        scale: &FilmScale,
        params: &EdgeParams,
    ) -> Option<Self> {
        let reach_px = scale.px(params.reach_um);
        let shows = reach_px >= SMALLEST_REACH_PX && params.shares.iter().any(|&a| a > 0.0);
        shows.then(|| Self {
            kernel: Spread::new(width, height, &diffused(reach_px, Fineness::Octaves), None),
            shares: params.shares.map(|a| a as f32),
        })
    }
}

impl SpreadStep for Inhibiting {
    fn kernel(&self, layer: usize) -> Option<&Spread> {
        (self.shares[layer] > 0.0).then_some(&self.kernel)
    }

    fn source(&self, layer: &[f32], light: &mut [f32]) {
        light.copy_from_slice(layer);
    }

    fn join(&self, row: [&mut [f32]; 3], spread: [&[f32]; 3]) {
        for ((row, spread), &share) in row.into_iter().zip(spread).zip(&self.shares) {
            if share > 0.0 {
                widest(
                    #[inline(always)]
                    || {
                        for (density, around) in row.iter_mut().zip(spread) {
                            *density = inhibited(*density, *around, share);
                        }
                    },
                );
            }
        }
    }
}

/// Density where its surroundings' is `around`. Even fields stay, to the bit.
#[inline(always)]
pub fn inhibited<L: Lane>(density: L, around: L, share: f32) -> L {
    let more = (around - density) * share;
    let nothing = density.of(0.0);
    let (comes, leaves) = (more.max(nothing), (-more).max(nothing));
    let there = density.max(nothing);
    let taken = comes * there / (there + comes).max(density.of(f32::MIN_POSITIVE));
    density - taken + leaves
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::{Look, Options, StartingStock};
    use crate::path::negative::StockData;
    use crate::path::negative::softness::{SoftnessParams, soften};

    fn film(um_per_pixel: f64) -> FilmScale {
        FilmScale {
            um_per_pixel,
            first_pixel: (0, 0),
        }
    }

    fn stocks() -> impl Iterator<Item = [f64; 3]> {
        StartingStock::ALL
            .iter()
            .map(|start| StockData::of(&Look::starting(*start).negative.stock).mtf50_per_mm)
    }

    /// Modulation that a sine target of `per_mm` keeps through the emulsion's spread and the edge
    /// effect, for each layer. Exposure to density at small contrast is a straight line, so it is
    /// left out.
    fn sine_target(mtf50_per_mm: [f64; 3], per_mm: f64, um_per_pixel: f64) -> [f64; 3] {
        // Whole cycles, 10 or more, and as much again around them.
        let cycles = libm::ceil(per_mm * 0.8).max(10.0);
        let measured = libm::round(cycles / per_mm * 1000.0 / um_per_pixel) as usize;
        let per_pixel = cycles / measured as f64;
        let width = 2 * measured;
        let turn = |x: usize| 2.0 * core::f64::consts::PI * per_pixel * (x as f64 + 0.5);
        let mut planes = Planes::filled(width, 3, 0.0);
        for plane in &mut planes.planes {
            for (i, v) in plane.iter_mut().enumerate() {
                *v = (0.8 + 0.02 * libm::sin(turn(i % width))) as f32;
            }
        }
        let softness = SoftnessParams {
            mtf50_per_mm,
            spread: 1.0,
        };
        soften(&mut planes, &film(um_per_pixel), &softness);
        let params = EdgeParams::of(mtf50_per_mm, 1.0, 1.0);
        add_edges(&mut planes, &film(um_per_pixel), &params);
        [0, 1, 2].map(|layer| {
            let row = planes.row(layer, 1);
            let from = measured / 2;
            let sum = |f: fn(f64) -> f64| -> f64 {
                (from..from + measured)
                    .map(|x| (f64::from(row[x]) - 0.8) * f(turn(x)))
                    .sum()
            };
            let (s, c) = (sum(libm::sin), sum(libm::cos));
            2.0 * (s * s + c * c).sqrt() / measured as f64 / 0.02
        })
    }

    #[test]
    fn a_sine_target_comes_out_with_the_modulation_of_the_closed_form() {
        // (1 + (2 pi s f)^2)^(-3/2) of the spread, times 1 + a (2 pi l f)^2 / (1 + (2 pi l f)^2).
        for mtf50 in stocks() {
            let params = EdgeParams::of(mtf50, 1.0, 1.0);
            for per_mm in [2.0, 5.0, 10.0, 20.0, 40.0] {
                for um_per_pixel in [1.0, 2.5] {
                    let found = sine_target(mtf50, per_mm, um_per_pixel);
                    for layer in 0..3 {
                        let truth =
                            spread_transfer(mtf50[layer], per_mm) * params.transfer(layer, per_mm);
                        // The emulsion's spread itself is within 0.02 at half contrast.
                        let bound = if per_mm < 30.0 { 0.01 } else { 0.025 };
                        assert!(
                            (found[layer] - truth).abs() < bound,
                            "{per_mm}/mm, {um_per_pixel} um, layer {layer}: {} for {truth}",
                            found[layer]
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn every_stock_peaks_at_103_to_110_percent_between_5_and_15_cycles_per_mm() {
        for mtf50 in stocks() {
            let mut peaks = [(0.0_f64, 0.0_f64); 3];
            for step in 0..30 {
                let per_mm = 1.0 + f64::from(step);
                let found = sine_target(mtf50, per_mm, 2.5);
                for (peak, found) in peaks.iter_mut().zip(found) {
                    if found > peak.0 {
                        *peak = (found, per_mm);
                    }
                }
            }
            for (height, at) in peaks {
                assert!((1.03..=1.10).contains(&height), "{height} at {at}/mm");
                assert!((5.0..=15.0).contains(&at), "{height} at {at}/mm");
            }
        }
    }

    #[test]
    fn no_effect_is_the_identity_and_an_even_field_stays() {
        let scale = film(6.0);
        let mut planes = Planes::filled(40, 30, 0.7);
        planes.planes[1][77] = 1.9;
        let before = planes.clone();
        add_edges(&mut planes, &scale, &EdgeParams::of([45.0; 3], 0.0, 1.0));
        assert_eq!(planes, before);
        for density in [0.0, 0.3, 2.2] {
            let mut even = Planes::filled(40, 30, density);
            add_edges(&mut even, &scale, &EdgeParams::of([45.0; 3], 3.0, 2.0));
            for value in even.planes.iter().flatten() {
                assert!((value - density).abs() < 2e-6, "{value} {density}");
            }
        }
    }

    #[test]
    fn an_edge_swings_on_both_sides_and_never_below_base() {
        let (width, um) = (200, 4.0);
        let step = |low: f32, high: f32| {
            let mut planes = Planes::filled(width, 3, low);
            for plane in &mut planes.planes {
                for row in plane.chunks_mut(width) {
                    row[width / 2..].fill(high);
                }
            }
            add_edges(&mut planes, &film(um), &EdgeParams::of([45.0; 3], 1.0, 1.0));
            planes.row(1, 1).to_vec()
        };
        let row = step(0.4, 1.4);
        assert!(
            row[width / 2] > 1.42 && row[width / 2 - 1] < 0.38,
            "{row:?}"
        );
        assert!((row[10] - 0.4).abs() < 1e-3 && (row[width - 10] - 1.4).abs() < 1e-3);
        assert!(step(0.0, 2.2).iter().all(|&density| density >= 0.0));
        assert!(step(0.02, 2.2).iter().all(|&density| density >= 0.0));
    }

    #[test]
    fn what_inhibition_takes_and_gives_joins_smoothly() {
        let at = |around: f32| f64::from(inhibited(0.5_f32, around, 0.15));
        let slope = |around: f32| (at(around + 0.01) - at(around - 0.01)) / 0.02;
        assert!((slope(0.48) - slope(0.52)).abs() < 5e-3);
        // More around it always leaves less.
        for i in 0..200 {
            let around = i as f32 * 0.01;
            assert!(at(around + 0.01) <= at(around));
        }
    }

    #[test]
    fn odd_input_stays_finite() {
        for (width, height) in [(1, 1), (5, 3)] {
            for um in [1e-3, 6.0, 3e4] {
                let mut planes = Planes::filled(width, height, 1.0);
                planes.planes[0][0] = -4.0;
                planes.planes[1][0] = 60.0;
                add_edges(
                    &mut planes,
                    &film(um),
                    &EdgeParams::of([0.0, 1e9, 45.0], 3.0, 3.0),
                );
                assert!(planes.planes.iter().flatten().all(|v| v.is_finite()));
            }
        }
    }
}
