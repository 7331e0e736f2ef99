//! A curve as a sum of ramps: an expression that can be typed wherever there is `min` and `max`.

use core::fmt;

/// Most ramps of an expression.
const MOST: usize = 16;
/// An expression is near enough where it is this share of the gain off, or this much.
const NEAR_SHARE: f32 = 0.05;
const NEAR: f32 = 0.01;

/// Straight lines through some places of a curve: `y0 + s1 min(max(x - x1, 0), w1) + ...`.
#[derive(Clone, Debug, PartialEq)]
pub struct Ramps {
    /// Place and value, by place.
    knots: Vec<(f32, f32)>,
}

impl Ramps {
    /// Through a table over 0 ... 1, with as few knots as keep near it.
    pub(super) fn through(table: &[f32]) -> Self {
        let last = table.len() - 1;
        let place = |i: usize| (i as f32 / last as f32, table[i]);
        let mut chosen = vec![0, last];
        while chosen.len() <= MOST {
            let mut worst = (1.0, 0);
            for pair in chosen.windows(2) {
                let (a, b) = (place(pair[0]), place(pair[1]));
                for (i, gain) in table.iter().enumerate().take(pair[1]).skip(pair[0] + 1) {
                    let line = a.1 + (b.1 - a.1) * (place(i).0 - a.0) / (b.0 - a.0);
                    let off = (line - gain).abs() / (gain * NEAR_SHARE).max(NEAR);
                    if off > worst.0 {
                        worst = (off, i);
                    }
                }
            }
            if worst.1 == 0 {
                break;
            }
            chosen.push(worst.1);
            chosen.sort_unstable();
        }
        // As the expression is written.
        let knots = chosen.into_iter().map(|i| {
            let (x, y) = place(i);
            (rounded(x), rounded(y))
        });
        Self {
            knots: knots.collect(),
        }
    }

    /// The value at a place.
    #[must_use]
    pub fn apply(&self, x: f32) -> f32 {
        let mut value = self.knots[0].1;
        for (x0, width, slope) in self.each() {
            value += slope * (x - x0).max(0.0).min(width);
        }
        value
    }

    /// First place, width and slope of each ramp.
    fn each(&self) -> impl Iterator<Item = (f32, f32, f32)> {
        self.knots.windows(2).filter_map(|pair| {
            let [(x0, y0), (x1, y1)] = pair else {
                return None;
            };
            let width = x1 - x0;
            (width > 0.0 && y1 != y0).then(|| (*x0, width, (y1 - y0) / width))
        })
    }
}

impl fmt::Display for Ramps {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.4}", self.knots[0].1)?;
        for (x0, width, slope) in self.each() {
            let sign = if slope < 0.0 { '-' } else { '+' };
            let slope = slope.abs();
            write!(f, " {sign} {slope:.4}*min(max(x-{x0:.4},0),{width:.4})")?;
        }
        Ok(())
    }
}

fn rounded(value: f32) -> f32 {
    (value * 10_000.0).round() / 10_000.0
}
