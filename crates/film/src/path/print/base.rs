//! Base tint: the colour of what the print is on, seen wherever little dye covers it.
//!
//! `y' = y 10^(-d k)`, `k` being what the base takes of red, green and blue light: nothing of its own
//! hue, most of the opposite. So whites take its colour and black stays black, as on paper or on film
//! that has yellowed. The law of Bouguer and Lambert (*standard*); which base has which colour is
//! *chosen* by the person.

use crate::look;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// The base, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Base {
    passes: Rgb,
}

impl Base {
    /// From the look's step, `amount` times as dense; none if it takes no light.
    pub fn new(settings: &look::Base, amount: f64) -> Option<Self> {
        let density = settings.density * amount;
        let takes =
            |of_channel: f64| (1.0 - libm::cos((settings.hue - of_channel).to_radians())) / 2.0;
        (density > 0.0).then(|| Self {
            passes: Rgb::from_array(
                [0.0, 120.0, 240.0]
                    .map(|of_channel| libm::exp10(-density * takes(of_channel)) as f32),
            ),
        })
    }

    /// On display light.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, display_lin: Rgb<L>) -> Rgb<L> {
        display_lin.zip(
            self.passes,
            #[inline(always)]
            |light, share| light * share,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whites_take_its_colour_and_black_stays() {
        // Yellow: all of the blue light's opposite share, a quarter of red's and of green's.
        let settings = look::Base {
            hue: 60.0,
            density: 0.1,
            ..Default::default()
        };
        let base = Base::new(&settings, 1.0).unwrap();
        let white = base.apply(Rgb::grey(1.0_f32));
        assert!((white.b - 0.794_328).abs() < 1e-5, "{white:?}");
        assert!((white.r - 0.944_061).abs() < 1e-5 && (white.r - white.g).abs() < 1e-6);
        assert_eq!(base.apply(Rgb::grey(0.0_f32)), Rgb::grey(0.0));
        assert_eq!(Base::new(&settings, 0.0), None);
    }
}
