//! RGB spaces by their primaries and white, and the matrix to XYZ that follows from them.
//!
//! Derivation after SMPTE RP 177:1993, 3.3: the columns are the xyz of the primaries, each scaled
//! so that RGB (1, 1, 1) becomes the white with Y = 1. Makers print the same matrices rounded to
//! four or six decimals; these are the unrounded ones.

use super::{Xy, white};
use crate::{Error, Mat3, Result};

/// The primaries and the white of an RGB space. Always such that the matrix has an inverse.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Primaries {
    red: Xy,
    green: Xy,
    blue: Xy,
    white: Xy,
}

impl Primaries {
    /// A space from chromaticities found in a file.
    ///
    /// # Errors
    /// If the primaries lie on one line, or the white is not a possible one.
    pub fn new(red: Xy, green: Xy, blue: Xy, white: Xy) -> Result<Self> {
        let space = Self {
            red,
            green,
            blue,
            white,
        };
        let sane = [red, green, blue, white]
            .iter()
            .all(|c| c.x.abs() < 10.0 && c.y.abs() < 10.0);
        let area = (green.x - red.x) * (blue.y - red.y) - (blue.x - red.x) * (green.y - red.y);
        if !sane || area.abs() < 1e-6 {
            return Err(Error::new(
                "the primaries lie on one line or are not chromaticities; choose an encoding by hand",
            ));
        }
        if white.y < 1e-3 || space.scales().iter().any(|scale| scale.abs() < 1e-6) {
            return Err(Error::new(format!(
                "the white ({}, {}) cannot be mixed from the primaries; choose an encoding by hand",
                white.x, white.y
            )));
        }
        Ok(space)
    }

    const fn known(red: [f64; 2], green: [f64; 2], blue: [f64; 2], white: Xy) -> Self {
        Self {
            red: Xy::new(red[0], red[1]),
            green: Xy::new(green[0], green[1]),
            blue: Xy::new(blue[0], blue[1]),
            white,
        }
    }

    /// The chromaticities of red, green and blue.
    pub const fn rgb(&self) -> [Xy; 3] {
        [self.red, self.green, self.blue]
    }

    /// The white.
    pub const fn white(&self) -> Xy {
        self.white
    }

    /// Linear RGB to CIE XYZ, white at Y = 1.
    pub fn rgb_to_xyz(&self) -> Mat3 {
        self.columns().after(&Mat3::diagonal(self.scales()))
    }

    /// CIE XYZ to linear RGB.
    pub fn xyz_to_rgb(&self) -> Mat3 {
        let inverse = self.rgb_to_xyz().inverse();
        inverse.expect("primaries that form a triangle have an inverse")
    }

    /// The xyz of the primaries as columns.
    fn columns(&self) -> Mat3 {
        let [r, g, b] = self.rgb();
        let z = |c: Xy| 1.0 - c.x - c.y;
        Mat3([[r.x, g.x, b.x], [r.y, g.y, b.y], [z(r), z(g), z(b)]])
    }

    /// How much of each primary makes the white.
    fn scales(&self) -> [f64; 3] {
        let inverse = self.columns().inverse();
        inverse
            .expect("primaries that form a triangle have an inverse")
            .apply(self.white.to_xyz())
    }
}

/// AP0 of ACES2065-1 (SMPTE ST 2065-1).
pub const AP0: Primaries =
    Primaries::known([0.7347, 0.2653], [0.0, 1.0], [0.0001, -0.077], white::ACES);
/// AP1 of ACEScg, ACEScct and ACEScc (Academy S-2014-004): the working space.
pub const AP1: Primaries =
    Primaries::known([0.713, 0.293], [0.165, 0.830], [0.128, 0.044], white::ACES);
/// ITU-R BT.709-6; also sRGB (IEC 61966-2-1).
pub const BT709: Primaries =
    Primaries::known([0.640, 0.330], [0.300, 0.600], [0.150, 0.060], white::D65);
/// ITU-R BT.2020-2; also the primaries of F-Log, F-Log2, N-Log, L-Log, Mi-Log, Apple Log and BT.2100.
pub const BT2020: Primaries =
    Primaries::known([0.708, 0.292], [0.170, 0.797], [0.131, 0.046], white::D65);
/// P3 (SMPTE RP 431-2) with the D65 white of computer screens (SMPTE EG 432-1).
pub const DISPLAY_P3: Primaries =
    Primaries::known([0.680, 0.320], [0.265, 0.690], [0.150, 0.060], white::D65);
/// P3 with the white of theatres (SMPTE RP 431-2).
pub const DCI_P3: Primaries =
    Primaries::known([0.680, 0.320], [0.265, 0.690], [0.150, 0.060], white::DCI);
/// CIE XYZ itself (ITU-T H.273, colour primaries 10): equal numbers are the light of equal energy.
pub const XYZ: Primaries = Primaries::known(
    [1.0, 0.0],
    [0.0, 1.0],
    [0.0, 0.0],
    Xy::new(1.0 / 3.0, 1.0 / 3.0),
);
/// ARRI Wide Gamut 3 (ARRI, Log C Curve - Usage in VFX, 2012).
pub const ARRI_WIDE_GAMUT_3: Primaries =
    Primaries::known([0.684, 0.313], [0.221, 0.848], [0.0861, -0.102], white::D65);
/// ARRI Wide Gamut 4 (ARRI, LogC4 specification, 2022).
pub const ARRI_WIDE_GAMUT_4: Primaries = Primaries::known(
    [0.7347, 0.2653],
    [0.1424, 0.8576],
    [0.0991, -0.0308],
    white::D65,
);
/// S-Gamut3, and S-Gamut before it (Sony, Technical Summary for S-Gamut3.Cine/S-Log3, 2013).
pub const S_GAMUT3: Primaries =
    Primaries::known([0.730, 0.280], [0.140, 0.855], [0.100, -0.050], white::D65);
/// S-Gamut3.Cine (same document).
pub const S_GAMUT3_CINE: Primaries =
    Primaries::known([0.766, 0.275], [0.225, 0.800], [0.089, -0.087], white::D65);
/// S-Gamut3 of VENICE cameras (Sony, published with the transforms to ACES).
pub const VENICE_S_GAMUT3: Primaries = Primaries::known(
    [0.740_464_264_304_292, 0.279_364_374_750_660],
    [0.089_241_145_423_286, 0.893_809_528_608_105],
    [0.110_488_236_673_827, -0.052_579_333_080_476],
    white::D65,
);
/// S-Gamut3.Cine of VENICE cameras (same).
pub const VENICE_S_GAMUT3_CINE: Primaries = Primaries::known(
    [0.775_901_871_567_345, 0.274_502_392_854_799],
    [0.188_682_902_773_355, 0.828_684_937_020_288],
    [0.101_337_382_499_301, -0.089_187_517_306_263],
    white::D65,
);
/// V-Gamut (Panasonic, V-Log/V-Gamut Reference Manual, 2014).
pub const V_GAMUT: Primaries =
    Primaries::known([0.730, 0.280], [0.165, 0.840], [0.100, -0.030], white::D65);
/// Cinema Gamut (Canon input transforms, 2020).
pub const CINEMA_GAMUT: Primaries =
    Primaries::known([0.740, 0.270], [0.170, 1.140], [0.080, -0.100], white::D65);
/// REDWideGamutRGB (RED, white paper on REDWideGamutRGB and Log3G10, 2017).
pub const RED_WIDE_GAMUT: Primaries = Primaries::known(
    [0.780308, 0.304253],
    [0.121595, 1.493994],
    [0.095612, -0.084589],
    white::D65,
);
/// F-Gamut C (Fujifilm, F-Log2 C Data Sheet, 2024).
pub const F_GAMUT_C: Primaries = Primaries::known(
    [0.7347, 0.2653],
    [0.0263, 0.9737],
    [0.1173, -0.0224],
    white::D65,
);
/// Apple Wide Gamut (Apple, Apple Log 2, 2025).
pub const APPLE_WIDE_GAMUT: Primaries =
    Primaries::known([0.725, 0.301], [0.221, 0.814], [0.068, -0.076], white::D65);
/// Blackmagic Wide Gamut, with its own digits of D65 (Blackmagic Design, Generation 5 Color
/// Science, 2021).
pub const BLACKMAGIC_WIDE_GAMUT: Primaries = Primaries::known(
    [0.7177215, 0.3171181],
    [0.2280410, 0.8615690],
    [0.1005841, -0.0820452],
    Xy::new(0.3127170, 0.3290312),
);
/// The exposures that ADX encodes, from the published matrix to ACES:
/// 0.72286 0.12630 0.15084, 0.11923 0.76418 0.11659, 0.01427 0.08213 0.90359. The last row makes 0.99999;
/// with the white of ACES greys stay grey.
pub const ADX: Primaries = Primaries::known(
    [0.663_746_671_982_972, 0.322_376_240_256_907],
    [0.150_933_686_759_56, 0.745_126_023_878_769],
    [0.127_574_092_302_894, 0.063_537_441_293_659],
    white::ACES,
);
/// D-Gamut (DJI, white paper on D-Log and D-Gamut, 2017).
pub const D_GAMUT: Primaries =
    Primaries::known([0.710, 0.310], [0.210, 0.880], [0.090, -0.080], white::D65);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::space::assert_cells;

    /// Printed values have eight decimals.
    const PRINTED: f64 = 5e-9;

    #[test]
    fn the_matrices_of_the_standards_come_out() {
        // Academy S-2014-004 (AP1), SMPTE ST 2065-1 (AP0), to the digits printed there.
        let ap1 = [
            [0.66245418, 0.13400421, 0.15618769],
            [0.27222872, 0.67408177, 0.05368952],
            [-0.00557465, 0.00406073, 1.01033910],
        ];
        let ap0 = [
            [0.95255240, 0.0, 0.00009368],
            [0.34396645, 0.72816610, -0.07213255],
            [0.0, 0.0, 1.00882518],
        ];
        // BT.709: luma weights 0.2126, 0.7152, 0.0722 are its second row, rounded.
        let bt709 = [
            [0.41239080, 0.35758434, 0.18048079],
            [0.21263901, 0.71516868, 0.07219232],
            [0.01933082, 0.11919478, 0.95053215],
        ];
        assert_cells(AP1.rgb_to_xyz(), ap1, PRINTED);
        assert_cells(AP0.rgb_to_xyz(), ap0, PRINTED);
        assert_cells(BT709.rgb_to_xyz(), bt709, PRINTED);
    }

    #[test]
    fn a_matrix_and_its_inverse_cancel() {
        for space in [AP0, AP1, BT709, RED_WIDE_GAMUT, CINEMA_GAMUT] {
            let both = space.xyz_to_rgb().after(&space.rgb_to_xyz());
            assert_cells(both, Mat3::IDENTITY.0, 1e-13);
        }
    }

    #[test]
    fn primaries_out_of_a_file_give_the_same_space() {
        let [r, g, b] = BT2020.rgb();
        assert_eq!(Primaries::new(r, g, b, BT2020.white()), Ok(BT2020));
    }

    #[test]
    fn impossible_primaries_are_refused_in_a_sentence() {
        let [r, g, b] = BT709.rgb();
        let flat = Primaries::new(r, r, b, white::D65).unwrap_err();
        assert!(flat.message().contains("on one line"), "{flat}");
        let dark = Primaries::new(r, g, b, Xy::new(0.3, 0.0)).unwrap_err();
        assert!(dark.message().contains("(0.3, 0)"), "{dark}");
        let on_an_edge = Xy::new(0.5 * (r.x + g.x), 0.5 * (r.y + g.y));
        assert!(Primaries::new(r, g, b, on_an_edge).is_err());
        for odd in [f64::NAN, f64::INFINITY, 1e300] {
            assert!(Primaries::new(Xy::new(odd, 0.3), g, b, white::D65).is_err());
            assert!(Primaries::new(r, g, b, Xy::new(odd, 0.3)).is_err());
            assert!(Primaries::new(r, g, b, Xy::new(0.3, odd)).is_err());
        }
    }
}
