//! The characteristic curve: layer exposure to density above base.
//!
//! With `h = log10(E / 0.18)` and `u = h + u0`:
//!
//! ```text
//! toe       t = (u + sqrt(u^2 + a^2)) / 2                     follows u, bends to 0 below
//! shoulder  s = S - ((S - t) + sqrt((S - t)^2 + b^2)) / 2     follows t, bends to S above
//! density   D = gamma (s - s(t = 0))
//! ```
//!
//! Smooth and strictly monotone. `u0` is set so that mid-grey has density [`GREY_DENSITY`].
//! A gamma near 0.6 is the negative's published average (Grayscale Transformations of Digital
//! Film Data, 1993); the toe's and shoulder's shape is ours.

use super::stock::StockData;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// Mid-grey in scene light.
pub const GREY_SCENE_LIN: f64 = 0.18;

/// Density of mid-grey above base: 90 % white stands at 1.18 (code 685 over base 95, 0.002 each)
/// and grey 0.699 log10 exposure below it on a straight line of gamma 0.6.
pub const GREY_DENSITY: f64 = 0.760_618;

/// How far one stop of push raises gamma (common practice, no source).
const PUSH_GAMMA: f64 = 0.10;
/// How much of the straight line one stop of push costs in the shadows, in log10 exposure: the
/// push gives mid-grey back the density that under-exposure took, the toe comes nearer.
const PUSH_TOE_LOG_E: f64 = 0.15;

/// A stock's curve, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Characteristic {
    gamma: f32,
    offset: f32,
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
        let shape = Shape {
            gamma: stock.gamma,
            toe: stock.toe_log_e,
            shoulder: stock.shoulder_log_e,
            span: stock.span_log_e,
        };
        let offset = shape.offset_for_grey() - PUSH_TOE_LOG_E * push_stops;
        Self {
            gamma: (stock.gamma * (1.0 + PUSH_GAMMA * push_stops)) as f32,
            offset: (offset - libm::log10(GREY_SCENE_LIN)) as f32,
            toe_squared: (stock.toe_log_e * stock.toe_log_e) as f32,
            shoulder_squared: (stock.shoulder_log_e * stock.shoulder_log_e) as f32,
            span: stock.span_log_e as f32,
            base: shape.shouldered(0.0) as f32,
            stock_share: (amount < 1.0).then_some(amount as f32),
        }
    }

    /// Layer exposure (positive) to density above base.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, exposure: Rgb<L>) -> Rgb<L> {
        exposure.map(
            #[inline(always)]
            |e| {
                let u = e.log10() + self.offset;
                let toe = (u + (u * u + self.toe_squared).sqrt()) * 0.5;
                let room = -toe + self.span;
                let bent = (room + (room * room + self.shoulder_squared).sqrt()) * 0.5;
                let density = (-bent + (self.span - self.base)) * self.gamma;
                match self.stock_share {
                    Some(share) => plain_density(e).mix(density, share),
                    None => density,
                }
            },
        )
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

/// The curve's shape in double precision, for set-up.
struct Shape {
    gamma: f64,
    toe: f64,
    shoulder: f64,
    span: f64,
}

impl Shape {
    fn shouldered(&self, t: f64) -> f64 {
        let room = self.span - t;
        self.span - (room + (room * room + self.shoulder * self.shoulder).sqrt()) / 2.0
    }

    fn density(&self, u: f64) -> f64 {
        let t = (u + (u * u + self.toe * self.toe).sqrt()) / 2.0;
        self.gamma * (self.shouldered(t) - self.shouldered(0.0))
    }

    /// The `u` at which density is [`GREY_DENSITY`], by halving.
    fn offset_for_grey(&self) -> f64 {
        let (mut low, mut high) = (0.0, self.span);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if self.density(middle) < GREY_DENSITY {
                low = middle;
            } else {
                high = middle;
            }
        }
        f64::midpoint(low, high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::{ContrastFilter, Options, StockClass};

    fn stocks() -> impl Iterator<Item = StockData> {
        StockClass::ALL
            .iter()
            .map(|class| StockData::of(*class, ContrastFilter::None))
    }

    fn density(curve: &Characteristic, exposure: f32) -> f32 {
        curve.apply(Rgb::grey(exposure)).g
    }

    #[test]
    fn grey_has_its_density_and_the_straight_line_its_gamma() {
        for stock in stocks() {
            let curve = Characteristic::new(&stock, 0.0, 1.0);
            assert!((f64::from(density(&curve, 0.18)) - GREY_DENSITY).abs() < 2e-6);
            // A stop raises density by gamma * log10(2): 0.181 at gamma 0.6 (a camera maker's
            // digital-intermediate companion). The bends still take a little off at mid-grey.
            let stop = f64::from(density(&curve, 0.36) - density(&curve, 0.18));
            let straight = stock.gamma * core::f64::consts::LOG10_2;
            assert!(
                (stop / straight - 1.0).abs() < 0.08,
                "{stop} against {straight}"
            );
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
            assert!((0.0..0.01).contains(&density(&curve, 1e-7)));
            // Full useful range about 2.0 above base (digital film centre, 1995).
            let top = density(&curve, 0.18 * 512.0);
            assert!((1.7..2.3).contains(&top), "{top}");
        }
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
        let stock = StockData::of(StockClass::Tungsten500, ContrastFilter::None);
        let contrast = |push| {
            let curve = Characteristic::new(&stock, push, 1.0);
            density(&curve, 0.72) - density(&curve, 0.18)
        };
        assert!(contrast(1.0) > contrast(0.0) * 1.05 && contrast(-1.0) < contrast(0.0) * 0.95);
    }
}
