//! Stray light for moving pictures, on a copy of half the size.
//!
//! It varies slowly, so what it adds is worked out on the halved picture and laid over the whole
//! one. What strays before the film is taken on layer exposure instead of scene light: between the two
//! lies a matrix, which changes nothing about how light spreads, and a floor under what would be
//! negative.

use lookwright_colour::lane::widest;
use lookwright_film::spatial::Planes;
use lookwright_film::spatial::step::{SpreadStep, spread_whole};

/// Stray light for pictures of one size.
pub(super) struct Stray {
    steps: Vec<Box<dyn SpreadStep>>,
    half: Planes,
    added: Planes,
}

/// The size of a halved picture.
pub(super) const fn half_size((width, height): (usize, usize)) -> (usize, usize) {
    (width.div_ceil(2), height.div_ceil(2))
}

impl Stray {
    /// For pictures of `size`, from steps made for half of it.
    pub(super) fn new(size: (usize, usize), steps: Vec<Box<dyn SpreadStep>>) -> Self {
        let (width, height) = half_size(size);
        let half = Planes::filled(width, height, 0.0);
        Self {
            steps,
            added: half.clone(),
            half,
        }
    }

    /// Adds stray light to layer exposure, in place.
    pub(super) fn add(&mut self, exposure: &mut Planes) {
        let Self { half, added, .. } = self;
        for (plane, (half, added)) in
            (exposure.planes.iter()).zip(half.planes.iter_mut().zip(&mut added.planes))
        {
            halve(plane, exposure.width, half);
            added.copy_from_slice(half);
        }
        for step in &self.steps {
            spread_whole(step.as_ref(), added);
        }
        let mut row = vec![0.0; half.width];
        for (plane, (half, added)) in
            (exposure.planes.iter_mut()).zip(self.half.planes.iter().zip(&mut self.added.planes))
        {
            widest(
                #[inline(always)]
                || {
                    for (added, half) in added.iter_mut().zip(half) {
                        *added -= half;
                    }
                },
            );
            add_doubled(added, &mut row, plane, exposure.width);
        }
    }
}

/// The mean of every four pixels; where the last column or row is alone, of two.
fn halve(plane: &[f32], width: usize, half: &mut [f32]) {
    let rows = half.chunks_mut(width.div_ceil(2));
    for (pair, out) in plane.chunks(2 * width).zip(rows) {
        let (upper, lower) = pair.split_at(width);
        let lower = if lower.is_empty() { upper } else { lower };
        widest(
            #[inline(always)]
            || {
                let (upper, upper_end) = upper.as_chunks::<2>();
                let (lower, lower_end) = lower.as_chunks::<2>();
                for ((out, a), b) in out.iter_mut().zip(upper).zip(lower) {
                    *out = (a[0] + a[1] + b[0] + b[1]) * 0.25;
                }
                if let ([a], [b], Some(out)) = (upper_end, lower_end, out.last_mut()) {
                    *out = (a + b) * 0.5;
                }
            },
        );
    }
}

/// Adds a halved picture at twice its size, linearly between the middles of its pixels; the sum is
/// held at 0.
fn add_doubled(half: &[f32], row: &mut [f32], plane: &mut [f32], width: usize) {
    let (half_width, half_height) = (row.len(), half.len() / row.len().max(1));
    for (y, out) in plane.chunks_mut(width).enumerate() {
        let line = |at: usize| &half[at * half_width..][..half_width];
        let (near, far) = (line(y / 2), line(beside(y, half_height)));
        widest(
            #[inline(always)]
            || {
                for ((row, near), far) in row.iter_mut().zip(near).zip(far) {
                    *row = between(*near, *far);
                }
                let (pairs, _) = out.as_chunks_mut::<2>();
                // Those with a neighbour on both sides.
                for (pair, around) in pairs.iter_mut().skip(1).zip(row.windows(3)) {
                    pair[0] = (pair[0] + between(around[1], around[0])).max(0.0);
                    pair[1] = (pair[1] + between(around[1], around[2])).max(0.0);
                }
                let right = (2 * half_width).saturating_sub(2).max(2);
                for x in (0..width.min(2)).chain(right..width) {
                    out[x] = (out[x] + between(row[x / 2], row[beside(x, half_width)])).max(0.0);
                }
            },
        );
    }
}

/// A quarter of the way from one middle to the next.
#[inline(always)]
fn between(near: f32, far: f32) -> f32 {
    near * 0.75 + far * 0.25
}

/// The halved pixel on the side of pixel `at` that it lies nearer to, of `count`.
const fn beside(at: usize, count: usize) -> usize {
    let own = at / 2;
    if at.is_multiple_of(2) {
        own.saturating_sub(1)
    } else if own + 1 < count {
        own + 1
    } else {
        own
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_halved_picture_lies_where_the_whole_one_does() {
        // A ramp is its own interpolation, but for the edges.
        for (width, height) in [(12_usize, 8_usize), (13, 9), (3, 3), (2, 2), (1, 1)] {
            let plane: Vec<f32> = (0..width * height)
                .map(|i| (i % width) as f32 + 2.0 * (i / width) as f32 + 1.0)
                .collect();
            let half_width = width.div_ceil(2);
            let mut half = vec![0.0; half_width * height.div_ceil(2)];
            halve(&plane, width, &mut half);
            let mut doubled = vec![0.0; plane.len()];
            add_doubled(&half, &mut vec![0.0; half_width], &mut doubled, width);
            for y in 1..height.saturating_sub(2) {
                for x in 1..width.saturating_sub(2) {
                    let i = y * width + x;
                    assert!((doubled[i] - plane[i]).abs() < 1e-4, "{width} {x} {y}");
                }
            }
            let low = plane.iter().zip(&doubled).map(|(a, b)| (a - b).abs());
            assert!(low.fold(0.0, f32::max) < 1.6, "{width} x {height}");
        }
    }

    #[test]
    fn light_does_not_fall_below_nothing() {
        let mut plane = vec![0.1; 16];
        add_doubled(&[-1.0; 4], &mut [0.0; 2], &mut plane, 4);
        assert_eq!(plane, [0.0; 16]);
    }
}
