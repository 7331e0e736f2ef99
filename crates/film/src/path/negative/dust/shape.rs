//! One speck or hair: drawn, and how much of a place on film it covers.

use super::DustParams;
use lookwright_colour::hash;

/// Random numbers of one item, one after the other.
pub(super) struct Draws(u64);

impl Draws {
    pub(super) fn new(seed: u32, frame: u32, item: u32) -> Self {
        let mut draws = Self((u64::from(seed) << 32) | u64::from(frame));
        let picture = draws.bits();
        Self(picture ^ (u64::from(item) << 17))
    }

    /// SplitMix64.
    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(hash::GOLDEN);
        hash::finalise(self.0)
    }

    /// Evenly from 0 to 1.
    pub(super) fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Nearly normal: the sum of twelve even numbers.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.unit()).sum::<f64>() - 6.0
    }
}

/// A thing on the film. Lengths in micrometres.
pub(super) struct Shape {
    /// Share of the light that it blocks where it covers all.
    pub(super) opacity: f64,
    parts: Vec<Part>,
}

/// A thick line with a soft edge; a disc if both ends are the same. A hair's parts meet end to
/// end, and count as one: the nearest decides.
struct Part {
    from: [f64; 2],
    to: [f64; 2],
    edge: Edge,
}

/// Spread of the sizes: the standard deviation of their natural logarithm.
const SIZE_SPREAD: f64 = 0.5;
/// Straight parts of a hair.
const HAIR_PARTS: usize = 20;

impl Shape {
    /// Draws an item somewhere on a frame of `frame_um`, for pixels of `pixel_um`.
    pub(super) fn new(
        draws: &mut Draws,
        params: &DustParams,
        frame_um: [f64; 2],
        pixel_um: f64,
    ) -> Self {
        let at = frame_um.map(|length| length * draws.unit());
        let size = params.size_um.max(0.0) * libm::exp(SIZE_SPREAD * draws.normal());
        let blur = params.softness_um.max(0.0) * draws.between(0.3, 1.7);
        // A pixel sees its own width around it.
        let softness = (blur * blur + pixel_um * pixel_um).sqrt();
        if draws.unit() < params.hair_share {
            Self::hair(draws, at, size, softness)
        } else {
            Self::speck(draws, at, size, softness)
        }
    }

    /// A disc with two smaller ones at its side.
    fn speck(draws: &mut Draws, at: [f64; 2], size: f64, softness: f64) -> Self {
        let radius = size / 2.0;
        let mut disc = |near: f64, far: f64, small: f64, large: f64| {
            let (sin, cos) = direction(draws);
            let off = radius * draws.between(near, far);
            let centre = [at[0] + off * cos, at[1] + off * sin];
            Part {
                from: centre,
                to: centre,
                edge: Edge::of_disc(radius * draws.between(small, large), softness),
            }
        };
        let parts = vec![
            disc(0.0, 0.05, 0.75, 0.9),
            disc(0.35, 0.7, 0.4, 0.65),
            disc(0.35, 0.8, 0.25, 0.6),
        ];
        Self {
            opacity: draws.between(0.5, 0.95),
            parts,
        }
    }

    /// A bent line: a cubic curve whose middle points stray to the sides.
    fn hair(draws: &mut Draws, at: [f64; 2], size: f64, softness: f64) -> Self {
        let length = size * draws.between(12.0, 40.0);
        let width = (0.6 * size).sqrt() * draws.between(1.0, 1.8);
        let (sin, cos) = direction(draws);
        let mut point = |along: f64, stray: f64| {
            let (a, b) = (length * along, length * draws.between(-stray, stray));
            [at[0] + a * cos - b * sin, at[1] + a * sin + b * cos]
        };
        let control = [
            point(-0.5, 0.05),
            point(-0.17, 0.45),
            point(0.17, 0.45),
            point(0.5, 0.15),
        ];
        let on_curve = |t: f64| {
            let u = 1.0 - t;
            let weights = [u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t];
            [0, 1].map(|axis| (0..4).map(|i| weights[i] * control[i][axis]).sum())
        };
        let place = |i: usize| on_curve(i as f64 / HAIR_PARTS as f64);
        let edge = Edge::of_line(width / 2.0, softness);
        Self {
            opacity: draws.between(0.4, 0.8),
            parts: (0..HAIR_PARTS)
                .map(|i| Part {
                    from: place(i),
                    to: place(i + 1),
                    edge,
                })
                .collect(),
        }
    }

    /// Corners of a box outside which nothing is covered.
    pub(super) fn bounds(&self) -> [[f64; 2]; 2] {
        let mut low = [f64::INFINITY; 2];
        let mut high = [f64::NEG_INFINITY; 2];
        for part in &self.parts {
            for end in [part.from, part.to] {
                for axis in 0..2 {
                    low[axis] = low[axis].min(end[axis] - part.edge.outer());
                    high[axis] = high[axis].max(end[axis] + part.edge.outer());
                }
            }
        }
        [low, high]
    }

    /// Share of a place that is covered, 0 to 1: what the nearest or largest part covers.
    pub(super) fn cover(&self, at: [f64; 2]) -> f64 {
        self.parts
            .iter()
            .map(|part| part.edge.cover(distance(at, part.from, part.to)))
            .fold(0.0, f64::max)
    }
}

/// Sine and cosine of an even direction.
fn direction(draws: &mut Draws) -> (f64, f64) {
    let angle = 2.0 * core::f64::consts::PI * draws.unit();
    (libm::sin(angle), libm::cos(angle))
}

/// Distance from a point to a line between two points.
fn distance(at: [f64; 2], from: [f64; 2], to: [f64; 2]) -> f64 {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let (px, py) = (at[0] - from[0], at[1] - from[1]);
    let square = dx * dx + dy * dy;
    let along = if square > 0.0 {
        ((px * dx + py * dy) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let (x, y) = (px - along * dx, py - along * dy);
    (x * x + y * y).sqrt()
}

/// How cover falls with the distance from the middle: smoothly from `half - softness` to `half +
/// softness`, scaled so that the whole covers as much as with a sharp edge.
#[derive(Clone, Copy)]
struct Edge {
    half: f64,
    softness: f64,
    scale: f64,
}

impl Edge {
    fn of_disc(half: f64, softness: f64) -> Self {
        Self::scaled(half, softness, half * half / 2.0, |r| r)
    }

    fn of_line(half: f64, softness: f64) -> Self {
        Self::scaled(half, softness, half, |_| 1.0)
    }

    /// `sharp` is the integral over the distance of `measure` up to `half`.
    fn scaled(half: f64, softness: f64, sharp: f64, measure: impl Fn(f64) -> f64) -> Self {
        const STEPS: usize = 64;
        let mut edge = Self {
            half,
            softness: softness.max(1e-6),
            scale: 1.0,
        };
        let step = edge.outer() / STEPS as f64;
        let soft: f64 = (0..STEPS)
            .map(|i| (i as f64 + 0.5) * step)
            .map(|r| edge.cover(r) * measure(r) * step)
            .sum();
        edge.scale = if soft > 0.0 {
            (sharp / soft).min(1.0)
        } else {
            0.0
        };
        edge
    }

    fn outer(&self) -> f64 {
        self.half + self.softness
    }

    fn cover(&self, distance: f64) -> f64 {
        let t = ((self.outer() - distance) / (2.0 * self.softness)).clamp(0.0, 1.0);
        self.scale * t * t * (3.0 - 2.0 * t)
    }
}
