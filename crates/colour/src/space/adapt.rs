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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::space::{assert_cells, primaries, white};

    /// Nine decimals are printed; the reference itself is in double precision.
    const PRINTED: f64 = 1e-9;

    #[test]
    fn adaptations_of_white_are_the_published_ones() {
        // colour-science 0.4.7.
        let bradford = [
            [1.028582065, 0.013519628, -0.031534831],
            [0.017231754, 0.995224324, -0.010653564],
            [-0.005909672, 0.009695181, 0.842304461],
        ];
        let cat16 = [
            [1.006294553, 0.023904209, -0.021619180],
            [0.003197526, 0.996120730, 0.000771458],
            [0.000170798, -0.007313723, 0.852615838],
        ];
        assert_cells(Cat::Bradford.xyz(white::D65, white::D55), bradford, PRINTED);
        assert_cells(Cat::Cat16.xyz(white::D65, white::D55), cat16, PRINTED);
        // The Bradford matrix from D65 to D50 that colour management prints to seven decimals
        // (ICC.1, and colour-science).
        let d50 = [
            [1.047929793, 0.022946871, -0.050192266],
            [0.029627809, 0.990434427, -0.017073799],
            [-0.009243041, 0.015055191, 0.751874281],
        ];
        assert_cells(Cat::Bradford.xyz(white::D65, white::D50), d50, PRINTED);
        let aces = [
            [1.013034915, 0.006105258, -0.014970944],
            [0.007698230, 0.998163352, -0.005032039],
            [-0.002841317, 0.004685157, 0.924506137],
        ];
        assert_cells(Cat::Bradford.xyz(white::D65, white::ACES), aces, PRINTED);
    }

    #[test]
    fn tungsten_to_daylight_is_the_published_one() {
        // Bradford from a black body of 3200 K to D65; computed from the definition.
        let matrix = [
            [0.865386206, -0.092160232, 0.279048136],
            [-0.110149599, 1.075905649, 0.092019878],
            [0.055430261, -0.093025227, 2.522051416],
        ];
        let tungsten = crate::space::planck(3200.0);
        // Our sum over 5 nm moves this white by 3e-7.
        let ours = Cat::Bradford.xyz(tungsten, white::D65);
        assert_cells(ours, matrix, 1e-5);
    }

    #[test]
    fn conversions_between_spaces_are_the_published_ones() {
        let convert = |a, b| rgb_to_rgb(a, b, Cat::Bradford);
        // Academy S-2016-001, equation 2: AP0 to AP1, ten decimals.
        let ap0_to_ap1 = [
            [1.4514393161, -0.2365107469, -0.2149285693],
            [-0.0765537734, 1.1762296998, -0.0996759264],
            [0.0083161484, -0.0060324498, 0.9977163014],
        ];
        let ours = convert(&primaries::AP0, &primaries::AP1);
        assert_cells(ours, ap0_to_ap1, 1e-10);
        // The others: colour-science 0.4.7.
        let bt709_to_ap1 = [
            [0.613097402, 0.339523146, 0.047379451],
            [0.070193722, 0.916353879, 0.013452398],
            [0.020615593, 0.109569773, 0.869814634],
        ];
        let ours = convert(&primaries::BT709, &primaries::AP1);
        assert_cells(ours, bt709_to_ap1, PRINTED);
        let ap1_to_bt709 = [
            [1.705050993, -0.621792121, -0.083258872],
            [-0.130256418, 1.140804737, -0.010548319],
            [-0.024003357, -0.128968976, 1.152972333],
        ];
        let ours = convert(&primaries::AP1, &primaries::BT709);
        assert_cells(ours, ap1_to_bt709, PRINTED);
        let p3_to_bt709 = [
            [1.224940176, -0.224940176, 0.0],
            [-0.042056955, 1.042056955, 0.0],
            [-0.019637555, -0.078636046, 1.098273600],
        ];
        let ours = convert(&primaries::DISPLAY_P3, &primaries::BT709);
        assert_cells(ours, p3_to_bt709, PRINTED);
        let sgamut3cine_to_bt709 = [
            [1.626947410, -0.540138539, -0.086808871],
            [-0.178515527, 1.417940927, -0.239425400],
            [-0.044436115, -0.195919966, 1.240356081],
        ];
        let ours = convert(&primaries::S_GAMUT3_CINE, &primaries::BT709);
        assert_cells(ours, sgamut3cine_to_bt709, PRINTED);
    }

    #[test]
    fn the_white_of_one_becomes_the_white_of_the_other() {
        for cat in [Cat::Bradford, Cat::Cat02, Cat::Cat16] {
            let ours = cat.xyz(white::D65, white::D50).apply(white::D65.to_xyz());
            for (a, b) in ours.iter().zip(white::D50.to_xyz()) {
                assert!((a - b).abs() < 1e-14, "{cat:?}");
            }
            let rgb = rgb_to_rgb(&primaries::ARRI_WIDE_GAMUT_4, &primaries::AP1, cat);
            for row in rgb.0 {
                assert!((row.iter().sum::<f64>() - 1.0).abs() < 1e-9, "{cat:?}");
            }
        }
    }

    #[test]
    fn white_balance_takes_a_light_to_the_other_white() {
        let (from, to) = (crate::space::white_of(3200.0, 0.0), white::ACES);
        let balance = adaptation(&primaries::AP1, from, to, Cat::Cat16);
        let lamp = primaries::AP1.xyz_to_rgb().apply(from.to_xyz());
        assert!(lamp[0] > 1.3 && lamp[2] < 0.5, "a lamp is orange: {lamp:?}");
        for channel in balance.apply(lamp) {
            assert!((channel - 1.0).abs() < 1e-12, "{channel}");
        }
        assert_eq!(
            adaptation(&primaries::AP1, to, to, Cat::Bradford),
            Mat3::IDENTITY
        );
    }
}
