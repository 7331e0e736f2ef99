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
