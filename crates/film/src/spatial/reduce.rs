//! A smaller copy of a picture: each of its pixels is the mean of the codes that it covers.
//!
//! Rows come in from the top, one at a time, so the picture need never be held in floats whole.
//! A pixel of the copy covers the box `[x, x + 1) * width / out_width` (rows alike); a pixel at
//! the box's border counts by the part of it that lies inside. Reduced to its own size a picture
//! stays as it is, bit by bit.

use super::Planes;

/// The part of a source line that one pixel of the copy covers.
#[derive(Clone, Debug)]
struct Cover {
    first: usize,
    weights: Vec<f32>,
}

/// Makes the copy from rows.
#[derive(Clone, Debug)]
pub struct Reducer {
    columns: Vec<Cover>,
    rows: Vec<Cover>,
    out: Planes,
    y: usize,
    line: Vec<f32>,
}

impl Reducer {
    /// For a picture of `width x height` and a copy of `out_width x out_height`, which is held
    /// within 1 x 1 and the picture's own size.
    pub fn new(width: usize, height: usize, out_width: usize, out_height: usize) -> Self {
        let out_width = out_width.clamp(1, width.max(1));
        let out_height = out_height.clamp(1, height.max(1));
        Self {
            columns: covers(width, out_width),
            rows: covers(height, out_height),
            out: Planes::filled(out_width, out_height, 0.0),
            y: 0,
            line: vec![0.0; out_width],
        }
    }

    /// Takes the next row: red, green and blue, each of the picture's width. Rows past the last
    /// are ignored.
    pub fn push_row(&mut self, row: [&[f32]; 3]) {
        let (y, width) = (self.y, self.out.width);
        self.y += 1;
        for (channel, values) in row.into_iter().enumerate() {
            for (out, cover) in self.line.iter_mut().zip(&self.columns) {
                let covered = &values[cover.first..cover.first + cover.weights.len()];
                *out = covered
                    .iter()
                    .zip(&cover.weights)
                    .map(|(value, weight)| value * weight)
                    .sum();
            }
            // A source row lies in one row of the copy, or in two that meet inside it.
            let first = ((y * self.rows.len()) / self.source_height()).saturating_sub(1);
            for place in first..self.rows.len() {
                let cover = &self.rows[place];
                if cover.first > y {
                    break;
                }
                let Some(weight) = cover.weights.get(y - cover.first) else {
                    continue;
                };
                let out = &mut self.out.planes[channel][place * width..(place + 1) * width];
                for (sum, value) in out.iter_mut().zip(&self.line) {
                    *sum += value * weight;
                }
            }
        }
    }

    /// The copy, once all rows are in.
    pub fn finish(self) -> Planes {
        self.out
    }

    fn source_height(&self) -> usize {
        self.rows
            .last()
            .map_or(1, |cover| cover.first + cover.weights.len())
    }
}

/// Planes reduced to `out_width x out_height`.
pub fn reduce(picture: &Planes, out_width: usize, out_height: usize) -> Planes {
    let mut reducer = Reducer::new(picture.width, picture.height, out_width, out_height);
    for y in 0..picture.height {
        reducer.push_row([0, 1, 2].map(|channel| picture.row(channel, y)));
    }
    reducer.finish()
}

fn covers(length: usize, out_length: usize) -> Vec<Cover> {
    let ratio = length as f64 / out_length as f64;
    (0..out_length)
        .map(|i| {
            let (from, to) = (
                i as f64 * ratio,
                ((i + 1) as f64 * ratio).min(length as f64),
            );
            let first = (libm::floor(from) as usize).min(length - 1);
            let last = (libm::ceil(to - 1e-9) as usize).clamp(first + 1, length);
            let inside = |x: usize| ((x + 1) as f64).min(to) - (x as f64).max(from);
            let sum: f64 = (first..last).map(inside).sum();
            Cover {
                first,
                weights: (first..last).map(|x| (inside(x) / sum) as f32).collect(),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ramp(width: usize, height: usize) -> Planes {
        let mut picture = Planes::filled(width, height, 0.0);
        for (channel, plane) in picture.planes.iter_mut().enumerate() {
            for (i, value) in plane.iter_mut().enumerate() {
                *value = ((i * (channel + 7)) % 101) as f32 / 100.0;
            }
        }
        picture
    }

    #[test]
    fn at_its_own_size_a_picture_stays_as_it_is() {
        let picture = ramp(13, 7);
        assert_eq!(reduce(&picture, 13, 7), picture);
    }

    #[test]
    fn a_half_is_the_mean_of_four() {
        let picture = ramp(8, 6);
        let half = reduce(&picture, 4, 3);
        for channel in 0..3 {
            let at = |x: usize, y: usize| picture.row(channel, y)[x];
            let mean = (at(2, 4) + at(3, 4) + at(2, 5) + at(3, 5)) / 4.0;
            assert!((half.row(channel, 2)[1] - mean).abs() < 1e-6);
        }
    }

    #[test]
    fn the_mean_of_the_whole_is_kept_at_any_size() {
        let picture = ramp(97, 61);
        let mean =
            |p: &Planes| p.planes[1].iter().map(|v| f64::from(*v)).sum::<f64>() / p.pixels() as f64;
        for (width, height) in [(1, 1), (31, 20), (96, 60), (97, 1), (50, 61)] {
            let small = reduce(&picture, width, height);
            assert_eq!((small.width, small.height), (width, height));
            assert!(
                (mean(&small) - mean(&picture)).abs() < 1e-5,
                "{width} x {height}"
            );
        }
    }

    #[test]
    fn a_crop_is_the_part_it_says_and_ends_with_the_picture() {
        let picture = ramp(9, 6);
        let part = super::super::crop(&picture, 4, 2, 3, 99);
        assert_eq!((part.width, part.height), (3, 4));
        assert_eq!(part.row(2, 1), &picture.row(2, 3)[4..7]);
    }

    #[test]
    fn a_copy_is_never_larger_and_never_empty() {
        let small = reduce(&ramp(5, 4), 50, 0);
        assert_eq!((small.width, small.height), (5, 1));
    }
}
