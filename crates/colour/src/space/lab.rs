//! CIE 1976 L*a*b* for judging and tests, in double precision.
//!
//! ISO/CIE 11664-4: `L = 116 f(Y/Yn) - 16`, `a = 500 (f(X/Xn) - f(Y/Yn))`,
//! `b = 200 (f(Y/Yn) - f(Z/Zn))`; `f` is the cube root above `(6/29)^3` and its tangent below.

use super::Xy;

/// A colour in L*a*b*; L = 100 is the white.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lab {
    /// Lightness, 0 ..= 100 up to the white.
    pub l: f64,
    /// Green (negative) to red.
    pub a: f64,
    /// Blue (negative) to yellow.
    pub b: f64,
}

/// Where the cube root begins: `6 / 29`.
const DELTA: f64 = 6.0 / 29.0;

impl Lab {
    /// From XYZ, relative to `white` at Y = 1. Defined for negative values too.
    pub fn from_xyz(xyz: [f64; 3], white: Xy) -> Self {
        let n = white.to_xyz();
        let f = |i: usize| {
            let t = xyz[i] / n[i];
            if t > DELTA * DELTA * DELTA {
                libm::cbrt(t)
            } else {
                t / (3.0 * DELTA * DELTA) + 4.0 / 29.0
            }
        };
        let (x, y, z) = (f(0), f(1), f(2));
        Self {
            l: 116.0 * y - 16.0,
            a: 500.0 * (x - y),
            b: 200.0 * (y - z),
        }
    }

    /// To XYZ, relative to `white` at Y = 1.
    pub fn to_xyz(self, white: Xy) -> [f64; 3] {
        let n = white.to_xyz();
        let y = (self.l + 16.0) / 116.0;
        let g = |f: f64| {
            if f > DELTA {
                f * f * f
            } else {
                3.0 * DELTA * DELTA * (f - 4.0 / 29.0)
            }
        };
        [
            n[0] * g(y + self.a / 500.0),
            n[1] * g(y),
            n[2] * g(y - self.b / 200.0),
        ]
    }

    /// Chroma: the distance from grey.
    pub fn chroma(self) -> f64 {
        libm::hypot(self.a, self.b)
    }

    /// Hue angle in degrees, 0 ..< 360, from the red axis towards yellow; 0 for greys.
    pub fn hue_degrees(self) -> f64 {
        if self.a == 0.0 && self.b == 0.0 {
            return 0.0;
        }
        let degrees = libm::atan2(self.b, self.a).to_degrees();
        if degrees < 0.0 {
            degrees + 360.0
        } else {
            degrees
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::space::white::D50;

    #[test]
    fn white_and_grey_are_where_the_definition_puts_them() {
        let white = Lab::from_xyz(D50.to_xyz(), D50);
        assert!((white.l - 100.0).abs() < 1e-12 && white.chroma() < 1e-12);
        // L* of an 18.418651851244416 % reflector is 50: (66 / 116)^3.
        let grey = Lab::from_xyz(D50.to_xyz().map(|v| v * 0.184_186_518_512_444_16), D50);
        assert!((grey.l - 50.0).abs() < 1e-12);
    }

    #[test]
    fn the_dark_end_is_linear_and_reaches_below_black() {
        // ISO/CIE 11664-4: L* = 903.3 Y/Yn (exactly (29/3)^3) up to Y/Yn = (6/29)^3.
        for y in [-0.01, 0.0, 0.004, 0.008] {
            let lab = Lab::from_xyz(D50.to_xyz().map(|v| v * y), D50);
            assert!((lab.l - y * 24_389.0 / 27.0).abs() < 1e-12, "{y}");
            let back = lab.to_xyz(D50)[1];
            assert!((back - y).abs() < 1e-15, "{y}");
        }
    }

    #[test]
    fn hue_runs_from_red_over_yellow_green_and_blue() {
        let hue = |a, b| Lab { l: 50.0, a, b }.hue_degrees();
        let found = [hue(1.0, 0.0), hue(0.0, 1.0), hue(-1.0, 0.0), hue(0.0, -1.0)];
        for (found, expected) in found.iter().zip([0.0, 90.0, 180.0, 270.0]) {
            assert!((found - expected).abs() < 1e-12);
        }
        assert_eq!(hue(0.0, 0.0), 0.0);
        assert_eq!(hue(-0.0, -0.0), 0.0);
    }
}
