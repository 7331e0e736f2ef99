//! The CIE daylight locus: chromaticities of daylight by colour temperature.
//!
//! CIE 15, section 3: `x` is a cubic in `1/T`, one for 4000 to 7000 K and one for 7000 to
//! 25,000 K; `y = -3 x^2 + 2.870 x - 0.275`.

use super::Xy;

/// Daylight at a colour temperature in kelvin, limited to 4000 ..= 25,000.
pub fn daylight(kelvin: f64) -> Xy {
    let t = kelvin.clamp(4000.0, 25_000.0);
    let cubic = |c: [f64; 4]| c[0] + c[1] / t + c[2] / (t * t) + c[3] / (t * t * t);
    let x = if t <= 7000.0 {
        cubic([0.244_063, 0.099_11e3, 2.967_8e6, -4.607_0e9])
    } else {
        cubic([0.237_040, 0.247_48e3, 1.901_8e6, -2.006_4e9])
    };
    Xy::new(x, -3.0 * x * x + 2.870 * x - 0.275)
}
