//! Flash: a weak even exposure of the whole film, before or after the picture's own.
//!
//! `E' = E + f`, with `f` so many stops from mid-grey: where hardly any light fell it lifts the layers
//! over their toe, where much fell it counts for nothing. So shadows open, and take the flash's colour,
//! while lights stay. That exposures add is the film's own law (reciprocity; *standard*).

use crate::look;
use crate::path::negative::GREY_SCENE_LIN;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// The flash, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flash {
    exposure: Rgb,
}

impl Flash {
    /// From the look's step, `amount` times as much light; none if that is no light.
    pub fn new(settings: &look::Flash, amount: f64) -> Option<Self> {
        let light = GREY_SCENE_LIN * libm::exp2(settings.level) * amount;
        let turn = |of_layer: f64| libm::cos((settings.hue - of_layer).to_radians());
        let tint = [0.0, 120.0, 240.0].map(|of_layer| 1.0 + settings.colour * turn(of_layer));
        (light > 0.0).then(|| Self {
            exposure: Rgb::from_array(tint.map(|share| (light * share) as f32)),
        })
    }

    /// On layer exposure.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, exposure: Rgb<L>) -> Rgb<L> {
        exposure.zip(
            self.exposure,
            #[inline(always)]
            |e, flash| e + flash,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exposures_add() {
        let settings = look::Flash {
            level: -3.0,
            ..Default::default()
        };
        let flash = Flash::new(&settings, 1.0).unwrap();
        // An eighth of mid-grey's exposure: log2(9 / 8) stops at mid-grey, a stop where as much fell.
        let stops = |e: f32| libm::log2(f64::from(flash.apply(Rgb::grey(e)).g / e));
        assert!((stops(0.18) - 0.169_925).abs() < 1e-4);
        assert!((stops(0.0225) - 1.0).abs() < 1e-4);
        let warm = Flash::new(
            &look::Flash {
                hue: 0.0,
                colour: 1.0,
                ..settings.clone()
            },
            1.0,
        );
        let seen = warm.unwrap().apply(Rgb::grey(0.0_f32));
        assert!(seen.r > 3.9 * seen.g && seen.g == seen.b);
        assert_eq!(Flash::new(&settings, 0.0), None);
    }
}
