//! Stocks: a balance and a speed, and what follows from them.
//!
//! Faster film has larger grains. From that follow more grain, less sharpness, a softer and longer
//! curve and less separation, each by a relation below. None is any maker's; where a line names no
//! source it is *chosen* (a class of film, not a product).

use super::characteristic::Shape;
use super::interimage::SEPARATION_MIDDLE;
use crate::look::{self, Balance, ContrastFilter};

/// Slowest and fastest speed, ISO.
pub const SPEED_MIN: f64 = 25.0;
/// See [`SPEED_MIN`].
pub const SPEED_MAX: f64 = 1600.0;
const SPEED_MIDDLE: f64 = 250.0;

/// What a stock is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StockData {
    /// The light that grey exposes the layers alike in, or the colours that one emulsion sees.
    pub balance: Balance,
    /// A contrast filter before one-emulsion film.
    pub filter: ContrastFilter,
    /// Speed as a share of the range, 0 at ISO 25 and 1 at ISO 1600, equal steps a stop.
    pub speed_share: f64,
    /// Times the couplers' direction of separation.
    pub separation: f64,
    /// Density per log10 exposure: the mean slope from mid-grey to 90 % white.
    pub gamma: f64,
    /// Width of the toe's bend in log10 exposure.
    pub toe_log_e: f64,
    /// Width of the shoulder's bend in log10 exposure.
    pub shoulder_log_e: f64,
    /// Length of the straight line from base to where the shoulder ends it, in log10 exposure.
    pub span_log_e: f64,
    /// RMS granularity x1000, 48 um aperture, at density 1.0, per layer.
    pub rms_x1000: [f64; 3],
    /// Correlation length of the grain per layer in um.
    pub grain_um: [f64; 3],
    /// Frequency at half contrast per layer in cycles per mm.
    pub mtf50_per_mm: [f64; 3],
}

impl StockData {
    /// From the look's step.
    pub fn of(stock: &look::Stock) -> Self {
        let share = |iso: f64| libm::log2(iso / SPEED_MIN) / libm::log2(SPEED_MAX / SPEED_MIN);
        let speed = stock.speed.clamp(SPEED_MIN, SPEED_MAX);
        let off = share(speed) - share(SPEED_MIDDLE);
        let times = speed / SPEED_MIDDLE;
        let one_emulsion = is_one_emulsion(stock.balance);
        let lamp = if stock.balance == Balance::Lamp {
            1.0
        } else {
            0.0
        };
        // Granularity by Selwyn's law goes with the square root of the grains' area, and speed with
        // that area: power 1/2. Makers spend half of it on thinner grains and finer couplers, and
        // 500 is then 1.8 times as grainy as 50 (1.5 to 2: from memory of data sheets).
        let rms = libm::pow(times, 0.25);
        let size = libm::pow(times, 0.2);
        let sharpness = libm::pow(times, -0.12);
        let (rms_x1000, grain_um, mtf50_per_mm) = if one_emulsion {
            ([7.0; 3], [7.0; 3], [50.0; 3])
        } else {
            ([5.5, 5.0, 9.0], [6.5, 6.0, 8.0], [44.0, 56.0, 66.0])
        };
        Self {
            balance: stock.balance,
            filter: stock.filter,
            speed_share: share(speed),
            separation: SEPARATION_MIDDLE - 1.7 * off - 0.72 * lamp,
            // A published average of 0.6 (film-scan conversion, 1993) at the middle.
            gamma: if one_emulsion { 0.65 } else { 0.60 } - 0.12 * off - 0.035 * lamp,
            toe_log_e: 0.30 + 0.24 * off + 0.08 * lamp,
            shoulder_log_e: 0.65 + 0.20 * off,
            span_log_e: 3.45 + 0.30 * off,
            rms_x1000: rms_x1000.map(|at_middle: f64| at_middle * rms),
            grain_um: grain_um.map(|at_middle: f64| at_middle * size),
            mtf50_per_mm: mtf50_per_mm.map(|at_middle: f64| at_middle * sharpness),
        }
    }

    /// The characteristic curve's shape.
    pub(super) const fn shape(&self) -> Shape {
        Shape {
            toe: self.toe_log_e,
            shoulder: self.shoulder_log_e,
            span: self.span_log_e,
        }
    }

    /// Whether a single emulsion sees all light: black and white.
    pub fn one_emulsion(&self) -> bool {
        is_one_emulsion(self.balance)
    }
}

fn is_one_emulsion(balance: Balance) -> bool {
    matches!(balance, Balance::Panchromatic | Balance::Orthochromatic)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::{Options, StartingStock};

    fn at(balance: Balance, speed: f64) -> StockData {
        StockData::of(&look::Stock {
            balance,
            speed,
            ..Default::default()
        })
    }

    #[test]
    fn all_that_speed_costs_follows_it_without_a_jump() {
        for balance in Balance::ALL {
            let mut last = at(*balance, SPEED_MIN);
            for step in 1..=60 {
                let here = at(*balance, SPEED_MIN * libm::exp2(f64::from(step) / 10.0));
                for i in 0..3 {
                    let grain = here.rms_x1000[i] / last.rms_x1000[i];
                    assert!((1.0..1.03).contains(&grain));
                    assert!(here.grain_um[i] > last.grain_um[i]);
                    assert!(here.mtf50_per_mm[i] < last.mtf50_per_mm[i]);
                }
                assert!(here.gamma < last.gamma && here.separation < last.separation);
                assert!(here.toe_log_e > last.toe_log_e && here.span_log_e > last.span_log_e);
                last = here;
            }
            assert!(last.separation > 0.0 && last.gamma > 0.45);
        }
    }

    #[test]
    fn a_500_is_half_again_to_twice_as_grainy_as_a_50() {
        // From memory of data sheets: 1.5 to 2 times.
        let times = at(Balance::Day, 500.0).rms_x1000[1] / at(Balance::Day, 50.0).rms_x1000[1];
        assert!((1.5..2.0).contains(&times), "{times}");
    }

    #[test]
    fn starting_stocks_lie_within_the_range_of_speeds() {
        for start in StartingStock::ALL {
            assert!((SPEED_MIN..=SPEED_MAX).contains(&start.speed()));
        }
    }
}
