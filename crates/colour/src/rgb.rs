//! A pixel of three numbers and the 3x3 matrices that act on it.

use crate::lane::Lane;

/// Three numbers of one pixel (or of several side by side), red, green, blue. Which space and
/// unit they are in is said by the name of the variable that holds them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rgb<L = f32> {
    /// Red, or the red-sensitive layer.
    pub r: L,
    /// Green, or the green-sensitive layer.
    pub g: L,
    /// Blue, or the blue-sensitive layer.
    pub b: L,
}

impl<L: Lane> Rgb<L> {
    /// A pixel from its three numbers.
    #[inline(always)]
    pub const fn new(r: L, g: L, b: L) -> Self {
        Self { r, g, b }
    }

    /// The same number three times.
    #[inline(always)]
    pub const fn grey(value: L) -> Self {
        Self {
            r: value,
            g: value,
            b: value,
        }
    }

    /// `f` on each of the three.
    #[inline(always)]
    #[must_use]
    pub fn map(self, mut f: impl FnMut(L) -> L) -> Self {
        Self {
            r: f(self.r),
            g: f(self.g),
            b: f(self.b),
        }
    }

    /// `f` on each of the three together with the same place of `other`.
    #[inline(always)]
    #[must_use]
    pub fn zip<T: Copy>(self, other: Rgb<T>, mut f: impl FnMut(L, T) -> L) -> Self {
        Self {
            r: f(self.r, other.r),
            g: f(self.g, other.g),
            b: f(self.b, other.b),
        }
    }

    /// One over each of the three, in one division; relative error below 3e-7, equal where the three are.
    /// For numbers whose products by twos and threes, and the inverses of these, are normal: 1e-12 to 1e12.
    #[inline(always)]
    #[must_use]
    pub fn inverses(self) -> Self {
        let (rg, gb, rb) = (self.r * self.g, self.g * self.b, self.r * self.b);
        let inverse = rg.of(1.0) / (rg * self.b);
        Self::new(gb * inverse, rb * inverse, rg * inverse)
    }

    /// [`Lane::mix`] on each of the three: exactly `self` at amount 0.
    #[inline(always)]
    #[must_use]
    pub fn mix(self, other: Self, amount: f32) -> Self {
        self.zip(
            other,
            #[inline(always)]
            |a, b| a.mix(b, amount),
        )
    }
}

impl Rgb<f32> {
    /// From an array in the order red, green, blue.
    pub const fn from_array(rgb: [f32; 3]) -> Self {
        Self {
            r: rgb[0],
            g: rgb[1],
            b: rgb[2],
        }
    }

    /// To an array in the order red, green, blue.
    pub const fn to_array(self) -> [f32; 3] {
        [self.r, self.g, self.b]
    }
}

/// A 3x3 matrix for set-up, row-major, in double precision: `out[i] = sum_j m[i][j] in[j]`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mat3(pub [[f64; 3]; 3]);

impl Mat3 {
    /// The identity.
    pub const IDENTITY: Self = Self([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]);

    /// A diagonal matrix.
    pub const fn diagonal(d: [f64; 3]) -> Self {
        Self([[d[0], 0.0, 0.0], [0.0, d[1], 0.0], [0.0, 0.0, d[2]]])
    }

    /// `self * v`.
    #[must_use]
    pub fn apply(&self, v: [f64; 3]) -> [f64; 3] {
        self.0
            .map(|row| row[0] * v[0] + row[1] * v[1] + row[2] * v[2])
    }

    /// `self * other`: `other` acts first.
    #[must_use]
    pub fn after(&self, other: &Self) -> Self {
        let mut out = [[0.0; 3]; 3];
        for (i, row) in out.iter_mut().enumerate() {
            for (j, cell) in row.iter_mut().enumerate() {
                *cell = (0..3).map(|k| self.0[i][k] * other.0[k][j]).sum();
            }
        }
        Self(out)
    }

    /// The inverse by cofactors, or `None` if the determinant is zero.
    #[must_use]
    pub fn inverse(&self) -> Option<Self> {
        let m = &self.0;
        let cofactor = |r: usize, c: usize| {
            let (r1, r2) = ((r + 1) % 3, (r + 2) % 3);
            let (c1, c2) = ((c + 1) % 3, (c + 2) % 3);
            m[r1][c1] * m[r2][c2] - m[r1][c2] * m[r2][c1]
        };
        let det: f64 = (0..3).map(|c| m[0][c] * cofactor(0, c)).sum();
        if det == 0.0 || !det.is_finite() {
            return None;
        }
        let mut out = [[0.0; 3]; 3];
        for (r, row) in out.iter_mut().enumerate() {
            for (c, cell) in row.iter_mut().enumerate() {
                *cell = cofactor(c, r) / det;
            }
        }
        Some(Self(out))
    }

    /// `identity + (self - identity) * amount`.
    #[must_use]
    pub fn blend(&self, amount: f64) -> Self {
        let mut out = Self::IDENTITY.0;
        for (i, row) in out.iter_mut().enumerate() {
            for (j, cell) in row.iter_mut().enumerate() {
                *cell += (self.0[i][j] - *cell) * amount;
            }
        }
        Self(out)
    }

    /// The same matrix for pixels, in single precision.
    #[must_use]
    pub fn for_pixels(&self) -> PixelMatrix {
        PixelMatrix(self.0.map(|row| row.map(|cell| cell as f32)))
    }
}

/// A 3x3 matrix that acts on pixels, row-major, in single precision.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PixelMatrix(pub [[f32; 3]; 3]);

impl PixelMatrix {
    /// `m * rgb`, each row summed from left to right.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, rgb: Rgb<L>) -> Rgb<L> {
        let [r, g, b] = &self.0;
        Rgb::new(dot(r, rgb), dot(g, rgb), dot(b, rgb))
    }
}

/// One row of a matrix times a pixel.
#[inline(always)]
fn dot<L: Lane>(row: &[f32; 3], rgb: Rgb<L>) -> L {
    rgb.r * row[0] + rgb.g * row[1] + rgb.b * row[2]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_matrix_times_its_inverse_is_the_identity() {
        let m = Mat3([
            [1.525, -0.648, 0.123],
            [-0.056, 0.945, 0.111],
            [0.065, -0.123, 1.058],
        ]);
        let product = m.after(&m.inverse().unwrap());
        for i in 0..3 {
            for j in 0..3 {
                assert!((product.0[i][j] - Mat3::IDENTITY.0[i][j]).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn inverses_in_one_division_are_within_their_stated_error() {
        let numbers = [
            1e-12_f32,
            3.3e-5,
            0.07,
            0.999_999_9,
            1.0,
            1.7,
            613.0,
            9.9e11,
        ];
        for r in numbers {
            for g in numbers {
                for b in numbers {
                    let inverses = Rgb::new(r, g, b).inverses().to_array();
                    for (number, inverse) in [r, g, b].into_iter().zip(inverses) {
                        let one = f64::from(number) * f64::from(inverse);
                        assert!((one - 1.0).abs() < 3e-7, "{r} {g} {b}: {one}");
                    }
                }
            }
            let same = Rgb::grey(r).inverses();
            assert!(same.r == same.g && same.b == same.g);
        }
    }

    #[test]
    fn a_flat_matrix_has_no_inverse() {
        assert_eq!(
            Mat3([[1.0, 2.0, 3.0], [2.0, 4.0, 6.0], [0.0, 1.0, 5.0]]).inverse(),
            None
        );
    }
}
