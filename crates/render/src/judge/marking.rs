//! What can be shown on the picture instead of it, or over it: to judge by, never saved.

use core::ops::Range;

use lookwright_colour::Rgb;
use lookwright_colour::byte::byte;
use lookwright_colour::encoding::Signal;
use lookwright_colour::space::primaries::AP1;
use lookwright_film::look::{CodeRange, Display, StageId};
use lookwright_film::path::LightPath;
use lookwright_film::spatial::Planes;

use super::hatch::{Hatch, Ink};
use super::stops_map::{REACH, STOP_COLOURS, stop_of};
use super::vectorscope::ColourDifferences;
use crate::{Job, Renderer};

/// What is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Marking {
    /// The scene's light in stops from mid-grey, as the intake gives it.
    Scene,
    /// The screen's light in stops from 18 % of its white.
    Screen,
    /// The finished picture, hatched where the screen is at its limits.
    Limits,
}

/// A sign of the key.
#[derive(Clone, Debug, PartialEq)]
pub struct Sign {
    /// What it stands for.
    pub says: String,
    /// sRGB code.
    pub colour: [u8; 3],
    /// How it is drawn.
    pub hatch: Hatch,
}

/// The signs of [`Marking::Limits`], the one that wins first: palette of Okabe and Ito (2008).
const LIMITS: [(&str, [u8; 3], Hatch); 3] = [
    ("a channel at full", [230, 159, 0], Hatch::Rising),
    ("no light at all", [86, 180, 233], Hatch::Falling),
    ("outside the gamut", [240, 228, 66], Hatch::Squares),
];

/// A channel counts as full, or as nothing, within half a step of 8 bits.
const HALF_STEP: f32 = 0.5 / 255.0;
/// Less than no light, as a share of the luminance, from which a colour counts as outside: rounding
/// stays below.
const OUTSIDE: f32 = 0.01;
/// Luminance below which no colour can be told.
const DARK: f32 = 1e-4;

/// A picture with its marks.
#[derive(Clone, Debug, PartialEq)]
pub struct Marked {
    /// sRGB bytes, or those of the screen under hatches, with alpha.
    pub rgba: Vec<u8>,
    /// Share of the picture under each sign of the key, 0 ... 1.
    pub shares: Vec<f64>,
}

impl Marking {
    /// Every one.
    pub const ALL: [Self; 3] = [Self::Scene, Self::Screen, Self::Limits];

    /// Its name in questions.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Scene => "scene-stops",
            Self::Screen => "screen-stops",
            Self::Limits => "limits",
        }
    }

    /// Its name for people.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Scene => "Scene, in stops",
            Self::Screen => "Screen, in stops",
            Self::Limits => "Clip and gamut",
        }
    }

    /// What its signs stand for.
    #[must_use]
    pub fn key(self) -> Vec<Sign> {
        if self == Self::Limits {
            let sign = |(says, colour, hatch): (&str, _, _)| Sign {
                says: says.to_owned(),
                colour,
                hatch,
            };
            return LIMITS.map(sign).into();
        }
        let signs = STOP_COLOURS.iter().enumerate();
        let sign = |(step, colour): (usize, &[u8; 3])| Sign {
            says: stop_says(step),
            colour: *colour,
            hatch: Hatch::Plain,
        };
        signs.map(sign).collect()
    }

    /// The picture with its marks; the job's stage counts for nothing.
    pub fn render(self, renderer: &mut Renderer, job: &Job) -> Marked {
        let mut at = |stage| {
            let job = Job {
                stage,
                ..job.clone()
            };
            renderer.render(&job)
        };
        match self {
            Self::Scene => {
                let weights = AP1.rgb_to_xyz().0[1].map(|v| v as f32);
                mapped(&at(StageId::Intake), |light| dot(weights, light))
            }
            Self::Screen => {
                let screen = Shown::new(&job.delivery.display);
                mapped(&at(StageId::Screen), |code| screen.luminance(code))
            }
            Self::Limits => {
                let path = LightPath::new(&job.look, &job.frame, &job.delivery);
                let screen = Shown::new(&job.delivery.display);
                let shown = at(StageId::Screen);
                // What is shown as the camera saw it never was a print's light.
                let print = (!job.look.is_bypassed()).then(|| at(StageId::Print));
                let drawn = renderer.render(&job.clone().on_canvas());
                hatched(&drawn, |i| {
                    let light = print.as_ref().map(|it| path.screen_light(pixel(it, i)));
                    screen.limit(pixel(&shown, i), light)
                })
            }
        }
    }
}

/// What a step of the stops map says.
fn stop_says(step: usize) -> String {
    let stops = step.abs_diff(REACH);
    let beyond = if stops == REACH { " and beyond" } else { "" };
    match step.cmp(&REACH) {
        core::cmp::Ordering::Less => format!("\u{2212}{stops}{beyond}"),
        core::cmp::Ordering::Equal => "grey".to_owned(),
        core::cmp::Ordering::Greater => format!("+{stops}{beyond}"),
    }
}

/// The codes of a display, read as what it shows.
struct Shown {
    signal: Signal,
    /// Signal of the screen's brightest white.
    most: f32,
    /// Code of no light, and of full.
    span: [f32; 2],
    weights: [f32; 3],
}

impl Shown {
    fn new(display: &Display) -> Self {
        let signal = display.screen.signal();
        let brightest = Rgb::grey(display.screen.headroom() as f32);
        Self {
            signal,
            most: signal.uncontained(signal.encode(brightest)).g,
            span: match display.range {
                CodeRange::Full => [0.0, 1.0],
                CodeRange::Legal => [64.0 / 1023.0, 940.0 / 1023.0],
            },
            weights: ColourDifferences::of(display.screen).luma,
        }
    }

    /// A code as the screen's signal, on the whole scale.
    fn full(&self, code: [f32; 3]) -> Rgb {
        let [none, full] = self.span;
        Rgb::from_array(code.map(|v| (v - none) / (full - none)))
    }

    /// Luminance of a code, the picture's white being 1.
    fn luminance(&self, code: [f32; 3]) -> f32 {
        let signal = self.full(code).map(|v| v.clamp(0.0, 1.0));
        dot(self.weights, self.signal.decode(signal).to_array())
    }

    /// Which of [`LIMITS`] a code is at, and the light without limits that it was made of.
    fn limit(&self, code: [f32; 3], light: Option<[f32; 3]>) -> Option<usize> {
        let code = self.signal.uncontained(self.full(code)).to_array();
        if code.iter().any(|v| *v >= self.most - HALF_STEP) {
            return Some(0);
        }
        if code.iter().all(|v| *v <= HALF_STEP) {
            return Some(1);
        }
        let light = light?;
        let luminance = dot(self.weights, light);
        let lacks = light.iter().any(|v| *v < -OUTSIDE * luminance);
        (luminance > DARK && lacks).then_some(2)
    }
}

fn dot([a, b, c]: [f32; 3], [x, y, z]: [f32; 3]) -> f32 {
    a * x + b * y + c * z
}

fn pixel(picture: &Planes, i: usize) -> [f32; 3] {
    let [red, green, blue] = &picture.planes;
    [red[i], green[i], blue[i]]
}

/// Every pixel as the colour of its stop.
fn mapped(picture: &Planes, luminance: impl Fn([f32; 3]) -> f32) -> Marked {
    let mut counts = [0; STOP_COLOURS.len()];
    let mut rgba = Vec::with_capacity(4 * picture.pixels());
    for i in all(picture) {
        let step = stop_of(luminance(pixel(picture, i)));
        counts[step] += 1;
        let [r, g, b] = STOP_COLOURS[step];
        rgba.extend([r, g, b, 255]);
    }
    Marked {
        rgba,
        shares: shares(&counts, picture),
    }
}

/// The picture, hatched where it is at a limit.
fn hatched(picture: &Planes, limit: impl Fn(usize) -> Option<usize>) -> Marked {
    let mut counts = [0; LIMITS.len()];
    let mut rgba = Vec::with_capacity(4 * picture.pixels());
    for i in all(picture) {
        let found = limit(i);
        let ink = found.map_or(Ink::Picture, |sign| {
            counts[sign] += 1;
            LIMITS[sign].2.at(i % picture.width, i / picture.width)
        });
        let [r, g, b] = match (ink, found) {
            (Ink::Colour, Some(sign)) => LIMITS[sign].1,
            (Ink::Ground, _) => [0; 3],
            _ => pixel(picture, i).map(byte),
        };
        rgba.extend([r, g, b, 255]);
    }
    Marked {
        rgba,
        shares: shares(&counts, picture),
    }
}

fn all(picture: &Planes) -> Range<usize> {
    0..picture.pixels()
}

fn shares(counts: &[u32], picture: &Planes) -> Vec<f64> {
    let pixels = picture.pixels().max(1) as f64;
    counts
        .iter()
        .map(|count| f64::from(*count) / pixels)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::encoding::{EncodingId, ScreenId};
    use lookwright_film::look::{Before, Delivery, Frame, Look, StartingStock};
    use lookwright_film::spatial::Window;

    fn job(look: Look, screen: ScreenId) -> Job {
        let mut frame = Frame::default();
        frame.source.encoding = EncodingId::AcesCg;
        let mut delivery = Delivery::default();
        delivery.display.screen = screen;
        Job {
            look,
            frame,
            delivery,
            stage: StageId::Screen,
            window: Window::whole(11, 1),
            frame_number: 0,
        }
    }

    /// Patches of light side by side.
    fn patches(light: impl Fn(usize) -> [f32; 3]) -> Planes {
        let mut picture = Planes::filled(11, 1, 0.0);
        for i in 0..11 {
            for (plane, value) in picture.planes.iter_mut().zip(light(i)) {
                plane[i] = value;
            }
        }
        picture
    }

    #[test]
    fn the_scene_is_mapped_by_powers_of_two() {
        let light = patches(|i| [0.18 * 2.0_f32.powi(i as i32 - 5); 3]);
        let job = job(Look::default(), ScreenId::Rec709);
        let marked = Marking::Scene.render(&mut Renderer::new(light), &job);
        for (i, colour) in STOP_COLOURS.iter().enumerate() {
            assert_eq!(marked.rgba[4 * i..4 * i + 3], *colour, "step {i}");
            assert!((marked.shares[i] - 1.0 / 11.0).abs() < 1e-9);
        }
    }

    /// BT.1886: a code of `(0.18 * 2^k)^(1 / 2.4)` is `k` stops from 18 % of white.
    #[test]
    fn the_screen_is_mapped_by_what_its_codes_show() {
        let shown = Shown::new(&Display::default());
        for (step, stops) in (-5_i32..=2).enumerate() {
            let code = libm::pow(0.18 * 2.0_f64.powi(stops), 1.0 / 2.4) as f32;
            assert_eq!(stop_of(shown.luminance([code; 3])), step);
        }
        let legal = Shown::new(&Display {
            range: CodeRange::Legal,
            ..Display::default()
        });
        assert!((legal.luminance([940.0 / 1023.0; 3]) - 1.0).abs() < 1e-5);
        assert_eq!(legal.limit([940.0 / 1023.0; 3], None), Some(0));
        assert_eq!(legal.limit([64.0 / 1023.0; 3], None), Some(1));
        assert_eq!(legal.limit([0.5; 3], None), None);
    }

    /// AP1's green lies outside BT.709 and, by less, outside BT.2020; a grey lies in all.
    #[test]
    fn light_outside_the_gamut_is_told_from_light_within() {
        let look = Look::starting(StartingStock::Overcast);
        for screen in ScreenId::ALL {
            let job = job(look.clone(), screen);
            let path = LightPath::new(&job.look, &job.frame, &job.delivery);
            let shown = Shown::new(&job.delivery.display);
            let limit = |light| shown.limit([0.5; 3], Some(path.screen_light(light)));
            assert_eq!(limit([0.2; 3]), None, "{screen:?}");
            assert_eq!(limit([0.0, 0.2, 0.0]), Some(2), "{screen:?}");
        }
        let light = patches(|i| [0.0, 0.18, 0.0].map(|v| v * 2.0_f32.powi(i as i32 - 5)));
        let marked =
            Marking::Limits.render(&mut Renderer::new(light), &job(look, ScreenId::Rec709));
        assert_eq!(marked.rgba.len(), 44);
        assert_eq!(marked.shares.len(), 3);
    }

    /// Without a look and cut off hard, light of 0 is no code and light over 1 is full, whatever lies between
    /// stays as it is: 18 % is code 125 of 255 by BT.1886.
    #[test]
    fn limits_are_hatched_and_the_rest_is_the_picture() {
        let mut look = Look::default();
        look.for_each_step(|step| step.set_on(false));
        let mut job = job(look, ScreenId::Rec709);
        job.delivery.display.before = Before::Hard;
        let light = patches(|i| [[0.0, 0.18, 4.0][i / 4]; 3]);
        let marked = Marking::Limits.render(&mut Renderer::new(light), &job);
        let expected = [3.0 / 11.0, 4.0 / 11.0, 0.0];
        for (found, expected) in marked.shares.iter().zip(expected) {
            assert!((found - expected).abs() < 1e-9, "{:?}", marked.shares);
        }
        let at = |x: usize| &marked.rgba[4 * x..4 * x + 3];
        assert_eq!(at(5), [125; 3]);
        assert_eq!(at(10), LIMITS[0].1, "a stripe that rises");
        assert_eq!(at(0), LIMITS[1].1, "a stripe that falls");
    }
}
