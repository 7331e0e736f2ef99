//! Roll-in: brings what a screen can't show inside, softly and at the hue that is seen.
//!
//! On the screen's linear light `x`, 1 being its white, with luminance weights `w`:
//!
//! ```text
//! lack    l_i = max(e y - x_i, 0), its corner rounded over 2 e y   light below none, y = w.x
//!         x' = x + C l
//! pale    n  = smax((y' - x'_i) / y')            1 or more where a channel has less than no light
//!         x" = y' + (x' - y') f(n) / n           towards the grey of the same luminance
//! dim     g  = f(m) / m,  m = smax(x"_i)         more than white: dimmed as a whole
//!         out = g x" + W (1 - g) (1 - g x")      and a little of white for what was lost
//! f(t) = t up to a start s, then s + o R / (o + R), o = t - s, R = 1 - s
//! ```
//!
//! Mixing with grey in linear light turns the hue that is seen (Abney's effect): pale reds go pink,
//! pale greens cyan. `C` turns a colour the other way before it pales, in proportion to what it
//! lacks. Each screen's nine numbers are *chosen*: fitted so that CAM16's hue of colours on the
//! edges of wider gamuts and of narrow bands from 450 to 650 nm stays, and their luminance with it
//! (`tests/reference/roll.py` holds the colours; measured: 5.5 degrees at most on Rec.709, 4.4 on
//! Display P3, 2.2 on Rec.2020, 7.6 where the brightest channel is 2.5 times white). `smax` is the larger
//! of two with its corner rounded by a parabola. All is smooth to the first derivative and the same
//! at any brightness up to white; what is inside and not at the very edge stays to the last bit.

use lookwright_colour::lane::Lane;
use lookwright_colour::{PixelMatrix, Rgb};

/// Distance from grey, of the screen's own reach, up to which colours stay as they are.
const FREE: f32 = 0.98;
/// How near two channels' distances are when their corner is rounded.
const NEAR_EDGE: f32 = 0.03;
/// Light, as a share of the luminance, below which a channel begins to lack.
const EDGE: f32 = 0.02;
/// Light up to which nothing dims.
const BRIGHT: f32 = 0.94;
/// How near two channels are when the corner of the brighter one is rounded.
const NEAR_WHITE: f32 = 0.02;
/// How much white takes the place of light that was dimmed.
const WHITEN: f32 = 0.08;
/// Least luminance, and most light, that is told apart.
const DARKEST: f32 = 1e-12;
const FARTHEST: f32 = 1e4;

/// The roll-in, prepared for one screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roll {
    weights: [f32; 3],
    lack: PixelMatrix,
}

impl Roll {
    /// For a screen whose channels have these shares of white's luminance, by what each channel
    /// gets for what another lacks.
    pub const fn new(weights: [f32; 3], lack: [[f32; 3]; 3]) -> Self {
        Self {
            weights,
            lack: PixelMatrix(lack),
        }
    }

    /// The screen's linear light, without limits, to the same in 0 ... 1.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, light: Rgb<L>) -> Rgb<L> {
        let light = light.map(
            #[inline(always)]
            |x| x.clamp_to(-FARTHEST, FARTHEST),
        );
        let luminance = self.luminance(light);
        if !L::any(is_moved(light, luminance)) {
            return light;
        }
        let size = Size(luminance, luminance.of(1.0) / luminance);
        whitened(self.paled(self.turned(light, size), size))
    }

    /// Where the light of codes of the reference display may be moved, told without raising to its gamma.
    /// With `l` the lowest of the codes `c`, `l^2.4 > s y` is sure where `l^3 > s w.(c^2 (a l + b c))`.
    #[inline(always)]
    pub fn may_move_code<L: Lane>(&self, code: Rgb<L>) -> L::Mask {
        // `x^2.4 <= a x^2 + b x^3` (weighted means); they touch at 3, where it counts.
        const SQUARE: f32 = 0.931_108;
        const CUBE: f32 = 0.206_913;
        /// [`LIGHT_SURE`]'s code.
        const CODE_SURE: f32 = 0.969_7;
        let low = code.r.min(code.g).min(code.b);
        let high = code.r.max(code.g).max(code.b);
        let most = code.zip(
            Rgb::from_array(self.weights),
            #[inline(always)]
            |c, weight| c * c * (low * SQUARE + c * CUBE) * weight,
        );
        let least = (most.r + most.g + most.b) * LOW_SURE;
        (low * low * low - least)
            .min(-high + CODE_SURE)
            .lt(low.of(0.0))
    }

    /// Luminance, never quite none.
    #[inline(always)]
    fn luminance<L: Lane>(&self, light: Rgb<L>) -> L {
        let [r, g, b] = self.weights;
        let sum = light.r * r + light.g * g + light.b * b;
        sum.max(sum.of(DARKEST))
    }

    /// Turned against the way in which it will turn by paling.
    #[inline(always)]
    fn turned<L: Lane>(&self, light: Rgb<L>, Size(luminance, inverse): Size<L>) -> Rgb<L> {
        let (edge, corner) = (luminance * EDGE, luminance * (2.0 * EDGE));
        let steepness = inverse * (0.5 / EDGE);
        let lack = light.map(
            #[inline(always)]
            |x| {
                let below = (edge - x).max(x.of(0.0));
                let rounded = below.min(corner);
                (below - rounded * 0.5) * rounded * steepness
            },
        );
        light.zip(
            self.lack.apply(lack),
            #[inline(always)]
            |x, added| x + added,
        )
    }

    /// Mixed with grey of the same luminance until no channel has less than no light.
    #[inline(always)]
    fn paled<L: Lane>(&self, light: Rgb<L>, before: Size<L>) -> Rgb<L> {
        let luminance = self.luminance(light);
        let lowness = light.map(
            #[inline(always)]
            |x| (luminance - x).min(luminance * FARTHEST),
        );
        let kept = resting_share(largest(lowness, NEAR_EDGE, before), FREE, luminance);
        // Written as a correction, so that a colour that is free stays to the last bit.
        light.map(
            #[inline(always)]
            |x| (x - luminance) * (kept - 1.0) + x,
        )
    }
}

/// By luminance and by white, how low and how high light surely stays as it is.
const LOW_SURE: f32 = 1.0 - FREE + 0.5 * NEAR_EDGE + 1e-3;
const LIGHT_SURE: f32 = BRIGHT - 0.5 * NEAR_WHITE - 1e-3;

/// Where light may be near enough to an edge to be moved: beyond none of [`FREE`], [`EDGE`] and [`BRIGHT`], not even
/// with corners rounded, which adds a quarter of what is near at each of two corners.
#[inline(always)]
fn is_moved<L: Lane>(light: Rgb<L>, luminance: L) -> L::Mask {
    let least = luminance * LOW_SURE;
    let most = light.r.of(LIGHT_SURE);
    let low = light.r.min(light.g).min(light.b);
    let high = light.r.max(light.g).max(light.b);
    // Below zero where either is beyond.
    (low - least).min(most - high).lt(low.of(0.0))
}

/// How large light is, to round corners by: a number and its inverse.
#[derive(Clone, Copy)]
struct Size<L>(L, L);

/// Dimmed to white at most, a little of what is lost given back as white.
#[inline(always)]
fn whitened<L: Lane>(light: Rgb<L>) -> Rgb<L> {
    let one = light.r.of(1.0);
    let gain = resting_share(largest(light, NEAR_WHITE, Size(one, one)), BRIGHT, one);
    let white = (-gain + 1.0) * WHITEN;
    light.map(
        #[inline(always)]
        |x| {
            let dimmed = x * gain;
            (-dimmed + 1.0) * white + dimmed
        },
    )
}

/// `f(t) / t`, `f` following `t` up to `start` and then coming to rest at 1; exactly 1 up to `start`.
/// All is given times `unit`, which takes a division less. With `o = t - start` and `R = 1 - start`:
/// `(o + start R) / (t (o + R))`, written so that at the start both are one product.
#[inline(always)]
fn resting_share<L: Lane>(t: L, start: f32, unit: L) -> L {
    let room = 1.0 - start;
    let first = unit * start;
    let t = t.max(first);
    let (over, rest) = (t - first, unit * room);
    (over * unit + first * rest) / (t * (over + rest))
}

/// The largest of three; where two are nearer than `near` of `unit`, rounded by a parabola: never
/// less than the largest, smooth to the first derivative.
#[inline(always)]
fn largest<L: Lane>(rgb: Rgb<L>, near: f32, size: Size<L>) -> L {
    larger(larger(rgb.r, rgb.g, near, size), rgb.b, near, size)
}

#[inline(always)]
fn larger<L: Lane>(a: L, b: L, near: f32, Size(unit, inverse): Size<L>) -> L {
    let close = (-(a - b).abs() + unit * near).max(a.of(0.0));
    a.max(b) + close * close * (inverse * (0.25 / near))
}
