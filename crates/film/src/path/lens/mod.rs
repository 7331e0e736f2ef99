//! Lens: light before it meets the film. The point part: exposure, the early white balance and veiling flare.

pub mod diffusion;
mod flare;
pub mod fringe;
pub mod vignette;
pub mod weave;

use crate::look::{self, effective_amount};
use crate::path::SceneLin;
use lookwright_colour::lane::Lane;
use lookwright_colour::space::{Cat, Xy, adaptation, primaries::AP1, temperature_of, white_of};
use lookwright_colour::{Mat3, PixelMatrix};

/// The colour temperature at which light balance does nothing, in kelvin.
pub const NEUTRAL_KELVIN: f64 = 5500.0;

/// The lens's point part, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LensPoint {
    matrix: Option<PixelMatrix>,
    /// Even light that comes to each channel besides.
    veil: Option<f32>,
}

impl LensPoint {
    /// From the look's lens stage.
    pub fn new(settings: &look::Lens) -> Self {
        let stops = settings.exposure.stops * effective_amount(&settings.exposure);
        let light = &settings.light;
        let balance = light_balance(light.kelvin, light.tint, effective_amount(light));
        let veil = flare::straight_and_veil(&settings.flare, effective_amount(&settings.flare));
        let straight = veil.map_or(1.0, |(straight, _)| straight);
        let matrix = Mat3::diagonal([libm::exp2(stops) * straight; 3]).after(&balance);
        Self {
            matrix: (matrix != Mat3::IDENTITY).then(|| matrix.for_pixels()),
            veil: veil.map(|(_, veil)| veil as f32),
        }
    }

    /// Scene light to scene light.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, scene_lin: SceneLin<L>) -> SceneLin<L> {
        let straight = match &self.matrix {
            Some(matrix) => SceneLin(matrix.apply(scene_lin.0)),
            None => scene_lin,
        };
        match self.veil {
            Some(veil) => SceneLin(straight.0.map(
                #[inline(always)]
                |light| light + veil,
            )),
            None => straight,
        }
    }
}

/// The early balance in AP1: a Bradford adaptation from the white of `kelvin` and `tint_duv` to
/// that of [`NEUTRAL_KELVIN`], at the luminance that a grey has, so that it changes colour and not
/// exposure. The amount moves the light away from neutral in mired, so every
/// amount is an adaptation; the identity at neutral settings and at amount 0.
pub fn light_balance(kelvin: f64, tint_duv: f64, amount: f64) -> Mat3 {
    let mired = 1e6 / NEUTRAL_KELVIN + (1e6 / kelvin - 1e6 / NEUTRAL_KELVIN) * amount;
    let tint = tint_duv * amount;
    if (kelvin == NEUTRAL_KELVIN || amount == 0.0) && tint == 0.0 {
        return Mat3::IDENTITY;
    }
    let light = white_of(1e6 / mired.max(40.0), tint);
    let adapted = adaptation(&AP1, light, white_of(NEUTRAL_KELVIN, 0.0), Cat::Bradford);
    let grey = AP1.rgb_to_xyz().after(&adapted).apply([1.0; 3])[1];
    Mat3::diagonal([1.0 / grey; 3]).after(&adapted)
}

/// The light, as kelvin and Duv, that [`light_balance`] makes neutral where a grey has this AP1 colour.
pub fn light_of(grey_ap1: [f64; 3]) -> (f64, f64) {
    let seen = AP1.rgb_to_xyz().apply(grey_ap1);
    let from_neutral = Cat::Bradford.xyz(AP1.white(), white_of(NEUTRAL_KELVIN, 0.0));
    let light = temperature_of(Xy::from_xyz(from_neutral.apply(seen)));
    let kelvin = light.kelvin.clamp(2000.0, 12000.0);
    // Whites without a tint lie on the daylight locus from 4000 K on, not on Planck's.
    let tint = light.duv - temperature_of(white_of(kelvin, 0.0)).duv;
    (kelvin, tint.clamp(-0.03, 0.03))
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::Rgb;

    #[test]
    fn the_chosen_light_becomes_neutral_at_every_brightness() {
        let neutral = white_of(NEUTRAL_KELVIN, 0.0);
        for (kelvin, tint) in [(3200.0, 0.0), (4300.0, 0.01), (9000.0, -0.005)] {
            let balance = light_balance(kelvin, tint, 1.0);
            // A grey card in that light, as XYZ, and what it must become.
            let seen = AP1.xyz_to_rgb().apply(white_of(kelvin, tint).to_xyz());
            let aim = AP1.xyz_to_rgb().apply(neutral.to_xyz());
            for level in [0.01, 0.18, 4.0] {
                let out = balance.apply(seen.map(|v| v * level));
                let gain = out[1] / (aim[1] * level);
                for i in 0..3 {
                    let miss = out[i] - aim[i] * level * gain;
                    assert!(miss.abs() < 1e-9 * level.max(1.0));
                }
            }
            // And it is found again from the colour that a grey card has in it.
            let unbalanced = balance.inverse().unwrap().apply([0.18; 3]);
            let (found, duv) = light_of(unbalanced);
            assert!((1e6 / found - 1e6 / kelvin).abs() < 1.0 && (duv - tint).abs() < 3e-4);
            // A grey of the neutral light changes its colour, not its luminance.
            let luminance = AP1.rgb_to_xyz().apply(balance.apply([0.18; 3]))[1];
            assert!((luminance - 0.18).abs() < 1e-9);
        }
    }

    #[test]
    fn neutral_settings_are_the_identity() {
        assert_eq!(light_balance(NEUTRAL_KELVIN, 0.0, 1.0), Mat3::IDENTITY);
        assert_eq!(light_balance(3200.0, 0.01, 0.0), Mat3::IDENTITY);
        let pixel = SceneLin(Rgb::new(0.1_f32, 7.0, -0.2));
        assert_eq!(LensPoint::new(&look::Lens::default()).apply(pixel), pixel);
    }
}
