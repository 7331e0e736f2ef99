//! A monotone cubic through points.
//!
//! Fritsch and Carlson, Monotone Piecewise Cubic Interpolation, SIAM J. Numer. Anal. 17(2), 1980:
//! cubic Hermite pieces whose slopes at the points are limited so that no piece overshoots.
//! Beyond the first and the last point the curve goes on straight with its slope there, which is
//! limited too, so that far-away codes stay within reach.
//!
//! A pixel's value is the sum of what each piece has risen by, `x` being limited to the piece: no
//! branch, no search, and every term rises.

use lookwright_colour::lane::Lane;

/// The steepest the curve may leave its first and last point.
const END_SLOPE_MAX: f64 = 4.0;
/// Points nearer than this (a quarter of a 10-bit code) count as one; the later one holds.
const NEAREST: f64 = 0.25 / 1023.0;

/// A curve through points, prepared for pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct MonotoneCurve {
    first: [f32; 2],
    first_slope: f32,
    pieces: Vec<Piece>,
    last: f32,
    last_slope: f32,
}

/// `rise = ((c s + b) s + a) s`, `s = (x - start) / width` in 0 ... 1.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Piece {
    start: f32,
    per_width: f32,
    a: f32,
    b: f32,
    c: f32,
}

impl MonotoneCurve {
    /// Through `[in, out]` points in code of 1; none if that is the identity.
    ///
    /// `amount` moves every point's `out` from the identity; the result is limited to 0 ... 1.
    /// Points out of order are sorted, doubled ones made single, and one that lies lower than
    /// the point before it is lifted to it: whatever comes in, the curve never falls.
    pub fn new(points: &[[f64; 2]], amount: f64) -> Option<Self> {
        let points = tidied(points, amount);
        if points.len() < 2 || points.iter().all(|[x, y]| x == y) {
            return None;
        }
        let slopes = slopes(&points);
        let pieces = points
            .windows(2)
            .zip(slopes.windows(2))
            .map(|(ends, slopes)| {
                let width = ends[1][0] - ends[0][0];
                let rise = ends[1][1] - ends[0][1];
                let (from, to) = (slopes[0] * width, slopes[1] * width);
                Piece {
                    start: ends[0][0] as f32,
                    per_width: (1.0 / width) as f32,
                    a: from as f32,
                    b: (3.0 * rise - 2.0 * from - to) as f32,
                    c: (from + to - 2.0 * rise) as f32,
                }
            });
        Some(Self {
            first: points[0].map(|v| v as f32),
            first_slope: slopes[0] as f32,
            pieces: pieces.collect(),
            last: points[points.len() - 1][0] as f32,
            last_slope: slopes[slopes.len() - 1] as f32,
        })
    }

    /// Code of 1 to code of 1.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, code: L) -> L {
        let nothing = code.of(0.0);
        let before = (code - self.first[0]).min(nothing) * self.first_slope;
        let after = (code - self.last).max(nothing) * self.last_slope;
        let mut out = before + after + self.first[1];
        for piece in &self.pieces {
            let s = ((code - piece.start) * piece.per_width).clamp_to(0.0, 1.0);
            out = out + ((s * piece.c + piece.b) * s + piece.a) * s;
        }
        out
    }
}

/// The points in order, single, moved by the amount, and never falling.
fn tidied(points: &[[f64; 2]], amount: f64) -> Vec<[f64; 2]> {
    let mut sorted: Vec<_> = points
        .iter()
        .copied()
        .filter(|p| p.iter().all(|v| v.is_finite()))
        .collect();
    sorted.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut tidy: Vec<[f64; 2]> = Vec::with_capacity(sorted.len());
    for [x, y] in sorted {
        let mut moved = (x + (y - x) * amount).clamp(0.0, 1.0);
        if tidy.last().is_some_and(|last| x - last[0] < NEAREST) {
            tidy.pop();
        }
        if let Some(last) = tidy.last() {
            moved = moved.max(last[1]);
        }
        tidy.push([x, moved]);
    }
    tidy
}

/// The slope at each point (at least two), limited as Fritsch and Carlson do.
fn slopes(points: &[[f64; 2]]) -> Vec<f64> {
    let secants: Vec<f64> = points
        .windows(2)
        .map(|ends| (ends[1][1] - ends[0][1]) / (ends[1][0] - ends[0][0]))
        .collect();
    let last = secants.len();
    let mut slopes: Vec<f64> = (0..=last)
        .map(|i| match i {
            0 => secants[0].min(END_SLOPE_MAX),
            _ if i == last => secants[last - 1].min(END_SLOPE_MAX),
            _ => f64::midpoint(secants[i - 1], secants[i]),
        })
        .collect();
    for (i, secant) in secants.iter().enumerate() {
        if *secant == 0.0 {
            slopes[i] = 0.0;
            slopes[i + 1] = 0.0;
            continue;
        }
        let (alpha, beta) = (slopes[i] / secant, slopes[i + 1] / secant);
        let length = libm::hypot(alpha, beta);
        if length > 3.0 {
            slopes[i] = 3.0 * alpha / length * secant;
            slopes[i + 1] = 3.0 * beta / length * secant;
        }
    }
    slopes
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn any_points() -> impl Strategy<Value = Vec<[f64; 2]>> {
        proptest::collection::vec([0.0..=1.0, 0.0..=1.0], 2..=16)
    }

    proptest! {
        #[test]
        fn never_falls_whatever_the_points(points in any_points(), amount in 0.0..2.0) {
            if let Some(curve) = MonotoneCurve::new(&points, amount) {
                let mut last = f32::NEG_INFINITY;
                for i in -400..=4500 {
                    let y = curve.apply(i as f32 / 4096.0);
                    prop_assert!(y.is_finite() && y >= last - 5e-7, "falls at {i}");
                    last = y;
                }
            }
        }

        #[test]
        fn has_no_kink_at_its_points(points in any_points()) {
            if let Some(curve) = MonotoneCurve::new(&points, 1.0) {
                for piece in &curve.pieces {
                    // The slope the piece ends with is the one that the next begins with.
                    let x = piece.start + 1.0 / piece.per_width;
                    let ends_with = (piece.a + 2.0 * piece.b + 3.0 * piece.c) * piece.per_width;
                    let goes_on_with = curve
                        .pieces
                        .iter()
                        .find(|next| (next.start - x).abs() < 1e-6)
                        .map_or(curve.last_slope, |next| next.a * next.per_width);
                    let scale = piece.per_width * 2e-6 + 1e-4;
                    prop_assert!((ends_with - goes_on_with).abs() < scale.max(ends_with * 1e-3));
                }
                let begins_with = curve.pieces[0].a * curve.pieces[0].per_width;
                prop_assert!((begins_with - curve.first_slope).abs() <= 1e-6 * begins_with);
            }
        }
    }

    #[test]
    fn goes_through_its_points() {
        let points = [
            [0.0, 0.02],
            [0.3, 0.2],
            [0.5, 0.55],
            [0.8, 0.81],
            [1.0, 0.9],
        ];
        let curve = MonotoneCurve::new(&points, 1.0).unwrap();
        for [x, y] in points {
            assert!((f64::from(curve.apply(x as f32)) - y).abs() < 1e-6);
        }
    }

    #[test]
    fn it_keeps_the_limits_of_the_paper() {
        // The paper's test data RPN 14 (Fritsch and Carlson 1980, table 1; from memory): flat,
        // then a steep rise, where an ordinary cubic spline overshoots. Scaled into 0 ... 1.
        let x = [7.99, 8.09, 8.19, 8.7, 9.2, 10.0, 12.0, 15.0, 20.0];
        let y = [
            0.0,
            2.764_29e-5,
            4.374_98e-2,
            0.169_183,
            0.469_428,
            0.943_74,
            0.998_636,
            0.999_919,
            0.999_994,
        ];
        let points: Vec<_> = x
            .iter()
            .zip(y)
            .map(|(x, y)| [(x - 7.0) / 13.0, y])
            .collect();
        for (i, slope) in slopes(&points).windows(2).enumerate() {
            let secant = (points[i + 1][1] - points[i][1]) / (points[i + 1][0] - points[i][0]);
            let (alpha, beta) = (slope[0] / secant, slope[1] / secant);
            assert!(alpha >= 0.0 && beta >= 0.0);
            assert!(alpha * alpha + beta * beta <= 9.0 + 1e-9, "piece {i}");
        }
    }

    #[test]
    fn the_identity_is_no_curve_and_bad_points_are_mended() {
        assert_eq!(MonotoneCurve::new(&[], 1.0), None);
        assert_eq!(MonotoneCurve::new(&[[0.5, 0.2]], 1.0), None);
        let diagonal = [[0.0, 0.0], [0.4, 0.4], [1.0, 1.0]];
        assert_eq!(MonotoneCurve::new(&diagonal, 2.0), None);
        assert_eq!(MonotoneCurve::new(&[[0.0, 0.3], [1.0, 0.6]], 0.0), None);
        let ordered = [[0.0, 0.0], [0.5, 0.6], [1.0, 1.0]];
        let tangled = [
            [1.0, 1.0],
            [0.5, 0.4],
            [0.0, 0.0],
            [0.5, 0.6],
            [f64::NAN, 0.1],
        ];
        assert_eq!(
            MonotoneCurve::new(&tangled, 1.0),
            MonotoneCurve::new(&ordered, 1.0)
        );
    }
}
