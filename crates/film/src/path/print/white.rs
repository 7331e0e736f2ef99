//! Print white: the light that the print is seen in.
//!
//! Display light is adapted from D65 to the chosen white (linear Bradford, Lam 1985; ICC.1), so
//! greys and whites take its chromaticity on every screen. Whites as tabulated: CIE 15.

use crate::look::{self, WhitePoint, effective_amount};
use lookwright_colour::Mat3;
use lookwright_colour::space::{Cat, Primaries, Xy, adaptation, white};

/// The print's white, as it is shown on screens whose own white is D65.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct White {
    target: Xy,
    amount: f64,
}

impl White {
    /// From the look's step; none at D65 or amount 0. The amount moves the white on a straight
    /// line through D65, so 2 is twice as far.
    pub fn new(settings: &look::White) -> Option<Self> {
        let (target, amount) = (xy_of(settings.white), effective_amount(settings));
        (target != white::D65 && amount != 0.0).then_some(Self { target, amount })
    }

    /// The adaptation as a matrix on linear RGB of a screen; what it makes of 1, 1, 1 is the white.
    pub fn on(&self, screen: &Primaries) -> Mat3 {
        adaptation(screen, white::D65, self.target, Cat::Bradford).blend(self.amount)
    }
}

/// The chromaticity of a choice.
pub const fn xy_of(choice: WhitePoint) -> Xy {
    match choice {
        WhitePoint::D50 => white::D50,
        WhitePoint::D55 => white::D55,
        WhitePoint::D60 => white::D60,
        WhitePoint::D65 => white::D65,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn d65_and_amount_zero_are_no_step() {
        let white_step = |white, amount| {
            White::new(&look::White {
                white,
                amount,
                ..Default::default()
            })
        };
        assert_eq!(white_step(WhitePoint::D65, 1.0), None);
        assert_eq!(white_step(WhitePoint::D50, 0.0), None);
        assert!(white_step(WhitePoint::D50, 0.5).is_some());
    }
}
