//! Chromaticities: a colour without its brightness, in CIE 1931 xy and CIE 1960 uv.
//!
//! `u = 4x / (-2x + 12y + 3)`, `v = 6y / (-2x + 12y + 3)` (CIE 1960 UCS; obsolete for colour
//! differences, still the plane in which colour temperature and Duv are defined).

/// A chromaticity in CIE 1931 xy.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Xy {
    /// x.
    pub x: f64,
    /// y.
    pub y: f64,
}

impl Xy {
    /// A chromaticity from its two coordinates.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// The tristimulus values with Y = 1. `y` must not be zero.
    pub const fn to_xyz(self) -> [f64; 3] {
        [self.x / self.y, 1.0, (1.0 - self.x - self.y) / self.y]
    }

    /// The chromaticity of tristimulus values whose sum is not zero.
    pub const fn from_xyz([x, y, z]: [f64; 3]) -> Self {
        let sum = x + y + z;
        Self {
            x: x / sum,
            y: y / sum,
        }
    }

    /// In CIE 1976 u'v' (CIE 15, 8.2.1.1): `u' = 4x / (-2x + 12y + 3)`, `v' = 9y / (-2x + 12y + 3)`.
    pub const fn to_uv_1976(self) -> [f64; 2] {
        let Uv { u, v } = self.to_uv();
        [u, 1.5 * v]
    }

    /// In CIE 1960 uv.
    pub const fn to_uv(self) -> Uv {
        let d = -2.0 * self.x + 12.0 * self.y + 3.0;
        Uv {
            u: 4.0 * self.x / d,
            v: 6.0 * self.y / d,
        }
    }
}

/// A chromaticity in CIE 1960 uv.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uv {
    /// u.
    pub u: f64,
    /// v.
    pub v: f64,
}

impl Uv {
    /// In CIE 1931 xy.
    pub const fn to_xy(self) -> Xy {
        let d = 2.0 * self.u - 8.0 * self.v + 4.0;
        Xy {
            x: 3.0 * self.u / d,
            y: 2.0 * self.v / d,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn uv_of_d65_is_the_handbook_value() {
        // u = 0.1978, v = 0.3122 (v' = 0.4683 = 1.5 v): CIE 15, D65.
        let uv = Xy::new(0.3127, 0.3290).to_uv();
        assert!((uv.u - 0.1978).abs() < 5e-5 && (uv.v - 0.3122).abs() < 5e-5);
    }

    /// Worked by hand from the corners of ITU-R BT.709-6 item 1.3 and BT.2020-2 table 3.
    #[test]
    fn primaries_and_white_lie_in_u_v_of_1976_where_the_formula_puts_them() {
        for ((x, y), u, v) in [
            ((0.64, 0.33), 2.56 / 5.68, 2.97 / 5.68),
            ((0.30, 0.60), 1.20 / 9.60, 5.40 / 9.60),
            ((0.15, 0.06), 0.60 / 3.42, 0.54 / 3.42),
            ((0.708, 0.292), 2.832 / 5.088, 2.628 / 5.088),
            ((0.170, 0.797), 0.680 / 12.224, 7.173 / 12.224),
            ((0.131, 0.046), 0.524 / 3.290, 0.414 / 3.290),
            ((0.3127, 0.3290), 1.2508 / 6.3226, 2.961 / 6.3226),
        ] {
            let [found_u, found_v] = Xy::new(x, y).to_uv_1976();
            assert!((found_u - u).abs() < 1e-12 && (found_v - v).abs() < 1e-12);
        }
        // As CIE 15 prints D65.
        let [u, v] = Xy::new(0.3127, 0.3290).to_uv_1976();
        assert!((u - 0.1978).abs() < 5e-5 && (v - 0.4683).abs() < 5e-5);
    }

    #[test]
    fn xy_to_uv_and_back_is_the_same() {
        for (x, y) in [(0.3127, 0.3290), (0.6528, 0.3445), (0.24, 0.23)] {
            let back = Xy::new(x, y).to_uv().to_xy();
            assert!((back.x - x).abs() < 1e-14 && (back.y - y).abs() < 1e-14);
        }
    }
}
