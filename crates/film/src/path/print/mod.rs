//! Print: the finished scan to display light, straight or as a positive.
//!
//! Display light is linear, with AP1 primaries, relative to the print's white: 1, 1, 1 is what a
//! screen shows as its white. It has no limits: a colour may be brighter than white, or lie
//! outside what one screen can show and inside another's. The screen stage brings it in.

mod base;
mod positive;
mod straight;
mod white;

pub use base::Base;
pub use positive::Positive;
pub use straight::{DISPLAY_GAMMA, Straight, display_light};
pub use white::White;

use crate::look::{self, effective_amount};
use crate::path::{DisplayLin, ScanCode};
use lookwright_colour::lane::Lane;

/// The print, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintPoint {
    /// None where nothing but the positive is seen.
    straight: Option<Straight>,
    positive: Option<(Positive, f32)>,
    base: Option<Base>,
}

impl PrintPoint {
    /// From the look's print stage. Its white is the screen's business.
    pub fn new(settings: &look::Print) -> Self {
        let amount = effective_amount(&settings.positive);
        Self {
            straight: (amount < 1.0).then(Straight::new),
            positive: (amount > 0.0).then(|| {
                (
                    Positive::new(&settings.positive, amount),
                    amount.min(1.0) as f32,
                )
            }),
            base: Base::new(&settings.base, effective_amount(&settings.base)),
        }
    }

    /// Whether the scan is shown as it is: its codes are the reference display's.
    pub(super) const fn is_scan(&self) -> bool {
        self.positive.is_none() && self.base.is_none()
    }

    /// The finished scan's code of 1 to display light. An amount of the positive mixes its light
    /// with the straight finish's.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, code: ScanCode<L>) -> DisplayLin<L> {
        let light = match (&self.straight, &self.positive) {
            (Some(straight), Some((positive, share))) => {
                let (straight, positive) = (straight.apply(code).0, positive.apply(code).0);
                DisplayLin(straight.mix(positive, *share))
            }
            (None, Some((positive, _))) => positive.apply(code),
            (Some(straight), None) => straight.apply(code),
            (None, None) => DisplayLin(code.0),
        };
        match &self.base {
            Some(base) => DisplayLin(base.apply(light.0)),
            None => light,
        }
    }
}

/// The scan as it goes to this print: a positive has contrast of its own, so that of the scan gives
/// way as far as the positive is mixed in.
pub fn scan_for(print: &look::Print, scan: &look::Scan) -> look::Scan {
    let positive = &print.positive;
    let printed = effective_amount(positive).min(1.0);
    let mut scan = scan.clone();
    scan.contrast.amount *= 1.0 + printed * (positive.scan_contrast - 1.0);
    scan
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::{Contrast, Print, Scan};
    use lookwright_colour::Rgb;

    #[test]
    fn amount_mixes_the_positive_s_light_with_the_straight_scan_s() {
        let at = |amount: f64| {
            let mut print = Print::default();
            print.positive.on = true;
            print.positive.amount = amount;
            PrintPoint::new(&print)
                .apply(ScanCode(Rgb::grey(0.6_f32)))
                .0
                .g
        };
        let straight = PrintPoint::new(&Print::default())
            .apply(ScanCode(Rgb::grey(0.6_f32)))
            .0
            .g;
        assert_eq!(at(0.0), straight);
        assert!((at(0.5) - f32::midpoint(straight, at(1.0))).abs() < 1e-6);
        assert!((at(0.999_999) - at(1.0)).abs() < 1e-5);
    }

    #[test]
    fn the_scan_s_contrast_gives_way_to_the_positive_s() {
        let scan = Scan::default();
        let mut print = Print::default();
        assert_eq!(scan_for(&print, &scan), scan);
        print.positive.on = true;
        assert_eq!(scan_for(&print, &scan).contrast.amount, 0.0);
        print.positive.scan_contrast = 1.0;
        assert_eq!(scan_for(&print, &scan), scan);
        assert_eq!(scan.contrast, Contrast::default());
    }
}
