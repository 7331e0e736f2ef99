//! Scene light to layer exposure: how much of a light each of the three layers sees.
//!
//! A layer's exposure is the integral of its sensitivity over the light's spectrum. Three numbers
//! don't tell the spectrum; but most light that is ever photographed has spectra of a few kinds,
//! and for these the integral is a smooth function of the three numbers:
//!
//! ```text
//! x = B rgb / s                        s = max(mean(B rgb), (B rgb)max / 20), above zero
//! f = (x + sqrt(x^2 + 4 c^2)) / n      above zero everywhere, 1 on grey; n = 1 + sqrt(1 + 4 c^2)
//! a = log2(f0 / f1), b = log2(f2 / f1)
//! E = s f1 2^P(a, b)                   P of degree 6 without constant, one for each layer
//! ```
//!
//! Exact on greys (`a = b = 0`), it scales with the light, is smooth, and light beyond the spectral
//! locus bends softly towards what the locus gives. `B`, `c` and `P` are fitted to direct
//! integration over measured reflectances, narrow bands and a family of smooth spectra
//! (`tests/reference/film`, and `FILM.md` for its errors).

use super::fitted::{BASIS, CASTS, DAY, FLOORS, LAMP, ORTHOCHROMATIC, PANCHROMATIC, TERMS};
use super::stock::StockData;
use crate::look::Balance;
use lookwright_colour::lane::Lane;
use lookwright_colour::{Mat3, PixelMatrix, Rgb};

/// What layers are kept within, in stops over the light's mean: no light of the locus exposes one more.
const STOPS_LOW: f32 = -20.0;
const STOPS_HIGH: f32 = 3.0;
/// The least that each form of a light is taken for: beyond lies none of the locus, and there the
/// polynomials were not fitted.
const LEAST_FORM: [f32; 3] = [-2.0, -1.8, -0.1];
/// The share of its largest form that a light's mean has at least.
const LEAST_MEAN: f32 = 0.05;
/// More light than any camera knows; its square must be a number.
const MOST: f32 = 1e18;
/// Light in the dark, so that its logarithm is a number and falls softly: 13 stops below mid-grey.
const DARK: f32 = 3e-5;

type Coefficients = [f32; TERMS];

/// Layer exposure, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layers {
    basis: PixelMatrix,
    /// `4 c^2`, and its log2.
    bend: [f32; 3],
    bend_log: [f32; 3],
    /// log2 of `n`.
    norm_log: [f32; 3],
    polynomials: [Coefficients; 3],
    /// log2 of the gain that the scene's light has on each layer.
    cast_log: [f32; 3],
    one_emulsion: bool,
    /// Share of the stock over layers that see AP1 as it is; none where it is all of it.
    share: Option<f32>,
}

impl Layers {
    /// For a stock, mixed in by `amount` up to 1 over layers that see AP1 as it is, under `cast`.
    pub fn new(stock: &StockData, amount: f64, cast: [f64; 3]) -> Self {
        let bend = FLOORS.map(|floor| 4.0 * floor * floor);
        Self {
            basis: Mat3(BASIS).for_pixels(),
            bend: bend.map(|b| b as f32),
            bend_log: bend.map(|b| libm::log2(b) as f32),
            norm_log: bend.map(|b| libm::log2(1.0 + libm::sqrt(1.0 + b)) as f32),
            polynomials: polynomials(stock),
            cast_log: cast.map(|gain| libm::log2(gain) as f32),
            one_emulsion: stock.one_emulsion(),
            share: (amount < 1.0).then_some(amount as f32),
        }
    }

    /// AP1 scene light to layer exposure, 0.18 at mid-grey in the stock's own light. Above zero.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, scene_lin: Rgb<L>) -> Rgb<L> {
        let (s, stops) = self.seen(scene_lin);
        let seen = stops.map(
            #[inline(always)]
            |stops| stops.exp2() * s,
        );
        match self.share {
            Some(share) => plain(scene_lin).mix(seen, share),
            None => seen,
        }
    }

    /// log10 of [`Layers::apply`], which spares raising to a power what is only logged again.
    #[inline(always)]
    pub fn log<L: Lane>(&self, scene_lin: Rgb<L>) -> Rgb<L> {
        if self.share.is_some() {
            return self.apply(scene_lin).map(
                #[inline(always)]
                |e| e.log10(),
            );
        }
        let (s, stops) = self.seen(scene_lin);
        let log = s.log2();
        stops.map(
            #[inline(always)]
            |stops| (stops + log) * core::f32::consts::LOG10_2,
        )
    }

    /// The light's size `s`, and each layer's stops over it.
    #[inline(always)]
    fn seen<L: Lane>(&self, scene_lin: Rgb<L>) -> (L, Rgb<L>) {
        let x = self.basis.apply(scene_lin);
        let mean = (x.r + x.g + x.b) * (1.0 / 3.0);
        let largest = x.r.max(x.g).max(x.b);
        let size = mean.max(largest * LEAST_MEAN).min(mean.of(MOST));
        let s = (size + (size * size + DARK * DARK).sqrt()) * 0.5 + f32::MIN_POSITIVE;
        // In the dark all channels are lifted alike, so that what a camera takes below zero is grey.
        let lift = s - size;
        let inverse = s.of(1.0) / s;
        let f0 = self.form_log((x.r + lift) * inverse, 0);
        let f1 = self.form_log((x.g + lift) * inverse, 1);
        let f2 = self.form_log((x.b + lift) * inverse, 2);
        let (a, b) = (f0 - f1, f2 - f1);
        let seen = if self.one_emulsion {
            Rgb::grey(self.stops(0, a, b, f1))
        } else {
            Rgb::new(
                self.stops(0, a, b, f1),
                self.stops(1, a, b, f1),
                self.stops(2, a, b, f1),
            )
        };
        (s, seen)
    }

    /// log2 of a form. Below zero `x + root` would cancel; `4 c^2 / (|x| + root)` is the same and
    /// doesn't.
    #[inline(always)]
    fn form_log<L: Lane>(&self, x: L, i: usize) -> L {
        let x = x.max(x.of(LEAST_FORM[i]));
        let sum = (x.abs() + (x * x + self.bend[i]).sqrt()).log2();
        let low = -sum + (self.bend_log[i] - self.norm_log[i]);
        x.below(0.0, low, sum - self.norm_log[i])
    }

    /// A layer's stops over the light's size.
    #[inline(always)]
    fn stops<L: Lane>(&self, layer: usize, a: L, b: L, f1: L) -> L {
        (polynomial(&self.polynomials[layer], a, b) + f1).clamp_to(STOPS_LOW, STOPS_HIGH)
            + self.cast_log[layer]
    }
}

/// `P(a, b)` by powers of `a`, each factor by powers of `b`, both by Horner's rule.
#[inline(always)]
fn polynomial<L: Lane>(c: &Coefficients, a: L, b: L) -> L {
    let mut sum = a * c[26] + in_b::<L, 2>(c, 24, b);
    sum = sum * a + in_b::<L, 3>(c, 21, b);
    sum = sum * a + in_b::<L, 4>(c, 17, b);
    sum = sum * a + in_b::<L, 5>(c, 12, b);
    sum = sum * a + in_b::<L, 6>(c, 6, b);
    sum * a + in_b::<L, 6>(c, 0, b) * b
}

/// `COUNT` coefficients from `first` on, by rising powers of `b`.
#[inline(always)]
fn in_b<L: Lane, const COUNT: usize>(c: &Coefficients, first: usize, b: L) -> L {
    let mut sum = b.of(c[first + COUNT - 1]);
    for k in (0..COUNT - 1).rev() {
        sum = sum * b + c[first + k];
    }
    sum
}

/// The stock's polynomials in single precision: red, green and blue layer, or one emulsion's.
fn polynomials(stock: &StockData) -> [Coefficients; 3] {
    let between = |[fine, fast]: &[[[f64; TERMS]; 3]; 2]| {
        [0, 1, 2].map(|layer| {
            let mut out = [0.0; TERMS];
            for (term, cell) in out.iter_mut().enumerate() {
                let (from, to) = (fine[layer][term], fast[layer][term]);
                *cell = (from + (to - from) * stock.speed_share) as f32;
            }
            out
        })
    };
    let one = |filters: &[[f64; TERMS]; 4]| [filters[stock.filter as usize].map(|c| c as f32); 3];
    match stock.balance {
        Balance::Day => between(&DAY),
        Balance::Lamp => between(&LAMP),
        Balance::Panchromatic => one(&PANCHROMATIC),
        Balance::Orthochromatic => one(&ORTHOCHROMATIC),
    }
}

/// The floor in the dark, and the share of all light that each plain layer has at least.
const PLAIN_FLOOR: f32 = 0.0005;
const PLAIN_SHARE: f32 = 0.12;

/// Layers that see AP1 as it is, above zero: below a floor `c` that grows with the light, `x`
/// follows `c^2 / (2 c - x)`, which joins it in value and slope.
#[inline(always)]
fn plain<L: Lane>(scene_lin: Rgb<L>) -> Rgb<L> {
    let mean = (scene_lin.r + scene_lin.g + scene_lin.b) * (1.0 / 3.0);
    let floor = mean.max(mean.of(0.0)) * PLAIN_SHARE + PLAIN_FLOOR;
    scene_lin.map(
        #[inline(always)]
        |x| {
            let below = floor * floor / (floor * 2.0 - x).max(floor);
            L::select(x.lt(floor), below, x)
        },
    )
}

/// The colour temperature of the light that a stock is balanced for; one emulsion takes any.
pub const fn own_kelvin(balance: Balance) -> f64 {
    match balance {
        Balance::Lamp => 3200.0,
        Balance::Day | Balance::Panchromatic | Balance::Orthochromatic => 5500.0,
    }
}

/// The gains that a scene's light has on a stock's layers: 1, 1, 1 under the stock's own light.
///
/// A balanced camera shows grey as equal numbers whatever the light. Film does not adapt, so the
/// light itself, seen through the layers, is put back. The gains are cubics in mired, fitted to
/// integration over Planck radiators and daylight; the green layer's is 1, so that exposure stays.
pub fn cast_gains(stock: &StockData, amount: f64, scene_kelvin: f64) -> [f64; 3] {
    let cubics = match stock.balance {
        Balance::Day => CASTS[0],
        Balance::Lamp => CASTS[1],
        Balance::Panchromatic | Balance::Orthochromatic => return [1.0; 3],
    };
    let m = (1e6 / scene_kelvin - 1e6 / own_kelvin(stock.balance)) / 100.0;
    let gain = |[first, second, third]: [f64; 3]| {
        libm::exp2(((third * m + second) * m + first) * m * amount.min(1.0))
    };
    [gain(cubics[0]), 1.0, gain(cubics[1])]
}

#[cfg(test)]
mod tests;
