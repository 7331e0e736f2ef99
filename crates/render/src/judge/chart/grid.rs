//! Where the chart lies in a picture: a perspective of its grid.
//!
//! The perspective is fitted by the direct linear transform with both sides brought to a common scale
//! (Hartley, In Defense of the Eight-Point Algorithm, IEEE Trans. PAMI 19(6), 1997).

use super::published::{COLUMNS, ROWS};
use crate::judge::still::solved;

/// How small a mesh may be against the square of its longer side: a chart that is seen from its edge can't
/// be read. *Chosen.*
const FLATTEST: f64 = 0.02;

/// A place: across from the left, down from the top.
pub(super) type Place = [f64; 2];

/// From the chart's own columns and rows (patch centres at whole numbers) to places of a picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Grid([f64; 9]);

/// What both sides are brought to: middle at 0, mean distance 1.
struct Scale {
    middle: Place,
    by: f64,
}

impl Scale {
    fn of(places: &[Place]) -> Self {
        let count = places.len().max(1) as f64;
        let middle = [0, 1].map(|i| places.iter().map(|p| p[i]).sum::<f64>() / count);
        let far = |p: &Place| libm::hypot(p[0] - middle[0], p[1] - middle[1]);
        let mean = places.iter().map(far).sum::<f64>() / count;
        Self {
            middle,
            by: 1.0 / mean.max(1e-9),
        }
    }

    fn to(&self, place: Place) -> Place {
        [0, 1].map(|i| (place[i] - self.middle[i]) * self.by)
    }
}

impl Grid {
    /// The grid nearest to pairs of a place on the chart and one of the picture, four at least; none
    /// where they don't fix one.
    pub(super) fn fitted(pairs: &[(Place, Place)]) -> Option<Self> {
        if pairs.len() < 4 {
            return None;
        }
        let chart: Vec<Place> = pairs.iter().map(|p| p.0).collect();
        let seen: Vec<Place> = pairs.iter().map(|p| p.1).collect();
        let (from, to) = (Scale::of(&chart), Scale::of(&seen));
        let mut matrix = vec![vec![0.0; 8]; 8];
        let mut right = vec![0.0; 8];
        for (chart, seen) in chart.iter().zip(&seen) {
            let ([u, v], [x, y]) = (from.to(*chart), to.to(*seen));
            let rows = [
                ([u, v, 1.0, 0.0, 0.0, 0.0, -u * x, -v * x], x),
                ([0.0, 0.0, 0.0, u, v, 1.0, -u * y, -v * y], y),
            ];
            for (row, value) in rows {
                for i in 0..8 {
                    right[i] += row[i] * value;
                    for j in 0..8 {
                        matrix[i][j] += row[i] * row[j];
                    }
                }
            }
        }
        let h = solved(&matrix, &right);
        if h.iter()
            .any(|value| !value.is_finite() || value.abs() > 1e3)
        {
            return None;
        }
        // out = to^-1 . H . from
        let (s, t) = (from.by, 1.0 / to.by);
        let [cu, cv] = from.middle;
        let row = |a: f64, b: f64, c: f64| [a * s, b * s, c - (a * cu + b * cv) * s];
        let (x, y, w) = (
            row(h[0], h[1], h[2]),
            row(h[3], h[4], h[5]),
            row(h[6], h[7], 1.0),
        );
        let [mx, my] = to.middle;
        let mut out = [0.0; 9];
        for i in 0..3 {
            out[i] = x[i] * t + mx * w[i];
            out[3 + i] = y[i] * t + my * w[i];
            out[6 + i] = w[i];
        }
        let grid = Self(out);
        grid.is_sound().then_some(grid)
    }

    /// The grid whose corner patches have these centres: those that lie left and right at the top, then right
    /// and left at the foot, of a chart that stands upright.
    pub(super) fn of_corners(corners: &[Place; 4]) -> Option<Self> {
        let pairs: Vec<(Place, Place)> = CORNERS.into_iter().zip(*corners).collect();
        Self::fitted(&pairs)
    }

    /// The centres of the corner patches, in the order of [`Grid::of_corners`].
    pub(super) fn corners(&self) -> [Place; 4] {
        CORNERS.map(|corner| self.at(corner))
    }

    /// The place of the picture at columns and rows of the chart.
    pub(super) fn at(&self, [u, v]: Place) -> Place {
        let h = &self.0;
        let w = h[6] * u + h[7] * v + h[8];
        [
            (h[0] * u + h[1] * v + h[2]) / w,
            (h[3] * u + h[4] * v + h[5]) / w,
        ]
    }

    /// The same grid counted from another patch: turned a quarter `turns` times, mirrored first or not, and
    /// moved by whole patches.
    pub(super) fn counted(&self, turns: usize, mirrored: bool, start: Place) -> Self {
        let flip = if mirrored { -1.0 } else { 1.0 };
        let ([a, b], [c, d]) = match turns % 4 {
            0 => ([1.0, 0.0], [0.0, 1.0]),
            1 => ([0.0, -1.0], [1.0, 0.0]),
            2 => ([-1.0, 0.0], [0.0, -1.0]),
            _ => ([0.0, 1.0], [-1.0, 0.0]),
        };
        let h = &self.0;
        let mut out = [0.0; 9];
        for row in 0..3 {
            let [p, q, r] = [h[3 * row], h[3 * row + 1], h[3 * row + 2]];
            out[3 * row] = (p * a + q * c) * flip;
            out[3 * row + 1] = p * b + q * d;
            out[3 * row + 2] = p * start[0] + q * start[1] + r;
        }
        Self(out)
    }

    /// The same grid in a picture that is so many times as large.
    pub(super) fn scaled(&self, [across, down]: Place) -> Self {
        let mut out = self.0;
        for i in 0..3 {
            out[i] *= across;
            out[3 + i] *= down;
        }
        Self(out)
    }

    /// The ways to the next column and to the next row in the middle of the chart.
    pub(super) fn mesh(&self) -> [Place; 2] {
        let [u, v] = [(COLUMNS - 1) as f64 / 2.0, (ROWS - 1) as f64 / 2.0];
        let way = |from: Place, to: Place| {
            let (from, to) = (self.at(from), self.at(to));
            [to[0] - from[0], to[1] - from[1]]
        };
        [
            way([u - 0.5, v], [u + 0.5, v]),
            way([u, v - 0.5], [u, v + 0.5]),
        ]
    }

    /// How far neighbouring patches lie apart in the middle of the chart, the shorter way.
    pub(super) fn pitch(&self) -> f64 {
        let [across, down] = self.mesh().map(|[x, y]| libm::hypot(x, y));
        across.min(down)
    }

    /// Which way up the chart lies: how far its top is turned clockwise, in quarters.
    pub(super) fn turns(&self) -> usize {
        let [[x, y], _] = self.mesh();
        let degrees = libm::atan2(y, x).to_degrees();
        (libm::round(degrees / 90.0) as i64).rem_euclid(4) as usize
    }

    /// Whether all of the chart lies before the eye, on one side, and is no mere line.
    fn is_sound(&self) -> bool {
        let h = &self.0;
        let ahead = CORNERS
            .iter()
            .map(|[u, v]| h[6] * u + h[7] * v + h[8])
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), w| {
                (low.min(w), high.max(w))
            });
        let [[ax, ay], [bx, by]] = self.mesh();
        let lengths = [libm::hypot(ax, ay), libm::hypot(bx, by)];
        let area = (ax * by - ay * bx).abs();
        ahead.0 * ahead.1 > 0.0 && area > FLATTEST * lengths[0].max(lengths[1]).powi(2)
    }
}

/// The corner patches' places on the chart.
const CORNERS: [Place; 4] = {
    let (right, foot) = ((COLUMNS - 1) as f64, (ROWS - 1) as f64);
    [[0.0, 0.0], [right, 0.0], [right, foot], [0.0, foot]]
};

#[cfg(test)]
mod tests {
    use super::*;

    const SEEN: [Place; 4] = [[100.0, 80.0], [420.0, 120.0], [400.0, 300.0], [90.0, 320.0]];

    #[test]
    fn four_corners_fix_a_perspective_and_come_back() {
        let grid = Grid::of_corners(&SEEN).unwrap();
        for (found, given) in grid.corners().iter().zip(SEEN) {
            assert!((found[0] - given[0]).abs() < 1e-3 && (found[1] - given[1]).abs() < 1e-3);
        }
        // Diagonals meet where they met on the chart.
        let middle = grid.at([2.5, 1.5]);
        let cross = |a: Place, b: Place| {
            (b[0] - a[0]) * (middle[1] - a[1]) - (b[1] - a[1]) * (middle[0] - a[0])
        };
        assert!(cross(SEEN[0], SEEN[2]).abs() < 1.0 && cross(SEEN[1], SEEN[3]).abs() < 1.0);
        assert_eq!(grid.turns(), 0);
    }

    #[test]
    fn a_grid_counted_from_its_far_corner_lies_upside_down() {
        let grid = Grid::of_corners(&SEEN).unwrap();
        let turned = grid.counted(2, false, [5.0, 3.0]);
        let (a, b) = (turned.at([0.0, 0.0]), grid.at([5.0, 3.0]));
        assert!((a[0] - b[0]).abs() < 1e-9 && (a[1] - b[1]).abs() < 1e-9);
        assert_eq!(turned.turns(), 2);
    }

    #[test]
    fn corners_on_one_line_fix_nothing() {
        assert_eq!(
            Grid::of_corners(&[[0.0, 0.0], [10.0, 0.0], [20.0, 0.0], [30.0, 0.0]]),
            None
        );
    }
}
