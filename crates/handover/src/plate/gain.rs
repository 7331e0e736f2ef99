//! How much of a plate shows at each code.

use lookwright_colour::Result;
use lookwright_render::Swing;
use lookwright_table::Curve1;

use super::ramps::Ramps;

/// First and last grey that a gain is measured on, in stops above mid-grey.
pub(super) const STOPS: [i32; 2] = [-14, 10];
/// Places of the table: in blacks a print's codes are close together, and grain changes from one to
/// the next.
const SIZE: usize = 4096;
/// The numbers that are told, in stops above mid-grey.
const TOLD: core::ops::RangeInclusive<i32> = -8..=6;

/// How much of a plate shows at each code, 0 to 1 in each channel.
#[derive(Clone, Debug, PartialEq)]
pub struct Gain {
    /// By code over 0 ... 1, per channel.
    table: [Vec<f32>; 3],
    points: Vec<GainPoint>,
    drawn_at: f64,
    times: [f32; 3],
}

/// A grey's code and gain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GainPoint {
    /// Stops above mid-grey.
    pub stops: i32,
    /// Its code, without the texture.
    pub code: [f32; 3],
    /// The gain there.
    pub gain: [f32; 3],
}

impl Gain {
    /// From what greys of so many `stops` swing by.
    pub(super) fn of(stops: &[f64], swings: &[Swing]) -> Self {
        // Beyond the ends of the scale nothing is laid.
        let is_code = |code: f32| (0.0..=1.0).contains(&code);
        let of = |c: usize| swings.iter().filter(move |s| is_code(s.code[c]));
        let most = [0, 1, 2].map(|c| of(c).map(|s| s.deviation[c]).fold(0.0, f32::max));
        let share = |swing: &Swing, c: usize| match most[c] > 0.0 {
            true => swing.deviation[c] / most[c],
            false => 1.0,
        };
        // Where all channels show about as much as they ever do, and none comes to an end of the scale.
        let least = |swing: &Swing| {
            let seen = |c: usize| {
                let (code, swung) = (swing.code[c], 3.0 * swing.deviation[c]);
                match is_code(code - swung) && is_code(code + swung) {
                    true => share(swing, c),
                    false => 0.0,
                }
            };
            (0..3).map(seen).fold(1.0, f32::min)
        };
        let mut drawn = 0;
        for (i, swing) in swings.iter().enumerate() {
            if least(swing) > least(&swings[drawn]) {
                drawn = i;
            }
        }
        let times = [0, 1, 2].map(|c| 1.0 / share(&swings[drawn], c).max(0.01));
        let table = [0, 1, 2].map(|c| {
            let places = of(c).map(|s| (s.code[c], share(s, c)));
            by_code(&places.collect::<Vec<_>>())
        });
        let gain = |code: [f32; 3]| [0, 1, 2].map(|c| read(&table[c], code[c]));
        let told = stops.iter().zip(swings).filter_map(|(&stops, swing)| {
            let whole = stops as i32;
            let is_told = f64::from(whole) == stops && TOLD.contains(&whole);
            is_told.then(|| GainPoint {
                stops: whole,
                code: swing.code,
                gain: gain(swing.code),
            })
        });
        Self {
            points: told.collect(),
            drawn_at: stops[drawn],
            times,
            table,
        }
    }

    /// The gain of a code.
    #[must_use]
    pub fn apply(&self, code: [f32; 3]) -> [f32; 3] {
        [0, 1, 2].map(|c| read(&self.table[c], code[c]))
    }

    /// Greys in whole stops.
    #[must_use]
    pub fn points(&self) -> &[GainPoint] {
        &self.points
    }

    /// The grey that plates are drawn over, in stops above mid-grey.
    #[must_use]
    pub const fn drawn_at(&self) -> f64 {
        self.drawn_at
    }

    /// What a plate is multiplied by, so that 1 is the gain where the texture shows most.
    pub(super) const fn times(&self) -> [f32; 3] {
        self.times
    }

    /// As a 1D table.
    pub(super) fn curve(&self) -> Result<Curve1> {
        let [r, g, b] = &self.table;
        let rows = r.iter().zip(g).zip(b).map(|((r, g), b)| [*r, *g, *b]);
        Curve1::from_samples([0.0; 3], [1.0; 3], rows.collect())
    }

    /// As an expression for each channel.
    #[must_use]
    pub fn ramps(&self) -> [Ramps; 3] {
        self.table.each_ref().map(|table| Ramps::through(table))
    }

    /// How far expressions are off the table at most.
    #[must_use]
    pub fn most_off(&self, ramps: &[Ramps; 3]) -> f32 {
        let mut most = 0.0_f32;
        for (table, ramps) in self.table.iter().zip(ramps) {
            for (i, gain) in table.iter().enumerate() {
                let code = i as f32 / (SIZE - 1) as f32;
                most = most.max((ramps.apply(code) - gain).abs());
            }
        }
        most
    }
}

/// A table by code from greys' codes and values, in the order of the greys. Where several greys have
/// one code, as the blacks of some looks do, it holds their mean; beyond all greys, the last.
fn by_code(places: &[(f32, f32)]) -> Vec<f32> {
    let mut sums = vec![[0.0_f64; 2]; SIZE];
    for (code, value) in places {
        let at = f64::from(code.clamp(0.0, 1.0)) * (SIZE - 1) as f64;
        let first = (at as usize).min(SIZE - 2);
        let part = at - first as f64;
        for (place, weight) in [(first, 1.0 - part), (first + 1, part)] {
            sums[place][0] += weight * f64::from(*value);
            sums[place][1] += weight;
        }
    }
    let held: Vec<(usize, f64)> = (sums.iter().enumerate())
        .filter(|(_, [_, weight])| *weight > 1e-3)
        .map(|(i, [sum, weight])| (i, sum / weight))
        .collect();
    let mut table = vec![0.0; SIZE];
    let (Some(first), Some(last)) = (held.first(), held.last()) else {
        return table;
    };
    table[..first.0].fill(first.1 as f32);
    table[last.0..].fill(last.1 as f32);
    for pair in held.windows(2) {
        let [(from, a), (to, b)] = pair else { continue };
        for (i, value) in table.iter_mut().enumerate().take(*to).skip(*from) {
            let part = (i - from) as f64 / (to - from) as f64;
            *value = (a + (b - a) * part) as f32;
        }
    }
    table
}

fn read(table: &[f32], code: f32) -> f32 {
    let at = code.clamp(0.0, 1.0) * (SIZE - 1) as f32;
    let first = (at as usize).min(SIZE - 2);
    let part = at - first as f32;
    table[first] + (table[first + 1] - table[first]) * part
}
