//! Transfer curves: recognised by their values, not by their names.

use std::rc::Rc;

use lookwright_colour::encoding::Curve;

/// A curve from code to linear light.
pub(crate) type ToLinear = Rc<dyn Fn(f32) -> f32>;

/// The curves that files declare: those of encodings for screens, and none.
pub(crate) const CURVES: [Curve; 3] = [Curve::Srgb, Curve::Bt1886, Curve::Linear];

/// The known curve that `to_linear` follows within 0.002 of full light: profiles store curves as
/// tables or rounded parameters, and sRGB lies 0.008 from the power 2.2.
pub(crate) fn recognise(to_linear: &dyn Fn(f32) -> f32) -> Option<Curve> {
    CURVES.into_iter().find(|curve| {
        (0..=64).all(|step| {
            let code = step as f32 / 64.0;
            (to_linear(code) - curve.decode(code)).abs() < 0.002
        })
    })
}

/// Perceptual quantizer (SMPTE ST 2084), scaled so that 1.0 is the 203 cd/m2 of a white reflector
/// (ITU-R BT.2408-7, 2.2).
pub(crate) fn pq_to_linear(code: f64) -> f64 {
    const M1: f64 = 2610.0 / 16384.0;
    const M2: f64 = 2523.0 / 4096.0 * 128.0;
    const C1: f64 = 3424.0 / 4096.0;
    const C2: f64 = 2413.0 / 4096.0 * 32.0;
    const C3: f64 = 2392.0 / 4096.0 * 32.0;
    let root = libm::pow(code.clamp(0.0, 1.0), 1.0 / M2);
    let light = libm::pow((root - C1).max(0.0) / (C2 - C3 * root), 1.0 / M1);
    light * 10_000.0 / 203.0
}

/// Hybrid log-gamma to scene light (ITU-R BT.2100-2, inverse of its OETF), scaled so that 1.0 is a
/// white reflector, whose code is 0.75 (ITU-R BT.2408-7, 2.2).
pub(crate) fn hlg_to_linear(code: f64) -> f64 {
    const A: f64 = 0.178_832_77;
    const B: f64 = 1.0 - 4.0 * A;
    let c = 0.5 - A * libm::log(4.0 * A);
    let scene = |code: f64| {
        if code <= 0.5 {
            code * code / 3.0
        } else {
            (libm::exp((code - c) / A) + B) / 12.0
        }
    };
    scene(code.clamp(0.0, 1.0)) / scene(0.75)
}

#[cfg(test)]
mod tests {
    use super::{Curve, hlg_to_linear, pq_to_linear, recognise};

    /// ITU-R BT.2408-7, table 1: 203 cd/m2 and 75 % HLG are white; PQ code 0.58 is 203 cd/m2 to
    /// two decimals. ST 2084: code 1 is 10,000 cd/m2. BT.2100-2: HLG code 1 is scene light 1,
    /// code 0.5 is 1/12.
    #[test]
    fn hdr_curves_meet_their_published_points() {
        assert!(
            (pq_to_linear(0.58) - 1.0).abs() < 0.01,
            "{}",
            pq_to_linear(0.58)
        );
        assert!((pq_to_linear(1.0) * 203.0 - 10_000.0).abs() < 1e-6);
        assert_eq!(pq_to_linear(0.0), 0.0);
        assert!((hlg_to_linear(0.75) - 1.0).abs() < 1e-12);
        let ratio = hlg_to_linear(1.0) / hlg_to_linear(0.5);
        assert!((ratio - 12.0).abs() < 1e-5, "{ratio}");
    }

    #[test]
    fn neighbours_are_told_apart() {
        let power = |gamma: f64| move |v: f32| libm::pow(f64::from(v), gamma) as f32;
        assert_eq!(recognise(&power(2.4)), Some(Curve::Bt1886));
        assert_eq!(recognise(&power(1.0)), Some(Curve::Linear));
        assert_eq!(recognise(&power(2.2)), None);
        let srgb = |v: f32| Curve::Srgb.decode(v);
        assert_eq!(recognise(&srgb), Some(Curve::Srgb));
        // BT.709's camera curve is not the display's.
        let bt709 = |v: f32| {
            let v = f64::from(v);
            (if v < 0.081 {
                v / 4.5
            } else {
                libm::pow((v + 0.099) / 1.099, 1.0 / 0.45)
            }) as f32
        };
        assert_eq!(recognise(&bt709), None);
    }
}
