//! Chromatic adaptation, and conversion between RGB spaces.
//!
//! Von Kries: `M_cone^-1 diag(cone(to) / cone(from)) M_cone` on XYZ takes the white `from` exactly
//! to the white `to`. The transforms differ in their cone matrix only.

use super::{Primaries, Xy};
use crate::Mat3;

/// A chromatic adaptation transform.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Cat {
    /// Linear Bradford (Lam 1985; ICC.1 annex E); the default of ACES and of colour management.
    #[default]
    Bradford,
    /// CIECAM02's (CIE 159:2004); some camera makers' transforms are built with it.
    Cat02,
    /// CAM16's (Li et al., Color Res. Appl. 42(6), 2017).
    Cat16,
}

impl Cat {
    /// XYZ to the sharpened cone responses in which the adaptation is a scaling.
    const fn cone_matrix(self) -> Mat3 {
        match self {
            Self::Bradford => Mat3([
                [0.8951, 0.2664, -0.1614],
                [-0.7502, 1.7135, 0.0367],
                [0.0389, -0.0685, 1.0296],
            ]),
            Self::Cat02 => Mat3([
                [0.7328, 0.4296, -0.1624],
                [-0.7036, 1.6975, 0.0061],
                [0.0030, 0.0136, 0.9834],
            ]),
            Self::Cat16 => Mat3([
                [0.401288, 0.650173, -0.051461],
                [-0.250268, 1.204414, 0.045854],
                [-0.002079, 0.048952, 0.953127],
            ]),
        }
    }

    /// XYZ under the white `from` to XYZ under the white `to`; both whites at Y = 1.
    pub fn xyz(self, from: Xy, to: Xy) -> Mat3 {
        if from == to {
            return Mat3::IDENTITY;
        }
        let cone = self.cone_matrix();
        let (f, t) = (cone.apply(from.to_xyz()), cone.apply(to.to_xyz()));
        let scale = Mat3::diagonal([t[0] / f[0], t[1] / f[1], t[2] / f[2]]);
        let back = cone.inverse().expect("cone matrices have an inverse");
        back.after(&scale).after(&cone)
    }
}

/// Linear RGB of `source` to linear RGB of `target`, whites adapted by `cat`: (1, 1, 1) stays
/// (1, 1, 1). Exactly the identity between equal spaces.
pub fn rgb_to_rgb(source: &Primaries, target: &Primaries, cat: Cat) -> Mat3 {
    if source == target {
        return Mat3::IDENTITY;
    }
    target
        .xyz_to_rgb()
        .after(&cat.xyz(source.white(), target.white()))
        .after(&source.rgb_to_xyz())
}

/// White balance as a matrix on linear RGB of `space`: what looked white under the light `from`
/// then looks white under `to`. Exactly the identity if both are equal.
pub fn adaptation(space: &Primaries, from: Xy, to: Xy, cat: Cat) -> Mat3 {
    if from == to {
        return Mat3::IDENTITY;
    }
    space
        .xyz_to_rgb()
        .after(&cat.xyz(from, to))
        .after(&space.rgb_to_xyz())
}
