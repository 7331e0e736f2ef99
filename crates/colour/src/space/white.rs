//! Whites as the standards print them.
//!
//! D50, D55, D65: CIE 15 (D65 as BT.709 and IEC 61966-2-1 print it). D60: four more decimals, as
//! colour-science 0.4.7 lists it. ACES: SMPTE ST 2065-1; it lies near D60, not on it. A tabulated white is
//! not the daylight locus at its nominal temperature: D55 and the locus at 5503 K differ by
//! 1e-4 in y.

use super::Xy;

/// D50: the graphic arts' white.
pub const D50: Xy = Xy::new(0.3457, 0.3585);
/// D55: projection of positives.
pub const D55: Xy = Xy::new(0.33243, 0.34744);
/// D60.
pub const D60: Xy = Xy::new(0.321_616_71, 0.337_619_92);
/// D65: television and computer screens.
pub const D65: Xy = Xy::new(0.3127, 0.3290);
/// The white of theatres (SMPTE RP 431-2).
pub const DCI: Xy = Xy::new(0.314, 0.351);
/// The white of AP0 and AP1.
pub const ACES: Xy = Xy::new(0.32168, 0.33767);
