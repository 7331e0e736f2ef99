//! Scene output: the finished picture as scene light again, for a pipeline that renders for the
//! display itself.
//!
//! ```text
//! look's display light -> seen in an average room -> rendering undone -> primaries, curve
//! ```
//!
//! Such a pipeline hands a look scene code and takes scene code back; what follows is its own
//! rendering for the display, which would be put on a picture that is rendered already. So a
//! rendering is undone here: the *plain* one of finished photographs ([`Neutral`], the same that
//! un-renders photographs at the intake), or the tone scale of the Academy's. Where the pipeline's
//! rendering is the one that was undone, the look's own picture comes back: up to white exactly,
//! but for what the code holds; beyond it the inverse goes on as a straight line. The Academy's transform
//! also draws colours in, which a tone scale does not undo: greys come back exactly, colours nearly.

use super::neutral::Neutral;
use super::print::White;
use super::screen::shown_in_a_brighter_room;
use super::{DisplayLin, SceneLin};
use crate::look::{self, macros::options};
use lookwright_colour::encoding::{Curve, EncodingClass, EncodingId};
use lookwright_colour::lane::Lane;
use lookwright_colour::space::{Cat, primaries::AP1, primaries::BT709, rgb_to_rgb};
use lookwright_colour::{Error, Mat3, PixelMatrix, Result, Rgb};

options! {
    /// The rendering for the display that follows in the pipeline, and is undone.
    Rendering {
        Plain = "plain", "the plain rendering that finished photographs are taken back by";
        Aces = "aces", "the tone scale of ACES 2.0 for screens of 100 nits";
    }
}

impl Rendering {
    fn tone_scale(self) -> Neutral {
        match self {
            Self::Plain => Neutral::new(),
            Self::Aces => Neutral::of_aces(),
        }
    }
}

/// What scene code comes out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SceneCode {
    /// The code, of a camera or for work.
    pub encoding: EncodingId,
    /// What is undone.
    pub rendering: Rendering,
}

impl SceneCode {
    /// A kind of scene code.
    ///
    /// # Errors
    /// If the encoding is not one of scene light.
    pub fn new(encoding: EncodingId, rendering: Rendering) -> Result<Self> {
        match Self::takes(encoding) {
            true => Ok(Self {
                encoding,
                rendering,
            }),
            false => Err(Error::new(format!(
                "{} holds no scene light: choose a camera's log code, acescct, acescg or ap0-linear",
                encoding.info().id
            ))),
        }
    }

    /// Whether an encoding is one of scene light.
    #[must_use]
    pub fn takes(encoding: EncodingId) -> bool {
        match encoding.info().class {
            EncodingClass::Log | EncodingClass::SceneLinear => true,
            EncodingClass::Display | EncodingClass::Scan => false,
        }
    }
}

/// A scene output, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SceneOut {
    /// To the reference display's light, at the print's white, and back.
    display: [PixelMatrix; 2],
    /// The plain rendering is for an average room, the display's light for a dim one.
    average_room: bool,
    /// From the reference display's primaries to the working ones, and back.
    working: [PixelMatrix; 2],
    neutral: Neutral,
    /// From working light to the encoding's, and back.
    encoding: [PixelMatrix; 2],
    curve: Curve,
    /// Light has no largest code.
    is_light: bool,
}

impl SceneOut {
    /// From what comes out and the print, whose white is shown.
    pub fn new(code: SceneCode, print: &look::Print) -> Self {
        let (from_working, curve) = code.encoding.from_scene();
        let (_, to_working) = code.encoding.to_scene();
        let working = rgb_to_rgb(&BT709, &AP1, Cat::Bradford);
        let display = rgb_to_rgb(&AP1, &BT709, Cat::Bradford);
        let (to_white, from_white) = at_white(&print.white);
        let pair = |there: Mat3, back: Mat3| [there.for_pixels(), back.for_pixels()];
        Self {
            display: pair(to_white.after(&display), working.after(&from_white)),
            average_room: code.rendering == Rendering::Plain,
            working: pair(working, display),
            neutral: code.rendering.tone_scale(),
            encoding: pair(from_working, to_working),
            curve,
            is_light: code.encoding.info().class == EncodingClass::SceneLinear,
        }
    }

    /// Display light to scene code, 0 to 1; light of linear encodings has no limits.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, DisplayLin(display_lin): DisplayLin<L>) -> Rgb<L> {
        let mut light = self.display[0].apply(display_lin);
        if self.average_room {
            light = light.map(
                #[inline(always)]
                |x| shown_in_a_brighter_room(x),
            );
        }
        self.of_scene(SceneLin(self.neutral.undo(self.working[0].apply(light))))
    }

    /// AP1 scene light that no look was put on to scene code.
    #[inline(always)]
    pub fn of_scene<L: Lane>(&self, SceneLin(scene_lin): SceneLin<L>) -> Rgb<L> {
        self.encoding[0].apply(scene_lin).map(
            #[inline(always)]
            |light| match self.is_light {
                true => light,
                false => self.curve.encode(light).clamp_to(0.0, 1.0),
            },
        )
    }

    /// The display light that a pipeline shows of scene code whose rendering is the one that was undone.
    pub fn shown(&self, code: Rgb) -> DisplayLin {
        let scene_lin = self.encoding[1].apply(code.map(|code| self.curve.decode(code)));
        let mut light = self.working[1].apply(self.neutral.show(scene_lin));
        if self.average_room {
            light = light.map(shown_in_a_dim_room);
        }
        DisplayLin(self.display[1].apply(light))
    }
}

/// Takes the reference display's light to the print's white, no channel brighter than it was; and back.
fn at_white(settings: &look::White) -> (Mat3, Mat3) {
    let adapted = White::new(settings).map_or(Mat3::IDENTITY, |white| white.on(&BT709));
    let brightest = adapted.apply([1.0; 3]).into_iter().fold(0.0, f64::max);
    let there = Mat3::diagonal([1.0 / brightest; 3]).after(&adapted);
    (there, there.inverse().unwrap_or(Mat3::IDENTITY))
}

/// Undoes [`shown_in_a_brighter_room`].
fn shown_in_a_dim_room(light: f32) -> f32 {
    let code = Curve::Srgb.encode(light.abs());
    Curve::Bt1886.decode(code).copysign(light)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::{Delivery, Print, WhitePoint};
    use crate::path::screen::ScreenPoint;

    fn out(encoding: EncodingId, rendering: Rendering) -> SceneOut {
        let code = SceneCode::new(encoding, rendering).unwrap();
        SceneOut::new(code, &Print::default())
    }

    /// Scene light and display light of greys through the Academy's SDR output transform, of 100 nits:
    /// `ACES-OUTPUT - ACES2065-1_to_CIE-XYZ-D65 - SDR-100nit-REC709_2.0` of OpenColorIO 2.6.0.
    #[test]
    fn greys_are_the_light_that_the_academy_s_rendering_shows_as_them() {
        let out = out(EncodingId::AcesCg, Rendering::Aces);
        for (scene_lin, shown) in [
            (0.01_f32, 7.122_798e-4_f32),
            (0.18, 0.099_999_31),
            (0.9, 0.429_097_62),
            (2.88, 0.723_301_35),
            (16.0, 0.943_475),
        ] {
            for found in out.apply(DisplayLin(Rgb::grey(shown))).to_array() {
                assert!(
                    (found / scene_lin - 1.0).abs() < 2e-3,
                    "{found} {scene_lin}"
                );
            }
        }
    }

    /// ACEScct has mid-grey at 0.4135884 (S-2016-001); LogC3 at 0.391007 (ARRI, 2017).
    #[test]
    fn the_film_s_mid_grey_is_the_code_s() {
        let grey =
            crate::path::scan::code::grey_code() / f64::from(crate::path::scan::code::CODE_MAX);
        let light = DisplayLin(Rgb::grey(Curve::Bt1886.decode(grey as f32)));
        for (encoding, expected) in [
            (EncodingId::AcesCct, 0.413_588_4_f32),
            (EncodingId::LogC3, 0.391_007),
        ] {
            let found = out(encoding, Rendering::Plain).apply(light).g;
            assert!((found - expected).abs() < 1e-4, "{encoding:?} {found}");
        }
    }

    #[test]
    fn what_the_pipeline_shows_is_the_look_s_picture() {
        let mut print = Print::default();
        print.white.white = WhitePoint::D55;
        print.white.on = true;
        let screen = ScreenPoint::new(&Delivery::default(), &print);
        for encoding in [
            EncodingId::AcesCct,
            EncodingId::LogC3,
            EncodingId::VLog,
            EncodingId::Ap0Linear,
        ] {
            for rendering in [Rendering::Plain, Rendering::Aces] {
                let out = SceneOut::new(SceneCode::new(encoding, rendering).unwrap(), &print);
                for i in 0..1000 {
                    // Inside Rec.709, black and 95 % white among them.
                    let part = |by: usize| (i / by % 10) as f32 / 9.0 * 0.9;
                    let to_ap1 = rgb_to_rgb(&BT709, &AP1, Cat::Bradford).for_pixels();
                    let light = DisplayLin(to_ap1.apply(Rgb::new(part(1), part(10), part(100))));
                    let direct = screen.apply(light).0.to_array();
                    let again = screen.apply(out.shown(out.apply(light))).0.to_array();
                    for (a, b) in again.into_iter().zip(direct) {
                        assert!(
                            (a - b).abs() < 1e-3,
                            "{encoding:?} {rendering:?} {i}: {again:?} {direct:?}"
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn code_rises_with_light_and_stays_finite_for_any() {
        let out = out(EncodingId::LogC4, Rendering::Plain);
        let mut last = -1.0;
        for i in 0..=1200 {
            let code = out.apply(DisplayLin(Rgb::grey(i as f32 / 1000.0))).g;
            assert!(code >= last && code <= 1.0, "{i} {code}");
            last = code;
        }
        for light in [-1e4, 0.0, 1e4, f32::MAX] {
            let code = out
                .apply(DisplayLin(Rgb::new(light, 0.0, -light)))
                .to_array();
            assert!(code.iter().all(|c| (0.0..=1.0).contains(c)), "{code:?}");
        }
    }

    #[test]
    fn a_finished_picture_s_code_is_refused() {
        for (encoding, word) in [(EncodingId::Srgb, "srgb"), (EncodingId::Adx10, "adx10")] {
            let refusal = SceneCode::new(encoding, Rendering::Plain).unwrap_err();
            assert!(refusal.message().starts_with(word), "{refusal:?}");
        }
    }
}
