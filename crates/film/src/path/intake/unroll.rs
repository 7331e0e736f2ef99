//! Unroll: gives a finished photo's highlights back some range.
//!
//! A display picture has no light above white: its camera rolled it away. The inverse shoulder
//! `y = x + (2^s - 1) t^4`, `t = max(x - 0.18, 0) / 0.82`, brings white to `s` stops above white.
//! It is the identity below mid-grey, smooth to the third derivative, and strictly monotone.

use lookwright_colour::lane::Lane;

/// Unroll, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unroll {
    extra: f32,
}

impl Unroll {
    /// White ends `stops` above white; none at 0, which is an exact identity.
    pub fn new(stops: f64) -> Option<Self> {
        (stops > 0.0).then(|| Self {
            extra: (libm::exp2(stops) - 1.0) as f32,
        })
    }

    /// Linear display light, white at 1, to linear light with range above white.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, display_lin: L) -> L {
        let t = (display_lin - 0.18).clamp_to(0.0, 0.82) * (1.0 / 0.82);
        let squared = t * t;
        display_lin + squared * squared * self.extra
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn white_goes_up_by_the_stops_and_grey_stays() {
        for stops in [0.5, 1.0, 3.0] {
            let unroll = Unroll::new(stops).unwrap();
            let white: f32 = unroll.apply(1.0);
            assert!((f64::from(white) - libm::exp2(stops)).abs() < 1e-5);
            assert_eq!(unroll.apply(0.18_f32), 0.18);
            assert_eq!(unroll.apply(0.02_f32), 0.02);
            let mut last = -1.0;
            for i in 0..=2000 {
                let y: f32 = unroll.apply(i as f32 / 1800.0);
                assert!(y > last);
                last = y;
            }
        }
        assert_eq!(Unroll::new(0.0), None);
    }
}
