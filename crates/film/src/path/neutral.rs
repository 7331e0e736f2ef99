//! The neutral rendering: how a plain camera shows scene light on a screen, and back.
//!
//! ```text
//! f = m (x / (x + s))^g        scene light x, mid-grey at 0.18
//! y = f^2 / (f + t)            display light, white at 1
//! ```
//!
//! The form is the tone scale of the Academy's ACES 2.0 output transforms: both ends bend, it has no
//! kink, and its inverse is closed. `m` and `s` follow from two aims: the scene's white at [`WHITE`]
//! is shown as 1, and mid-grey as the code that the film scan has for it. All three channels get the
//! gain of `x = (r^2 + g^2 + b^2) / (|r| + |g| + |b|)`, which is the grey's own number and near the
//! brightest channel's for a colour: so colours keep their ratios, both ways. ACES 2.0 has
//! `g = 1.15, t = 0.04`, white at 128 and grey at 0.1, the aims of a cinema; here they are those of a
//! finished photograph: *chosen*, so that the untouched look shows a photograph as it came.

use crate::path::negative::GREY_SCENE_LIN;
use crate::path::scan::code;
use lookwright_colour::Rgb;
use lookwright_colour::encoding::Curve;
use lookwright_colour::lane::Lane;

/// Scene light that is shown as white: four stops above mid-grey.
pub const WHITE: f64 = 2.88;
/// Exponent `g`.
const CONTRAST: f64 = 1.3;
/// Toe `t`.
const TOE: f64 = 0.06;
/// So that a sum is a number to divide by.
const NO_LIGHT: f32 = 1e-30;
/// 17 stops below mid-grey.
const DEEPEST: f32 = 1e-6;

/// The neutral rendering, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Neutral {
    scale: f32,
    half_way: f32,
    contrast: f32,
    per_scale: f32,
    per_contrast: f32,
    toe: f32,
    /// Scene light of a little more display light at white: beyond, the inverse is a straight line.
    beyond: f32,
}

impl Neutral {
    /// Of a finished photograph.
    pub fn new() -> Self {
        let grey = Curve::Srgb.decode((code::grey_code() / f64::from(code::CODE_MAX)) as f32);
        Self::through(WHITE, f64::from(grey), CONTRAST, TOE)
    }

    /// Of the Academy's ACES 2.0 output transform for screens of 100 nits.
    pub fn of_aces() -> Self {
        Self::through(128.0, 0.1, 1.15, 0.04)
    }

    /// With the scene's `white` shown as 1 and mid-grey as `grey`.
    fn through(white: f64, grey: f64, contrast: f64, toe: f64) -> Self {
        let before_toe = |y: f64| (y + libm::sqrt(y * (y + 4.0 * toe))) / 2.0;
        let (f_white, f_grey) = (before_toe(1.0), before_toe(grey));
        let apart = libm::pow(f_white / f_grey, 1.0 / contrast);
        let half_way = GREY_SCENE_LIN * white * (apart - 1.0) / (white - GREY_SCENE_LIN * apart);
        let share = white / (white + half_way);
        let scale = f_white / libm::pow(share, contrast);
        // dx/dy at white, by the chain rule.
        let by_share = half_way / ((1.0 - share) * (1.0 - share));
        let by_f = share / (contrast * f_white);
        let by_y = (1.0 + (1.0 + 2.0 * toe) / libm::sqrt(1.0 + 4.0 * toe)) / 2.0;
        Self {
            scale: scale as f32,
            half_way: half_way as f32,
            contrast: contrast as f32,
            per_scale: (1.0 / scale) as f32,
            per_contrast: (1.0 / contrast) as f32,
            toe: toe as f32,
            beyond: (by_share * by_f * by_y) as f32,
        }
    }

    /// Scene light to display light, AP1 both, white at 1.
    #[inline(always)]
    pub fn show<L: Lane>(&self, scene_lin: Rgb<L>) -> Rgb<L> {
        by_gain(
            scene_lin,
            #[inline(always)]
            |x| self.shown(x),
        )
    }

    /// Display light to scene light: undoes [`Self::show`] up to white, and goes on as a straight line.
    #[inline(always)]
    pub fn undo<L: Lane>(&self, display_lin: Rgb<L>) -> Rgb<L> {
        by_gain(
            display_lin,
            #[inline(always)]
            |y| self.undone(y),
        )
    }

    #[inline(always)]
    fn shown<L: Lane>(&self, x: L) -> L {
        let f = (x / (x + self.half_way)).pow(self.contrast) * self.scale;
        f * f / (f + self.toe)
    }

    #[inline(always)]
    fn undone<L: Lane>(&self, y: L) -> L {
        let inside = y.min(y.of(1.0));
        let f = (inside + (inside * (inside + self.toe * 4.0)).sqrt()) * 0.5;
        let share = (f * self.per_scale).pow(self.per_contrast);
        share * self.half_way / (-share + 1.0) + (y - inside) * self.beyond
    }
}

impl Default for Neutral {
    fn default() -> Self {
        Self::new()
    }
}

/// All three channels by the gain that `f` gives to their norm.
#[inline(always)]
fn by_gain<L: Lane>(light: Rgb<L>, f: impl Fn(L) -> L) -> Rgb<L> {
    let Rgb { r, g, b } = light;
    let norm = (r * r + g * g + b * b) / (r.abs() + g.abs() + b.abs() + NO_LIGHT);
    // No light at all has no gain, which would be without limit.
    let norm = norm + DEEPEST;
    let gain = f(norm) / norm;
    light.map(
        #[inline(always)]
        |c| c * gain,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Luminance of greys through the Academy's SDR output transform, of 100 nits: `ACES-OUTPUT -
    /// ACES2065-1_to_CIE-XYZ-D65 - SDR-100nit-REC709_2.0` of OpenColorIO 2.6.0.
    #[test]
    fn the_form_is_the_academy_s_tone_scale() {
        let aces = Neutral::of_aces();
        for (scene_lin, shown) in [
            (0.001_f32, 4.129_183e-6),
            (0.01, 7.122_798e-4),
            (0.045, 0.013_423_055),
            (0.09, 0.040_181_31),
            (0.18, 0.099_999_31),
            (0.36, 0.209_145_13),
            (0.9, 0.429_097_62),
            (2.88, 0.723_301_35),
            (16.0, 0.943_475),
        ] {
            let ours = aces.shown(scene_lin);
            assert!((ours - shown).abs() < 1e-5 + 1e-5 * shown, "{ours} {shown}");
        }
    }

    #[test]
    fn showing_and_undoing_are_inverse_and_go_on_smoothly_beyond_white() {
        let neutral = Neutral::new();
        assert!((neutral.shown(0.18_f32) - 0.1828).abs() < 1e-4);
        assert!((neutral.shown(2.88_f32) - 1.0).abs() < 1e-5);
        let mut last = -1.0;
        for i in -50..=1500 {
            let display_lin = i as f32 / 1000.0;
            let scene_lin = neutral.undo(Rgb::grey(display_lin)).g;
            assert!(scene_lin > last, "{i}");
            last = scene_lin;
            if i <= 1000 {
                let again = neutral.show(Rgb::grey(scene_lin)).g;
                assert!((again - display_lin).abs() < 4e-6, "{display_lin} {again}");
            }
        }
        let slope = |y: f32| (neutral.undone(y + 1e-3) - neutral.undone(y)) / 1e-3;
        assert!((slope(0.999) / slope(1.0) - 1.0).abs() < 0.01);
        for colour in [[0.9_f32, 0.4, 0.05], [0.02, 0.01, 0.3], [0.5, -0.02, 0.001]] {
            let light = neutral.undo(Rgb::from_array(colour));
            assert!((light.r / light.b - colour[0] / colour[2]).abs() < 1e-3);
            let again = neutral.show(light).to_array();
            for (a, b) in again.into_iter().zip(colour) {
                assert!((a - b).abs() < 4e-6, "{again:?} {colour:?}");
            }
        }
        assert_eq!(neutral.undo(Rgb::grey(0.0_f32)), Rgb::grey(0.0));
    }

    /// Tone scales that are not ours, exposed so that grey is shown as grey: mid-tones come back.
    #[test]
    fn mid_tones_of_published_operators_come_back_within_three_tenths_of_a_stop() {
        // ACES 2.0 for a brighter grey; Reinhard et al. 2002, equation 4, white at 4; the filmic
        // fit of Hable 2010 (GDC), white at 11.2; Narkowicz 2016's fit to ACES 1.
        let aces = |x: f64| f64::from(Neutral::through(128.0, 0.1833, 1.15, 0.04).shown(x as f32));
        let reinhard = |x: f64| x * (1.0 + x / 16.0) / (1.0 + x);
        let hable = |x: f64| {
            let h = |x: f64| {
                (x * (0.15 * x + 0.05) + 0.004) / (x * (0.15 * x + 0.5) + 0.06) - 1.0 / 15.0
            };
            h(x) / h(11.2)
        };
        let narkowicz = |x: f64| x * (2.51 * x + 0.03) / (x * (2.43 * x + 0.59) + 0.14);
        let operators: [(&str, &dyn Fn(f64) -> f64); 4] = [
            ("ACES 2.0", &aces),
            ("Reinhard", &reinhard),
            ("Hable", &hable),
            ("Narkowicz", &narkowicz),
        ];
        let neutral = Neutral::new();
        for (name, operator) in operators {
            let (mut low, mut high) = (1e-3, 10.0);
            for _ in 0..60 {
                let middle = libm::sqrt(low * high);
                if operator(middle) < 0.1828 {
                    low = middle
                } else {
                    high = middle
                }
            }
            for tenths in -9..=10 {
                let stops = f64::from(tenths) / 10.0;
                let shown = operator(low * libm::exp2(stops)) as f32;
                let back = libm::log2(f64::from(neutral.undone(shown)) / 0.18);
                assert!((back - stops).abs() < 0.3, "{name}: {back} for {stops}");
            }
        }
    }
}
