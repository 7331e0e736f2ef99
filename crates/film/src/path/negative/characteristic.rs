//! The characteristic curve: layer exposure to density above base.
//!
//! With `h = log10(E / 0.18)` and `u = h + u0`:
//!
//! ```text
//! toe       t = (u + sqrt(u^2 + a^2)) / 2                     follows u, bends to 0 below
//! shoulder  s = S - ((S - t) + sqrt((S - t)^2 + b^2)) / 2     follows t, bends to S above
//! density   D = k (s - s(t = 0)) + fog
//! ```
//!
//! Smooth and strictly monotone. `u0` and `k` are set so that mid-grey has density [`GREY_DENSITY`]
//! and the mean slope from there to 90 % white is the stock's gamma. A gamma near 0.6 is the
//! negative's published average (Grayscale Transformations of Digital Film Data, 1993); the toe's
//! and shoulder's shape is *chosen*.
//!
//! Development acts on each layer by itself: longer development raises gamma most in the layer that
//! lies on top and is reached first, and so the three curves cross.

use super::stock::StockData;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// Mid-grey in scene light.
pub const GREY_SCENE_LIN: f64 = 0.18;

/// Density of mid-grey above base: 90 % white stands at 1.18 (code 685 over base 95, 0.002 each)
/// and grey 0.699 log10 exposure below it on a straight line of gamma 0.6.
pub const GREY_DENSITY: f64 = 0.760_618;

/// How far one stop of push raises each layer's gamma: red lies lowest, blue on top. *Chosen;* the
/// middle one is common practice, no source.
const PUSH_GAMMA: [f64; 3] = [0.092, 0.10, 0.112];
/// How much of the straight line one stop of push costs in the shadows, in log10 exposure: the push
/// gives mid-grey back the density that under-exposure took, the toe comes nearer. *Chosen.*
const PUSH_TOE_LOG_E: [f64; 3] = [0.155, 0.15, 0.145];
/// Fog that one stop of push adds, as density. *Chosen.*
const PUSH_FOG: [f64; 3] = [0.025, 0.03, 0.04];
/// How much development of the wrong kind raises each layer's gamma, and the fog that it leaves. *Chosen*, for
/// green and yellow lights over blue darks; that crossed layers differ is common practice, no source.
const WRONG_GAMMA: [f64; 3] = [0.20, 0.32, 0.06];
const WRONG_FOG: [f64; 3] = [0.02, 0.03, 0.06];
/// log10 of 90 % white over mid-grey.
const GREY_TO_WHITE_LOG_E: f64 = 0.698_970_004_336_018_9;

/// A stock's curve, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Characteristic {
    scale: [f32; 3],
    offset: [f32; 3],
    fog: [f32; 3],
    toe_squared: f32,
    shoulder_squared: f32,
    span: f32,
    base: f32,
    /// Share of the stock's curve over the plain negative; none where it is all of it.
    stock_share: Option<f32>,
}

impl Characteristic {
    /// A stock's curve, developed normally (`push_stops` 0), pushed or pulled. `amount` mixes it
    /// over the plain negative, [`plain_density`], up to 1; beyond, only colour is exaggerated.
    pub fn new(stock: &StockData, push_stops: f64, amount: f64) -> Self {
        let shape = stock.shape();
        let (offset, scale) = shape.through_grey(stock.gamma);
        let by_layer = |per_stop: [f64; 3]| {
            // One emulsion develops as one.
            let at = |i: usize| per_stop[if stock.one_emulsion() { 1 } else { i }];
            [at(0), at(1), at(2)]
        };
        Self {
            scale: by_layer(PUSH_GAMMA).map(|more| (scale * (1.0 + more * push_stops)) as f32),
            offset: by_layer(PUSH_TOE_LOG_E)
                .map(|less| (offset - less * push_stops - libm::log10(GREY_SCENE_LIN)) as f32),
            fog: by_layer(PUSH_FOG).map(|fog| (fog * push_stops.max(0.0)) as f32),
            toe_squared: (stock.toe_log_e * stock.toe_log_e) as f32,
            shoulder_squared: (stock.shoulder_log_e * stock.shoulder_log_e) as f32,
            span: stock.span_log_e as f32,
            base: shape.shouldered(0.0) as f32,
            stock_share: (amount < 1.0).then_some(amount as f32),
        }
    }

    /// The same curve after a `share` of development of the wrong kind.
    #[must_use]
    pub fn crossed(mut self, stock: &StockData, share: f64) -> Self {
        for i in 0..3 {
            let layer = if stock.one_emulsion() { 1 } else { i };
            self.scale[i] *= (1.0 + WRONG_GAMMA[layer] * share) as f32;
            self.fog[i] += (WRONG_FOG[layer] * share) as f32;
        }
        self
    }

    /// Layer exposure (positive) to density above base.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, exposure: Rgb<L>) -> Rgb<L> {
        self.of_log(exposure.map(
            #[inline(always)]
            |e| e.log10(),
        ))
    }

    /// log10 of layer exposure to density above base.
    #[inline(always)]
    pub fn of_log<L: Lane>(&self, log_exposure: Rgb<L>) -> Rgb<L> {
        Rgb::new(
            self.layer(log_exposure.r, 0),
            self.layer(log_exposure.g, 1),
            self.layer(log_exposure.b, 2),
        )
    }

    #[inline(always)]
    fn layer<L: Lane>(&self, log_exposure: L, i: usize) -> L {
        let u = log_exposure + self.offset[i];
        let toe = (u + (u * u + self.toe_squared).sqrt()) * 0.5;
        let room = -toe + self.span;
        let bent = (room + (room * room + self.shoulder_squared).sqrt()) * 0.5;
        let density = (-bent + (self.span - self.base)) * self.scale[i] + self.fog[i];
        match self.stock_share {
            Some(share) => plain_density(log_exposure.exp10()).mix(density, share),
            None => density,
        }
    }
}

/// The plain negative that a stock's amount mixes over: the film-scan log of the published
/// conversion (base at code 95, 90 % white at 685, 0.002 density per code, gamma 0.6) in its
/// offset form, which has density 0 at no light:
/// `D = 1.18 + 0.6 log10(x (1 - o) + o)`, `x = E / 0.9`, `o = 10^(-590/300)`.
#[inline(always)]
pub fn plain_density<L: Lane>(exposure: L) -> L {
    /// `10^((95 - 685) / 300)`.
    const OFFSET: f32 = 0.010_797_752;
    let light = exposure * ((1.0 - OFFSET) / 0.9) + OFFSET;
    light.log10() * 0.6 + 1.18
}

/// The reference film's curve: daylight, ISO 250.
pub const REFERENCE: Shape = Shape {
    toe: 0.30,
    shoulder: 0.65,
    span: 3.45,
};
/// The reference film's gamma.
pub const REFERENCE_GAMMA: f64 = 0.60;

/// The curve's shape in double precision, for set-up.
pub struct Shape {
    /// Width of the toe's bend, log10 exposure.
    pub toe: f64,
    /// Width of the shoulder's bend, log10 exposure.
    pub shoulder: f64,
    /// Length of the straight line, log10 exposure.
    pub span: f64,
}

impl Shape {
    /// log10 exposure, its toe undone, of a density above base: as mid-grey has it.
    pub fn log_e_per_density(&self, gamma: f64) -> f64 {
        let (grey, _) = self.through_grey(gamma);
        self.toed(grey) / GREY_DENSITY
    }

    /// `t`, the toe's bend.
    fn toed(&self, u: f64) -> f64 {
        f64::midpoint(u, libm::sqrt(u * u + self.toe * self.toe))
    }

    fn shouldered(&self, t: f64) -> f64 {
        let room = self.span - t;
        self.span - (room + libm::sqrt(room * room + self.shoulder * self.shoulder)) / 2.0
    }

    fn shaped(&self, u: f64) -> f64 {
        self.shouldered(self.toed(u)) - self.shouldered(0.0)
    }

    /// The `u` of mid-grey and the density per shaped log exposure at which mid-grey has
    /// [`GREY_DENSITY`] and the mean slope from there to 90 % white is `gamma`, by halving.
    pub fn through_grey(&self, gamma: f64) -> (f64, f64) {
        let scale = |u: f64| {
            gamma * GREY_TO_WHITE_LOG_E / (self.shaped(u + GREY_TO_WHITE_LOG_E) - self.shaped(u))
        };
        let (mut low, mut high) = (0.0, self.span);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if scale(middle) * self.shaped(middle) < GREY_DENSITY {
                low = middle;
            } else {
                high = middle;
            }
        }
        let grey = f64::midpoint(low, high);
        (grey, scale(grey))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::{Balance, Options, Stock};

    fn stocks() -> impl Iterator<Item = StockData> {
        let of = |balance: Balance, speed: f64| {
            StockData::of(&Stock {
                balance,
                speed,
                ..Default::default()
            })
        };
        Balance::ALL
            .iter()
            .flat_map(move |balance| [25.0, 250.0, 1600.0].map(|speed| of(*balance, speed)))
    }

    fn density(curve: &Characteristic, exposure: f32) -> f32 {
        curve.apply(Rgb::grey(exposure)).g
    }

    #[test]
    fn grey_has_its_density_and_the_line_to_white_its_gamma() {
        for stock in stocks() {
            let curve = Characteristic::new(&stock, 0.0, 1.0);
            let grey = f64::from(density(&curve, 0.18));
            assert!((grey - GREY_DENSITY).abs() < 2e-6);
            let gamma = (f64::from(density(&curve, 0.9)) - grey) / libm::log10(5.0);
            assert!((gamma / stock.gamma - 1.0).abs() < 1e-4, "{gamma}");
            // A stop raises density by gamma * log10(2): 0.181 at gamma 0.6 (a camera maker's
            // digital-intermediate companion).
            let stop = f64::from(density(&curve, 0.36) - density(&curve, 0.18));
            let straight = stock.gamma * core::f64::consts::LOG10_2;
            assert!((stop / straight - 1.0).abs() < 0.02, "{stop} {straight}");
        }
    }

    #[test]
    fn the_curve_is_monotone_from_deep_shadow_to_ten_stops_over() {
        for stock in stocks() {
            for push in [-2.0, 0.0, 3.0] {
                let curve = Characteristic::new(&stock, push, 1.0);
                let mut last = density(&curve, 1e-6);
                for step in 1..=2400 {
                    let exposure = 1e-6
                        * (10.0_f64.powi(step / 240) as f32)
                        * libm::pow(10.0, f64::from(step % 240) / 240.0) as f32;
                    let here = density(&curve, exposure);
                    assert!(here >= last, "falls at {exposure}");
                    last = here;
                }
            }
        }
    }

    #[test]
    fn no_light_leaves_the_base_and_the_range_is_about_two() {
        for stock in stocks() {
            let curve = Characteristic::new(&stock, 0.0, 1.0);
            assert!((0.0..0.02).contains(&density(&curve, 1e-7)));
            // Full useful range about 2.0 above base (digital film centre, 1995).
            let top = density(&curve, 0.18 * 512.0);
            assert!((1.7..2.4).contains(&top), "{top}");
        }
    }

    #[test]
    fn a_push_raises_the_base_and_crosses_the_layers() {
        let stock = stocks().next().unwrap();
        let (normal, pushed) = (
            Characteristic::new(&stock, 0.0, 1.0),
            Characteristic::new(&stock, 2.0, 1.0),
        );
        let dark = Rgb::grey(1e-7_f32);
        let (before, after) = (normal.apply(dark), pushed.apply(dark));
        assert!(after.r > before.r + 0.03 && after.b > after.r);
        // About grey, blue gains more contrast than red.
        let contrast = |curve: &Characteristic| {
            let (low, high) = (
                curve.apply(Rgb::grey(0.18_f32)),
                curve.apply(Rgb::grey(0.9_f32)),
            );
            (high.b - low.b) / (high.r - low.r)
        };
        assert!(contrast(&pushed) > contrast(&normal) * 1.02);
    }

    #[test]
    fn the_plain_negative_meets_the_published_codes() {
        // Codes from the library colour-science, log_encoding_Cineon, x as share of 90 % white.
        for (share_of_white, code) in [(0.0, 95.0), (1.0, 685.0), (0.183_194_53, 470.0)] {
            let density = plain_density(share_of_white * 0.9_f32);
            assert!(
                (95.0 + density / 0.002 - code).abs() < 0.01,
                "{share_of_white}"
            );
        }
    }

    #[test]
    fn a_push_lifts_contrast() {
        let stock = stocks().next().unwrap();
        let contrast = |push| {
            let curve = Characteristic::new(&stock, push, 1.0);
            density(&curve, 0.72) - density(&curve, 0.18)
        };
        assert!(contrast(1.0) > contrast(0.0) * 1.05 && contrast(-1.0) < contrast(0.0) * 0.95);
    }
}
