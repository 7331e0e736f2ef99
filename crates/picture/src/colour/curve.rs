//! Transfer curves: recognised by their values, not by their names.

use std::rc::Rc;

use lookwright_colour::encoding::Curve;

/// A curve from code to linear light.
pub(crate) type ToLinear = Rc<dyn Fn(f32) -> f32>;

/// The curves that files declare: those of screens, and none.
pub(crate) const CURVES: [Curve; 4] = [Curve::Srgb, Curve::Bt1886, Curve::Gamma26, Curve::Linear];

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

#[cfg(test)]
mod tests {
    use super::{Curve, recognise};

    #[test]
    fn neighbours_are_told_apart() {
        let power = |gamma: f64| move |v: f32| libm::pow(f64::from(v), gamma) as f32;
        assert_eq!(recognise(&power(2.4)), Some(Curve::Bt1886));
        assert_eq!(recognise(&power(2.6)), Some(Curve::Gamma26));
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
