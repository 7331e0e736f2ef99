//! What a frame itself suggests: exposure, light, and which kind of look to begin with. A proposal
//! with its reasons, never a silent choice.
//!
//! - *Exposure*: the log-average luminance is brought to a key that follows from where it lies between
//!   the darkest and the brightest (Reinhard, Parameter Estimation for Photographic Tone Reproduction,
//!   Journal of Graphics Tools 7(1), 2002): a night stays dark, snow stays bright. `a = 0.18 4^k`,
//!   `k = (2 log2 L - log2 L_low - log2 L_high) / (log2 L_high - log2 L_low)`, ends at 1 and 99 %.
//! - *Light*: shades of grey (Finlayson and Trezzi, CIC 12, 2004): what the Minkowski mean of the
//!   pixels has for a colour is taken for the light's. Their exponent 6 is 11 mired off on the 24-patch
//!   chart, 8 is 8 mired off (median of seventeen lights), so it is 8.
//! - *Person*: the share of pixels on the skin locus, as the skin guard has it.

use lookwright_colour::encoding::{Curve, EncodingClass};
use lookwright_colour::space::{Cat, primaries::AP1, primaries::BT709, rgb_to_rgb};
use lookwright_colour::{Mat3, Rgb};
use lookwright_film::look::{Frame, Trim};
use lookwright_film::path::FrameCode;
use lookwright_film::path::intake::IntakePoint;
use lookwright_film::path::lens::{NEUTRAL_KELVIN, light_of};
use lookwright_film::path::scan::skin;
use lookwright_film::spatial::Planes;

/// Exponent of the mean whose colour is taken for the light's.
const MINKOWSKI: f64 = 8.0;
/// At most so many stops are proposed.
const MOST_STOPS: f64 = 2.5;
/// Somebody has exposed a finished photo already, so half of it is proposed. *Chosen.*
const OF_FINISHED: f64 = 0.5;
/// Less than this is not worth a person's press.
const LEAST_STOPS: f64 = 0.15;
const LEAST_MIRED: f64 = 12.0;
/// Light warmer than this is a lamp's.
const LAMP_KELVIN: f64 = 4000.0;
/// Dusk: the log-average lies so far below mid-grey, in stops, and the light is no lamp's.
const DUSK_STOPS: f64 = -2.2;
/// The share of a frame that skin takes where a person is its subject; more is wood, sand or fur.
const PERSON_SHARE: core::ops::Range<f64> = 0.05..0.45;

/// A kind of scene, for which a library has a look to begin with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scene {
    /// Daylight.
    Day,
    /// Lamp light.
    Lamp,
    /// Dusk, night.
    Dusk,
    /// A person takes much of it.
    Person,
}

impl Scene {
    /// Its word in files.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Day => "day",
            Self::Lamp => "lamp",
            Self::Dusk => "dusk",
            Self::Person => "person",
        }
    }
}

/// What a frame suggests for its trim, and what it shows.
#[derive(Clone, Debug, PartialEq)]
pub struct FirstLook {
    /// Stops, for the trim's exposure.
    pub exposure: f64,
    /// Kelvin, for the trim's light.
    pub kelvin: f64,
    /// Duv, for the trim's tint.
    pub tint: f64,
    /// What it seems to show.
    pub scene: Scene,
    /// Why, one sentence each: exposure, light, scene.
    pub reasons: [String; 3],
}

/// Looks at a picture in its frame's code, without the frame's trim; a small copy is enough.
pub fn first_look(code: &Planes, frame: &Frame) -> FirstLook {
    let untrimmed = Frame {
        trim: Trim::default(),
        ..frame.clone()
    };
    let intake = IntakePoint::new(&untrimmed);
    let [r, g, b] = &code.planes;
    let codes = r.iter().zip(g).zip(b);
    let scene_lin: Vec<_> = codes
        .map(|((r, g), b)| intake.apply(FrameCode(Rgb::new(*r, *g, *b))).0.to_array())
        .collect();
    let finished = frame.source.encoding.info().class == EncodingClass::Display;
    of_light(&scene_lin, if finished { OF_FINISHED } else { 1.0 })
}

/// `trust`: the share of what is asked for that is proposed.
fn of_light(scene_lin: &[[f32; 3]], trust: f64) -> FirstLook {
    let count = scene_lin.len().max(1) as f64;
    let [_, weights, _] = AP1.rgb_to_xyz().0;
    let luminance =
        |light: &[f32; 3]| -> f64 { (0..3).map(|c| weights[c] * f64::from(light[c])).sum() };
    let mut stops: Vec<f64> = scene_lin.iter().map(|p| stops_of(luminance(p))).collect();
    stops.sort_unstable_by(f64::total_cmp);
    let at = |share: f64| {
        let place = (share * stops.len().saturating_sub(1) as f64) as usize;
        stops.get(place).copied().unwrap_or(0.0)
    };
    let mean = stops.iter().sum::<f64>() / count;
    let (low, high) = (at(0.01), at(0.99));
    let range = high - low;
    let lean = if range > 0.5 {
        (2.0 * mean - low - high) / range
    } else {
        0.0
    };
    let asked = (trust * (2.0 * lean - mean)).clamp(-MOST_STOPS, MOST_STOPS);
    let exposure = if asked.abs() < LEAST_STOPS {
        0.0
    } else {
        libm::round(asked * 20.0) / 20.0
    };
    let (kelvin, tint) = light(scene_lin);
    let off = (1e6 / kelvin - 1e6 / NEUTRAL_KELVIN).abs() >= LEAST_MIRED;
    let to_bt709 = rgb_to_rgb(&AP1, &BT709, Cat::Bradford);
    let skin = scene_lin
        .iter()
        .map(|p| skin_share(*p, &to_bt709))
        .sum::<f64>()
        / count;
    let scene = if kelvin < LAMP_KELVIN {
        Scene::Lamp
    } else if mean < DUSK_STOPS {
        Scene::Dusk
    } else if PERSON_SHARE.contains(&skin) {
        Scene::Person
    } else {
        Scene::Day
    };
    FirstLook {
        exposure,
        kelvin: if off {
            libm::round(kelvin / 50.0) * 50.0
        } else {
            NEUTRAL_KELVIN
        },
        tint: if off {
            libm::round(tint * 2000.0) / 2000.0
        } else {
            0.0
        },
        scene,
        reasons: [
            format!(
                "its average lies {} mid-grey, in a range of {range:.1} stops",
                beside(mean)
            ),
            format!("its light looks like {kelvin:.0} K; a frame of one colour would mislead this"),
            match scene {
                Scene::Person => format!("{:.0} % of it has the colour of skin", 100.0 * skin),
                Scene::Lamp => "its light is as warm as a lamp's".to_owned(),
                Scene::Dusk => "most of it is dark".to_owned(),
                Scene::Day => "it is lit like a day".to_owned(),
            },
        ],
    }
}

fn beside(stops: f64) -> String {
    if stops.abs() < 0.05 {
        return "at".to_owned();
    }
    let side = if stops > 0.0 { "above" } else { "below" };
    format!("{:.1} stops {side}", stops.abs())
}

/// Stops from mid-grey, six below at least: what is darker is black to film.
fn stops_of(luminance: f64) -> f64 {
    libm::log2(luminance.max(0.18 / 64.0) / 0.18)
}

/// The light's colour temperature and tint by shades of grey.
fn light(scene_lin: &[[f32; 3]]) -> (f64, f64) {
    let mut sums = [0.0_f64; 3];
    for pixel in scene_lin {
        for (sum, light) in sums.iter_mut().zip(pixel) {
            *sum += libm::pow(f64::from(light.max(0.0)), MINKOWSKI);
        }
    }
    let count = scene_lin.len().max(1) as f64;
    let mean = sums.map(|sum| libm::pow(sum / count, 1.0 / MINKOWSKI));
    if mean.iter().any(|m| !m.is_finite() || *m <= 0.0) {
        return (NEUTRAL_KELVIN, 0.0);
    }
    light_of(mean)
}

/// How much of a skin's colour a pixel has, 0 to 1.
fn skin_share(light: [f32; 3], to_bt709: &Mat3) -> f64 {
    let shown = to_bt709.apply(light.map(f64::from));
    let code = shown.map(|light| Curve::Srgb.encode(light.clamp(0.0, 1.0) as f32));
    f64::from(skin(Rgb::from_array(code)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_even_grey_is_brought_to_mid_grey() {
        let found = of_light(&[[0.72; 3]; 64], 1.0);
        assert_eq!(
            (found.exposure, found.kelvin, found.tint),
            (-2.0, NEUTRAL_KELVIN, 0.0)
        );
        assert_eq!(found.scene, Scene::Day);
    }

    /// Reinhard 2002: the key of a picture whose mean lies a quarter up its range is `0.18 / 2`.
    #[test]
    fn a_mostly_dark_frame_stays_darker_than_mid_grey() {
        let at = |stops: f64| [(0.18 * libm::exp2(stops)) as f32; 3];
        let mut frame = vec![at(-6.0); 700];
        frame.extend(vec![at(2.0); 300]);
        let found = of_light(&frame, 1.0);
        // Mean -3.6 in -6 ... 2: lean -0.4, key at -0.8 stops, so 2.8 more, held to 2.5.
        assert!((found.exposure - MOST_STOPS).abs() < 1e-9, "{found:?}");
        assert_eq!(found.scene, Scene::Dusk);
    }

    #[test]
    fn nothing_but_black_suggests_nothing_strange() {
        let found = of_light(&[[0.0; 3]; 9], 1.0);
        assert!(found.exposure <= MOST_STOPS && found.kelvin == NEUTRAL_KELVIN);
        assert!(of_light(&[], 1.0).exposure.is_finite());
    }
}
