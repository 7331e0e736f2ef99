//! Diffusion: a mist filter before the lens lets part of the light stray widely.
//!
//! ```text
//! out = in + a k (spread(in) - in)
//! ```
//!
//! with `a` the share that strays and `spread` a mixture of three kernels of `(1 + (r/R)^2)^-2`: a
//! wide one that holds half of its light within the reach `R`, and two that are 4 and 16 times as
//! narrow. They hold all of their light, so without shadow hold the step is linear and no light is lost.
//! No measured kernel of such a filter is published: conservation of energy and a heavy tail are
//! all that can be defended (common practice, no source), and the rest was chosen on pictures.
//!
//! Shadow hold `h` is what the black kind of filter does: its absorbing particles swallow part of
//! the faint veil. `k = 1 - h p^2 / (p^2 + s^2)` with `s` the strayed light's brightness: where
//! little light strays to, it is held back, around lamps it is not.
//!
//! A ceiling `T` keeps what strays from a very bright thing to that of a bright one: of light `x` above it
//! only `T + T f((x - T) / T)`, `f(t) = t / sqrt(1 + t^2)`, takes part, and the rest goes straight on. No
//! filter does that; it lets one look serve a lamp and a window. No light is lost.

use crate::look::{Lens, effective_amount};
use crate::path::bend::bent;
use crate::path::negative::GREY_SCENE_LIN;
use crate::path::plan::{InMotion, Reach, Spreading};
use crate::spatial::gaussian::{Fineness, inverse_fourth};
use crate::spatial::step::{SpreadStep, spread_whole};
use crate::spatial::{Gaussian, Planes, Spread, Window};
use lookwright_colour::Rgb;
use lookwright_colour::lane::{Lane, widest};

/// Diffusion, ready for use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DiffusionParams {
    /// Share of the light that strays, 0 to 1. 0 changes nothing.
    pub strength: f64,
    /// Radius that holds half of the widely strayed light, in percent of the picture's diagonal.
    pub reach_percent_of_diagonal: f64,
    /// How far the faint veil is held off the shadows, 0 (linear) to 1.
    pub shadow_hold: f64,
    /// Scene light above which no more strays; none without an end.
    pub ceiling: Option<f64>,
}

/// The kernels' widths relative to the reach, and their shares.
const PARTS: [(f64, f64); 3] = [(1.0, 0.55), (0.25, 0.25), (0.0625, 0.20)];
/// Brightness of strayed light of which shadow hold swallows half: two and a half stops below
/// mid-grey.
const HELD_SCENE_LIN: f64 = 0.03;
/// The ceiling's control at its end means none, in stops.
const NO_CEILING: f64 = 12.0;
/// Weights of AP1 red, green and blue in brightness (their Y in the ACEScg primaries).
const BRIGHTNESS: [f32; 3] = [0.272_228_72, 0.674_081_77, 0.053_689_52];
/// Scene light beyond this, 22 stops above mid-grey, counts as this; not-a-number counts as 0.
pub const LARGEST_SCENE_LIN: f32 = 1e6;

/// The kernel's Gaussians in pixels, for a reach in pixels.
#[must_use]
pub fn kernel_px(reach_px: f64) -> Vec<Gaussian> {
    PARTS
        .iter()
        .flat_map(|&(width, part)| {
            inverse_fourth(reach_px * width, Fineness::Octaves)
                .into_iter()
                .map(move |gaussian| Gaussian {
                    share: gaussian.share * part,
                    ..gaussian
                })
        })
        .collect()
}

/// Diffuses scene light in place. `scene_lin` is the whole picture; `window` says at which
/// scale.
///
/// Always finite. Reaches of any size are allowed, also larger than the picture.
pub fn diffuse(scene_lin: &mut Planes, window: &Window, params: &DiffusionParams) {
    if let Some(step) = Diffusion::new(scene_lin.width, scene_lin.height, window, params) {
        spread_whole(&step, scene_lin);
    }
}

/// Diffusion of pictures of one size.
#[derive(Clone, Debug)]
pub struct Diffusion {
    kernel: Spread,
    veil: Veil,
    ceiling: Option<f32>,
}

impl Diffusion {
    /// For a picture of `width` by `height` pixels; none if no light strays.
    #[must_use]
    pub fn new(
        width: usize,
        height: usize,
        window: &Window,
        params: &DiffusionParams,
    ) -> Option<Self> {
        let strength = params.strength.clamp(0.0, 1.0) as f32;
        let reach_px = params.reach_percent_of_diagonal / 100.0 * window.diagonal_px();
        (strength > 0.0).then(|| Self {
            kernel: Spread::new(width, height, &kernel_px(reach_px), None),
            veil: Veil::new(strength, params.shadow_hold),
            ceiling: params.ceiling.map(|most| most as f32),
        })
    }
}

impl SpreadStep for Diffusion {
    fn kernel(&self, _layer: usize) -> Option<&Spread> {
        Some(&self.kernel)
    }

    fn source(&self, layer: &[f32], light: &mut [f32]) {
        for (to, from) in light.iter_mut().zip(layer) {
            *to = straying(finite(*from), self.ceiling);
        }
    }

    fn join(&self, row: [&mut [f32]; 3], spread: [&[f32]; 3]) {
        widest(
            #[inline(always)]
            || {
                let ([r, g, b], [sr, sg, sb]) = (row, spread);
                let pixels = r.iter_mut().zip(g).zip(b);
                for (((r, g), b), ((sr, sg), sb)) in pixels.zip(sr.iter().zip(sg).zip(sb)) {
                    let straight = Rgb::new(finite(*r), finite(*g), finite(*b));
                    let takes_part = straight.map(|light| straying(light, self.ceiling));
                    let out = self.veil.add(straight, takes_part, Rgb::new(*sr, *sg, *sb));
                    (*r, *g, *b) = (out.r, out.g, out.b);
                }
            },
        );
    }
}

/// The look's diffusion, if it acts. Half the amount is half the stray light.
pub fn node(lens: &Lens) -> Option<DiffusionParams> {
    let step = &lens.diffusion;
    let strength = step.strength * effective_amount(step);
    (strength > 0.0).then_some(DiffusionParams {
        strength: strength.min(1.0),
        reach_percent_of_diagonal: step.reach,
        shadow_hold: step.shadow_hold,
        ceiling: (step.ceiling < NO_CEILING).then(|| GREY_SCENE_LIN * libm::exp2(step.ceiling)),
    })
}

impl Spreading for DiffusionParams {
    fn reach(&self) -> Reach {
        // Half within R, and 1 / (1 + (r/R)^2) of the rest outside r.
        Reach::OfDiagonal(self.reach_percent_of_diagonal / 100.0 * 10.0)
    }

    fn step(&self, size: (usize, usize), window: &Window) -> Option<Box<dyn SpreadStep>> {
        let step = Diffusion::new(size.0, size.1, window, self)?;
        Some(Box::new(step))
    }

    fn in_motion(&self, _: &Window) -> InMotion {
        InMotion::Halved
    }
}

/// The last step, pixel by pixel: how much of the strayed light replaces the straight one.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Veil {
    strength: f32,
    hold: f32,
}

impl Veil {
    fn new(strength: f32, shadow_hold: f64) -> Self {
        Self {
            strength,
            hold: shadow_hold.clamp(0.0, 1.0) as f32,
        }
    }

    #[inline(always)]
    fn add(&self, scene_lin: Rgb, takes_part: Rgb, strayed: Rgb) -> Rgb {
        const PIVOT_SQUARED: f32 = (HELD_SCENE_LIN * HELD_SCENE_LIN) as f32;
        let s = strayed.r * BRIGHTNESS[0] + strayed.g * BRIGHTNESS[1] + strayed.b * BRIGHTNESS[2];
        let held = PIVOT_SQUARED * self.hold / (s * s + PIVOT_SQUARED);
        let amount = (1.0 - held) * self.strength;
        let added = strayed.zip(
            takes_part,
            #[inline(always)]
            |strayed, straight| (strayed - straight) * amount,
        );
        scene_lin.zip(
            added,
            #[inline(always)]
            |straight, added| straight + added,
        )
    }
}

/// How much of a light takes part in straying.
#[inline(always)]
fn straying(scene_lin: f32, ceiling: Option<f32>) -> f32 {
    match ceiling {
        Some(most) if scene_lin > most => most + bent(scene_lin - most, most),
        _ => scene_lin,
    }
}

/// The nearest allowed scene light; not-a-number becomes 0.
#[inline(always)]
fn finite(scene_lin: f32) -> f32 {
    if scene_lin.is_nan() {
        0.0
    } else {
        Lane::clamp_to(scene_lin, -LARGEST_SCENE_LIN, LARGEST_SCENE_LIN)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PARAMS: DiffusionParams = DiffusionParams {
        strength: 0.4,
        reach_percent_of_diagonal: 3.0,
        shadow_hold: 0.0,
        ceiling: None,
    };

    fn noise(width: usize, height: usize) -> Planes {
        let mut planes = Planes::filled(width, height, 0.0);
        for (c, plane) in planes.planes.iter_mut().enumerate() {
            for (i, v) in plane.iter_mut().enumerate() {
                *v = ((i * 7919 + c * 104_729) % 1013) as f32 / 500.0;
            }
        }
        planes
    }

    fn diffused(mut planes: Planes, params: &DiffusionParams) -> Planes {
        let window = Window::whole(planes.width, planes.height);
        diffuse(&mut planes, &window, params);
        planes
    }

    #[test]
    fn light_is_conserved_to_one_part_in_a_thousand() {
        let before = noise(96, 64);
        let after = diffused(before.clone(), &PARAMS);
        for c in 0..3 {
            let sum = |p: &Planes| p.planes[c].iter().map(|&v| f64::from(v)).sum::<f64>();
            assert!((sum(&after) / sum(&before) - 1.0).abs() < 1e-3);
            assert_ne!(after.planes[c], before.planes[c]);
        }
    }

    #[test]
    fn without_shadow_hold_it_is_linear() {
        let (a, b) = (noise(60, 40), {
            let mut b = Planes::filled(60, 40, 0.02);
            b.row_mut(0, 20)[30] = 500.0;
            b
        });
        let mut mixed = a.clone();
        for c in 0..3 {
            for (m, v) in mixed.planes[c].iter_mut().zip(&b.planes[c]) {
                *m = *m * 3.0 + v * 0.5;
            }
        }
        let (a, b, mixed) = (
            diffused(a, &PARAMS),
            diffused(b, &PARAMS),
            diffused(mixed, &PARAMS),
        );
        for c in 0..3 {
            for i in 0..a.pixels() {
                let sum = a.planes[c][i] * 3.0 + b.planes[c][i] * 0.5;
                let error = (sum - mixed.planes[c][i]).abs();
                assert!(error < 1e-5 * sum.abs().max(1.0), "{error}");
            }
        }
    }

    /// A window of nine stops over mid-grey beside a wall: it lights the wall no more than one of six does,
    /// and no light is lost.
    #[test]
    fn under_a_ceiling_a_window_keeps_its_shape() {
        let room = |stops: f64| {
            let mut room = Planes::filled(120, 80, 0.05);
            for plane in &mut room.planes {
                for y in 30..50 {
                    plane[y * 120 + 50..y * 120 + 70].fill((0.18 * libm::exp2(stops)) as f32);
                }
            }
            room
        };
        let held = DiffusionParams {
            ceiling: Some(0.18 * 32.0),
            ..PARAMS
        };
        let wall = |planes: &Planes| planes.row(1, 40)[80] - 0.05;
        let before = room(9.0);
        let after = diffused(before.clone(), &held);
        assert!(wall(&after) < wall(&diffused(room(6.0), &PARAMS)) * 1.05);
        assert!(wall(&diffused(before.clone(), &PARAMS)) > 5.0 * wall(&after));
        let sum = |p: &Planes| p.planes[1].iter().map(|&v| f64::from(v)).sum::<f64>();
        assert!((sum(&after) / sum(&before) - 1.0).abs() < 1e-3);
        assert_eq!(diffused(room(4.0), &held), diffused(room(4.0), &PARAMS));
    }

    #[test]
    fn shadow_hold_keeps_blacks_and_leaves_halos() {
        let mut night = Planes::filled(120, 80, 0.0);
        for c in 0..3 {
            night.row_mut(c, 40)[60] = 3000.0;
        }
        let open = diffused(night.clone(), &PARAMS);
        let held = diffused(
            night,
            &DiffusionParams {
                shadow_hold: 1.0,
                ..PARAMS
            },
        );
        let ratio = |x: usize, y: usize| held.row(1, y)[x] / open.row(1, y)[x];
        assert!(ratio(62, 40) > 0.95, "halo: {}", ratio(62, 40));
        assert!(ratio(2, 2) < 0.1, "corner: {}", ratio(2, 2));
    }

    #[test]
    fn strength_zero_is_the_identity_and_odd_input_stays_finite() {
        let before = noise(9, 7);
        let off = DiffusionParams {
            strength: 0.0,
            ..PARAMS
        };
        assert_eq!(diffused(before.clone(), &off), before);
        for (width, height) in [(1, 1), (2, 3), (40, 1)] {
            let mut bad = noise(width, height);
            bad.planes[0][0] = f32::NAN;
            bad.planes[1][0] = f32::INFINITY;
            bad.planes[2][0] = -f32::MAX;
            for reach_percent_of_diagonal in [0.0, 5.0, 1e7] {
                let params = DiffusionParams {
                    reach_percent_of_diagonal,
                    shadow_hold: 0.5,
                    ..PARAMS
                };
                let after = diffused(bad.clone(), &params);
                assert!(after.planes.iter().flatten().all(|v| v.is_finite()));
            }
        }
    }

    #[test]
    fn a_preview_shows_the_same_halo() {
        // The halo's light along a line through it, at full size and at half of it.
        let halo = |scale: usize| {
            let (width, height) = (192 * scale, 128 * scale);
            let mut planes = Planes::filled(width, height, 0.0);
            for dy in 0..scale {
                for dx in 0..scale {
                    planes.row_mut(0, 64 * scale + dy)[96 * scale + dx] = 1.0;
                }
            }
            let window = Window {
                x0: 0,
                y0: 0,
                full_width: 384,
                full_height: 256,
                scale: scale as f64 / 2.0,
            };
            diffuse(&mut planes, &window, &PARAMS);
            let mut rows = vec![];
            for x in 100..130 {
                let sum: f32 = (0..scale * scale)
                    .map(|i| planes.row(0, 64 * scale + i / scale)[x * scale + i % scale])
                    .sum();
                rows.push(sum / (scale * scale) as f32);
            }
            rows
        };
        for (half, full) in halo(1).iter().zip(halo(2)) {
            assert!((half / full - 1.0).abs() < 0.03, "{half} {full}");
        }
    }
}
