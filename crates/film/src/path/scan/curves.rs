//! Free curves over the scan: one for all three, then one each.
//!
//! On the shaped scan's code. Lowering the red curve's top end gives cyan highlights and leaves
//! the middle alone.

use super::monotone_curve::MonotoneCurve;
use crate::look;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// The four curves, prepared for pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct Curves {
    master: Option<MonotoneCurve>,
    red: Option<MonotoneCurve>,
    green: Option<MonotoneCurve>,
    blue: Option<MonotoneCurve>,
}

impl Curves {
    /// From the look's step at `amount`; none if all four are the identity.
    pub fn new(settings: &look::Curves, amount: f64) -> Option<Self> {
        let curve = |points: &[[f64; 2]]| MonotoneCurve::new(points, amount);
        let curves = Self {
            master: curve(&settings.master),
            red: curve(&settings.red),
            green: curve(&settings.green),
            blue: curve(&settings.blue),
        };
        let all = [&curves.master, &curves.red, &curves.green, &curves.blue];
        all.iter().any(|c| c.is_some()).then_some(curves)
    }

    /// On the shaped scan's code.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        let code = code.map(
            #[inline(always)]
            |c| through(self.master.as_ref(), c),
        );
        Rgb::new(
            through(self.red.as_ref(), code.r),
            through(self.green.as_ref(), code.g),
            through(self.blue.as_ref(), code.b),
        )
    }
}

#[inline(always)]
fn through<L: Lane>(curve: Option<&MonotoneCurve>, code: L) -> L {
    match curve {
        Some(curve) => curve.apply(code),
        None => code,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lowered_red_end_makes_highlights_cyan_and_leaves_the_middle() {
        let settings = look::Curves {
            red: vec![[0.0, 0.0], [0.35, 0.35], [0.7, 0.7], [1.0, 0.88]],
            ..Default::default()
        };
        let curves = Curves::new(&settings, 1.0).unwrap();
        let bright = curves.apply(Rgb::grey(0.97_f32));
        assert!(bright.r < 0.88 && bright.g == 0.97 && bright.b == 0.97);
        for level in [0.1_f32, 0.4, 0.6] {
            assert!((curves.apply(Rgb::grey(level)).r - level).abs() < 0.012);
        }
    }

    #[test]
    fn the_master_acts_before_the_single_ones() {
        let settings = look::Curves {
            master: vec![[0.0, 0.2], [1.0, 1.0]],
            blue: vec![[0.0, 0.0], [0.2, 0.5], [1.0, 1.0]],
            ..Default::default()
        };
        let out = Curves::new(&settings, 1.0)
            .unwrap()
            .apply(Rgb::grey(0.0_f32));
        assert!((out.g - 0.2).abs() < 1e-6 && (out.b - 0.5).abs() < 1e-6);
        assert_eq!(Curves::new(&look::Curves::default(), 1.0), None);
    }
}
