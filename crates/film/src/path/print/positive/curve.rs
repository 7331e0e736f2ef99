//! The positive's characteristic curve: log exposure to neutral density above the base.
//!
//! ```text
//! t = (u + sqrt(u^2 + a^2)) / 2                          toe of width a: the print's whites
//! t += c max(t - 1.6, 0)^2                               steeper shadows, where film gets very dense
//! D = S - ((S - t) + sqrt((S - t)^2 + b^2)) / 2          shoulder of width b: the print's blacks
//! ```
//!
//! less what is left where no light has printed; `S` follows from the greatest density. The form is
//! ours; it is smooth, rises strictly and has slope 1 between its bends. A straight line of the
//! usual gamma ends at a density of 3.2 where the negative's base prints, so a greater density than
//! 3.6 would not be heard: film that can get denser is steeper towards it, by `c` (*chosen*).

use lookwright_colour::lane::Lane;

/// Density from which film of great density gets steeper.
const STEEPER_FROM: f64 = 1.6;
/// Greatest density beyond which it does, up to which it does more and more, and how much more.
const STEEPER_BEYOND: f64 = 3.6;
const STEEPER_UP_TO: f64 = 4.5;
const STEEPER: f64 = 0.4;

/// The curve, prepared for pixels and for set-up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Curve {
    toe: f64,
    shoulder: f64,
    span: f64,
    steeper: f64,
    toe_squared: f32,
    shoulder_squared: f32,
    span_for_pixels: f32,
    /// None where the line stays straight.
    steeper_for_pixels: Option<f32>,
    top: f32,
}

impl Curve {
    /// With this greatest density (`D_max = (S + sqrt(S^2 + b^2)) / 2` above no density at all).
    pub(super) fn new(dmax: f64, toe: f64, shoulder: f64) -> Self {
        let beyond = (dmax.min(STEEPER_UP_TO) - STEEPER_BEYOND).max(0.0);
        let steeper = STEEPER * beyond;
        let mut curve = Self {
            toe,
            steeper,
            steeper_for_pixels: (steeper > 0.0).then_some(steeper as f32),
            shoulder,
            span: dmax - shoulder * shoulder / (4.0 * dmax),
            toe_squared: (toe * toe) as f32,
            shoulder_squared: (shoulder * shoulder) as f32,
            span_for_pixels: 0.0,
            top: 0.0,
        };
        curve.span_for_pixels = curve.span as f32;
        curve.top = (curve.span - curve.shouldered(0.0)) as f32;
        curve
    }

    fn shouldered(&self, t: f64) -> f64 {
        let room = self.span - t;
        self.span - (room + libm::hypot(room, self.shoulder)) / 2.0
    }

    /// Density at a log exposure, in double precision.
    pub(super) fn density(&self, u: f64) -> f64 {
        let t = (u + libm::hypot(u, self.toe)) / 2.0;
        let over = (t - STEEPER_FROM).max(0.0);
        let t = t + self.steeper * over * over;
        self.shouldered(t) - self.shouldered(0.0)
    }

    /// The log exposure that makes a density, by halving.
    pub(super) fn place_of(&self, density: f64) -> f64 {
        let (mut low, mut high) = (-1.0, self.span);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if self.density(middle) < density {
                low = middle;
            } else {
                high = middle;
            }
        }
        f64::midpoint(low, high)
    }

    /// Density at a log exposure.
    #[inline(always)]
    pub(super) fn of_pixel<L: Lane>(&self, u: L) -> L {
        let mut toe = (u + (u * u + self.toe_squared).sqrt()) * 0.5;
        if let Some(steeper) = self.steeper_for_pixels {
            let over = (toe - STEEPER_FROM as f32).max(u.of(0.0));
            toe = over * over * steeper + toe;
        }
        let room = -toe + self.span_for_pixels;
        let bent = (room + (room * room + self.shoulder_squared).sqrt()) * 0.5;
        -bent + self.top
    }
}
