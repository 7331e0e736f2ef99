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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_locus_runs_through_its_computed_points() {
        // CIE 15's formula, evaluated by colour-science 0.4.7.
        for (kelvin, x, y) in [
            (4000.0, 0.382343625, 0.383766261),
            (5000.0, 0.345741000, 0.358666153),
            (5500.0, 0.332501633, 0.347607679),
            (6504.0, 0.312714057, 0.329119099),
            (7500.0, 0.299091200, 0.315025106),
            (10_000.0, 0.278799600, 0.291967201),
        ] {
            let ours = daylight(kelvin);
            assert!(
                (ours.x - x).abs() < 1e-9 && (ours.y - y).abs() < 1e-9,
                "{kelvin} K"
            );
        }
    }

    #[test]
    fn tabulated_d65_lies_on_it_but_tabulated_d55_does_not_quite() {
        use crate::space::white;
        // CIE 15 prints four decimals of D65.
        let d65 = daylight(6504.0);
        assert!((d65.x - white::D65.x).abs() < 5e-5 && (d65.y - white::D65.y).abs() < 1.5e-4);
        let off = daylight(5503.0).y - white::D55.y;
        assert!((off - 1.05e-4).abs() < 1e-6, "{off}");
    }

    #[test]
    fn outside_its_range_it_stays_at_the_ends() {
        assert_eq!(daylight(1000.0), daylight(4000.0));
        assert_eq!(daylight(1e6), daylight(25_000.0));
    }
}
