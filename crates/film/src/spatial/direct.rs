//! The exact way to spread light: a kernel sampled from its radial profile, and convolution by
//! the definition. It costs the square of the reach per pixel and is the reference for
//! [`Spread`](super::Spread).

use super::planes::Plane;

/// A kernel of `(2 radius + 1)^2` taps that sum to 1, row-major.
#[derive(Clone, Debug)]
pub struct Kernel {
    /// Taps on each side of the middle one.
    pub radius: usize,
    /// The taps.
    pub taps: Vec<f64>,
}

impl Kernel {
    /// Samples `profile` (any scale, radius in pixels) out to `radius` pixels: each tap is the
    /// mean of `places` x `places` points in its pixel. What lies outside is given to the rest.
    #[must_use]
    pub fn radial(radius: usize, places: usize, profile: impl Fn(f64) -> f64) -> Self {
        let side = 2 * radius + 1;
        let mut taps = vec![0.0; side * side];
        for (i, tap) in taps.iter_mut().enumerate() {
            let (column, row) = ((i % side) as f64, (i / side) as f64);
            for place in 0..places * places {
                let off = |i: usize| (i as f64 + 0.5) / places as f64 - 0.5 - radius as f64;
                let (x, y) = (column + off(place % places), row + off(place / places));
                let r = (x * x + y * y).sqrt();
                if r <= radius as f64 + 0.5 {
                    *tap += profile(r);
                }
            }
        }
        let total: f64 = taps.iter().sum();
        taps.iter_mut().for_each(|tap| *tap /= total);
        Self { radius, taps }
    }
}

/// Convolves `source` with `kernel`; outside its edges the picture is mirrored.
#[must_use]
pub fn convolve(source: &Plane, kernel: &Kernel) -> Plane {
    let mut out = Plane::filled(source.width, source.height, 0.0);
    let side = 2 * kernel.radius + 1;
    for y in 0..source.height {
        for x in 0..source.width {
            let mut sum = 0.0_f64;
            for row in 0..side {
                let from = source.row(mirrored(y + row, kernel.radius, source.height));
                for column in 0..side {
                    let value = from[mirrored(x + column, kernel.radius, source.width)];
                    sum += kernel.taps[row * side + column] * f64::from(value);
                }
            }
            out.data[y * source.width + x] = sum as f32;
        }
    }
    out
}

/// Index `place - offset`, folded into `0 .. size` by mirrors at both edges.
fn mirrored(place: usize, offset: usize, size: usize) -> usize {
    let turn = 2 * size as i64;
    let folded = (place as i64 - offset as i64).rem_euclid(turn);
    folded.min(turn - 1 - folded) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mirrors_repeat_the_edge_and_walk_back() {
        let at = |i: i64| mirrored((i + 10) as usize, 10, 3);
        assert_eq!(
            [-4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6].map(at),
            [2, 2, 1, 0, 0, 1, 2, 2, 1, 0, 0]
        );
    }

    #[test]
    fn a_single_tap_changes_nothing() {
        let mut source = Plane::filled(3, 2, 0.0);
        source
            .data
            .copy_from_slice(&[1.0, -2.0, 3.0, 0.5, 0.0, 7.0]);
        assert_eq!(convolve(&source, &Kernel::radial(0, 1, |_| 1.0)), source);
    }
}
