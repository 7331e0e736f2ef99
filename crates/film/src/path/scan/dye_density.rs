//! Dye density: colour made denser rather than brighter.
//!
//! On the shaped scan's code `c`, display density being `-2.4 log10 c`:
//!
//! ```text
//! M  = ((r^8 + g^8 + b^8) / 3)^(1/8)            the lightest channel, smoothly; c for a grey
//! q  = ((r-g)^2 + (g-b)^2 + (b-r)^2) / (M + e)^2, s = q / (q + q0)      colourfulness, 0 ... 1
//! k  = whole + sum over six hues of w_hue k_hue                        density asked for
//! d  = -k s, for less dye no more than there is: d R / sqrt(d^2 + R^2), R = -2.4 log10 M
//! c' = 10^(d / 2.4) (c + A (c - M)),  A = p k / (1.5 + |k|) s (1 - s^2)
//! ```
//!
//! More dye does two things. It adds density `k s` to all three channels: the colour gets darker
//! at the same chromaticity. And it darkens what is dark in it already (`A`), so that pale
//! colours get purer; that share fades where a colour is already full, so nothing turns neon.
//! Less dye leaves the lightest channel below white, softly, so that no screen has to cut it off.
//! Both keep the hue angle in the plane of the channel differences. `q` is 0 and flat at grey:
//! greys don't move at all. Ours, no source.
//!
//! The six windows (`hue.rs`) lie around red, yellow, green, cyan, blue, magenta.

use super::hue;
use crate::look;
use crate::path::bend::bent;
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// Colourfulness `q` at which half the density is added: a moderate red.
const HALF_WAY: f32 = 0.8;
/// Added to the lightest channel, so that the grain of the blacks does not count as colour.
const BLACK: f32 = 0.04;
/// How much purer pale colours get.
const PURER: f32 = 0.8;
/// Size of the channel differences, squared, below which a pixel has no hue.
const NO_HUE: f32 = 1e-8;
/// Code below which a pixel's room up to white no longer grows.
const DARKEST: f32 = 1e-4;
/// `log2(10) / 2.4`: density to powers of two of display code.
const CODE_PER_DENSITY: f32 = core::f32::consts::LOG2_10 / 2.4;
/// Cosine and sine of the six hues, red first.
const HUES: [[f32; 2]; 6] = {
    const H: f32 = hue::SIN_60;
    [
        [1.0, 0.0],
        [0.5, H],
        [-0.5, H],
        [-1.0, 0.0],
        [-0.5, -H],
        [0.5, -H],
    ]
};

/// Dye density, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DyeDensity {
    whole: f32,
    by_hue: Option<[f32; 6]>,
    /// Whether any hue gets less dye.
    thins: bool,
}

impl DyeDensity {
    /// From the look's step, `amount` times over; none if it does nothing.
    pub fn new(settings: &look::DyeDensity, amount: f64) -> Option<Self> {
        let whole = (settings.whole * amount) as f32;
        let by_hue = [
            settings.red,
            settings.yellow,
            settings.green,
            settings.cyan,
            settings.blue,
            settings.magenta,
        ]
        .map(|density| (density * amount) as f32);
        let by_hue = by_hue.iter().any(|k| *k != 0.0).then_some(by_hue);
        let least = by_hue.iter().flatten().copied().fold(0.0, f32::min);
        (whole != 0.0 || by_hue.is_some()).then_some(Self {
            whole,
            by_hue,
            thins: whole + least < 0.0,
        })
    }

    /// On the shaped scan's code.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        let Rgb { r, g, b } = code;
        let lightest = lightest(code);
        let reach = lightest + BLACK;
        let (rg, gb, br) = (r - g, g - b, b - r);
        let q = (rg * rg + gb * gb + br * br) / (reach * reach);
        let s = q / (q + HALF_WAY);
        let k = self.density_at(code);
        let gain = self
            .lighter_at_most(-(k * s) * CODE_PER_DENSITY, lightest)
            .exp2();
        let purer = k * s * (-s * s + 1.0) * PURER / (k.abs() + 1.5);
        code.map(
            #[inline(always)]
            |c| ((c - lightest) * purer + c) * gain,
        )
    }

    /// The power of two asked for, held softly below what brings `lightest` to white.
    #[inline(always)]
    fn lighter_at_most<L: Lane>(&self, asked: L, lightest: L) -> L {
        if !self.thins {
            return asked;
        }
        let room = (-Lane::log2(lightest.max(lightest.of(DARKEST)))).max(asked.of(0.0));
        asked.below(0.0, asked, bent(asked, room))
    }

    /// The density asked for at a pixel's hue.
    #[inline(always)]
    fn density_at<L: Lane>(&self, code: Rgb<L>) -> L {
        let whole = code.r.of(self.whole);
        let Some(by_hue) = &self.by_hue else {
            return whole;
        };
        let [along, across] = hue::direction(hue::axes(code), NO_HUE);
        let mut sum = whole;
        for (place, density) in HUES.iter().zip(by_hue) {
            sum = sum + hue::window(along * place[0] + across * place[1]) * *density;
        }
        sum
    }
}

/// The lightest of the three, smoothly: their mean of power 8. Exactly 0 at black.
#[inline(always)]
fn lightest<L: Lane>(code: Rgb<L>) -> L {
    let eighths = code.map(
        #[inline(always)]
        |c| {
            let c = c.max(c.of(0.0));
            let squared = c * c;
            let fourth = squared * squared;
            fourth * fourth
        },
    );
    let sum = (eighths.r + eighths.g + eighths.b) * (1.0 / 3.0);
    sum.sqrt().sqrt().sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::space::{Lab, primaries::BT709, white::D65};

    fn whole(density: f64) -> DyeDensity {
        let settings = look::DyeDensity {
            whole: density,
            ..Default::default()
        };
        DyeDensity::new(&settings, 1.0).unwrap()
    }

    fn lab(code: Rgb) -> Lab {
        let light = code
            .to_array()
            .map(|c| libm::pow(f64::from(c.max(0.0)), 2.4));
        Lab::from_xyz(BT709.rgb_to_xyz().apply(light), D65)
    }

    fn luminance(code: Rgb) -> f64 {
        let light = code
            .to_array()
            .map(|c| libm::pow(f64::from(c.max(0.0)), 2.4));
        BT709.rgb_to_xyz().apply(light)[1]
    }

    /// A colour of hue `sector` (0 red ... 5 magenta) and the given lightest and darkest code.
    fn colour(sector: usize, light: f32, dark: f32) -> Rgb {
        let on = [
            [true, false, false],
            [true, true, false],
            [false, true, false],
            [false, true, true],
            [false, false, true],
            [true, false, true],
        ][sector];
        Rgb::from_array(on.map(|on| if on { light } else { dark }))
    }

    #[test]
    fn the_more_colour_the_more_light_is_lost() {
        for sector in 0..6 {
            for density in [0.2, 0.6, 1.0] {
                let step = whole(density);
                let mut lost_before = -1e-6;
                // Up to a darkest code of 0.19; a nearly pure blue then keeps what it lost, since
                // its other channels have no light left to lose.
                for i in 0..=17 {
                    let patch = colour(sector, 0.7, 0.7 - 0.03 * i as f32);
                    let lost = libm::log10(luminance(patch) / luminance(step.apply(patch)));
                    assert!(lost > lost_before, "sector {sector}, {i}: {lost}");
                    lost_before = lost;
                }
            }
        }
    }

    #[test]
    fn pale_colours_get_purer_and_full_ones_keep_every_channel() {
        // How far the darkest channel lies below the lightest one.
        let purity = |c: Rgb| {
            let [r, g, b] = c.to_array();
            1.0 - r.min(g).min(b) / r.max(g).max(b)
        };
        for sector in 0..6 {
            let gain = |dark| {
                let patch = colour(sector, 0.7, dark);
                purity(whole(0.5).apply(patch)) / purity(patch)
            };
            assert!(gain(0.5) > 1.02, "sector {sector}: {}", gain(0.5));
            let full = whole(1.0).apply(colour(sector, 0.7, 0.1));
            assert!(full.to_array().iter().all(|c| *c > 0.0), "sector {sector}");
        }
    }

    /// Around the hues a colour moves evenly: no step of a degree, as it is seen on a screen that cuts off
    /// at white, is more than three times the one beside it.
    #[test]
    fn less_dye_does_not_jump_between_hues() {
        let settings = [
            look::DyeDensity {
                whole: -1.0,
                ..Default::default()
            },
            look::DyeDensity {
                yellow: -1.0,
                ..Default::default()
            },
            look::DyeDensity {
                blue: -1.0,
                ..Default::default()
            },
        ];
        for (middle, reach) in [(0.4, 0.3), (0.6, 0.3), (0.5, 0.4), (0.7, 0.2)] {
            for settings in &settings {
                let step = DyeDensity::new(settings, 1.0).unwrap();
                let at = |degrees: i32| {
                    let turn = |c: f64| libm::cos((f64::from(degrees) - 120.0 * c).to_radians());
                    let code = [0.0, 1.0, 2.0].map(|c| (middle + reach * turn(c)) as f32);
                    let out = step.apply(Rgb::from_array(code));
                    lab(out.map(|c| c.clamp(0.0, 1.0)))
                };
                let moved = |degrees: i32| {
                    let (a, b) = (at(degrees), at(degrees + 1));
                    libm::sqrt((a.l - b.l).powi(2) + (a.a - b.a).powi(2) + (a.b - b.b).powi(2))
                };
                for degrees in 0..360 {
                    let ratio = moved(degrees + 1) / moved(degrees);
                    assert!(ratio < 3.0 && ratio > 1.0 / 3.0, "{degrees}: {ratio}");
                }
            }
        }
    }

    #[test]
    fn greys_stay_exactly() {
        for density in [-1.0, 0.5, 1.0] {
            for i in 0..=1023 {
                let grey = Rgb::grey(i as f32 / 1023.0);
                assert_eq!(whole(density).apply(grey), grey);
            }
        }
    }

    #[test]
    fn the_hue_angle_of_the_channel_differences_stays() {
        let angle = |c: Rgb| {
            let along = f64::from(c.r) - f64::from(c.g + c.b) / 2.0;
            let across = f64::from(c.g - c.b) * 0.75_f64.sqrt();
            libm::atan2(across, along)
        };
        for patch in [
            [0.8, 0.4, 0.2],
            [0.2, 0.5, 0.7],
            [0.5, 0.1, 0.6],
            [0.7, 0.69, 0.1],
        ] {
            let patch = Rgb::from_array(patch);
            for density in [-1.0, 0.3, 1.0] {
                let turned = angle(whole(density).apply(patch)) - angle(patch);
                assert!(turned.abs() < 1e-5, "{patch:?} turns by {turned}");
            }
        }
    }

    #[test]
    fn the_windows_share_every_hue_fully() {
        let even = look::DyeDensity {
            red: 0.4,
            yellow: 0.4,
            green: 0.4,
            cyan: 0.4,
            blue: 0.4,
            magenta: 0.4,
            ..Default::default()
        };
        let step = DyeDensity::new(&even, 1.0).unwrap();
        for degrees in 0..360 {
            let (sine, cosine) = libm::sincos(f64::from(degrees).to_radians());
            let third = 0.75_f64.sqrt();
            let along = |a: f64, b: f64| (0.5 + 0.3 * (a * cosine + b * sine)) as f32;
            let pixel = Rgb::new(along(1.0, 0.0), along(-0.5, third), along(-0.5, -third));
            assert!((step.density_at(pixel) - 0.4).abs() < 2e-5, "{degrees}");
        }
        let reds = look::DyeDensity {
            red: 0.5,
            ..Default::default()
        };
        let step = DyeDensity::new(&reds, 1.0).unwrap();
        assert_eq!(step.apply(colour(3, 0.7, 0.2)), colour(3, 0.7, 0.2));
        assert!(step.apply(colour(0, 0.7, 0.2)).r < 0.6);
    }

    #[test]
    fn extreme_settings_stay_finite_and_rising_in_light() {
        for density in [-4.0, -1.0, 1.0, 4.0] {
            for sector in 0..6 {
                let mut last = -1.0;
                for i in 0..=100 {
                    let light = i as f32 / 100.0;
                    let out = whole(density).apply(colour(sector, light, light * 0.3));
                    assert!(out.to_array().iter().all(|c| c.is_finite()));
                    let l = lab(out).l;
                    assert!(l >= last - 1e-4, "{density} {sector} {i}");
                    last = l;
                }
            }
        }
        assert_eq!(DyeDensity::new(&look::DyeDensity::default(), 1.0), None);
    }
}
