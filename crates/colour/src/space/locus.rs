//! The spectral locus: chromaticities of light of one wavelength, the border of all that can be seen.
//!
//! `x = X / (X + Y + Z)` of each row of the CIE 1931 2 degree standard observer (CIE 15, 7.3).

use super::Xy;
use super::cmf::{FIRST_NM, OBSERVER_1931, STEP_NM};

/// Where the locus is drawn to, nm: beyond them it comes back on itself within the observer's rounding.
const ENDS_NM: [f64; 2] = [380.0, 700.0];

/// Wavelengths of 380 ..= 700 nm in steps of 5 nm, each with its chromaticity.
pub fn spectral_locus() -> impl Iterator<Item = (f64, Xy)> {
    let rows = OBSERVER_1931.iter().enumerate();
    rows.map(|(i, observer)| (FIRST_NM + STEP_NM * i as f64, Xy::from_xyz(*observer)))
        .filter(|(nm, _)| (ENDS_NM[0]..=ENDS_NM[1]).contains(nm))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The chromaticity coordinates as CIE 15:2004, table T.3, prints them (from memory of the table, four
    /// of its five digits).
    #[test]
    fn wavelengths_lie_where_the_cie_prints_them() {
        for (nm, x, y) in [
            (460.0, 0.1440, 0.0297),
            (500.0, 0.0082, 0.5384),
            (520.0, 0.0743, 0.8338),
            (560.0, 0.3731, 0.6245),
            (600.0, 0.6270, 0.3725),
            (700.0, 0.7347, 0.2653),
        ] {
            let (_, xy) = spectral_locus().find(|(it, _)| *it == nm).unwrap();
            assert!(
                (xy.x - x).abs() < 6e-5 && (xy.y - y).abs() < 6e-5,
                "{nm}: {xy:?}"
            );
        }
    }
}
