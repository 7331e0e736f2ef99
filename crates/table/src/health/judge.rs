//! What a table's output is looked at on.

use super::surface::is_surface;
use crate::Shaper;
use lookwright_colour::encoding::{
    Affine, Curve, EncodingClass, EncodingId, Range, ScreenId, Signal,
};
use lookwright_colour::error::Result;
use lookwright_colour::space::{Lab, Primaries};
use lookwright_colour::{Mat3, Rgb};

/// The delivery that a table is judged for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// The screen that the table's output is made for.
    pub screen: ScreenId,
    /// The range of the table's output: full or legal.
    pub range: Range,
    /// Bits of the source's codes.
    pub source_bits: u32,
    /// Bits of the display.
    pub display_bits: u32,
    /// What goes in, if that is known, and how its codes fill the scale.
    pub source: Option<(EncodingId, Range)>,
    /// Where scene light goes in: the shaper behind which the lattice stands, if that is known.
    pub shaper: Option<Shaper>,
    /// Whether screen and range are what the table or its user says, not merely taken as likely.
    pub said: bool,
}

impl Default for Setting {
    /// Full range on a Rec.709 screen of 8 bits, from a 10-bit source.
    fn default() -> Self {
        Self {
            screen: ScreenId::Rec709,
            range: Range::Full,
            source_bits: 10,
            display_bits: 8,
            source: None,
            shaper: None,
            said: false,
        }
    }
}

/// Lightness (CIELAB) of black velvet: reflectance 0.5 %, from memory.
pub(super) const BLACK_VELVET: f64 = 4.5;

/// A setting prepared for judging colours.
pub(super) struct Judge {
    pub(super) setting: Setting,
    /// What goes in, where it is code of light: not of a scan, nor light itself.
    pub(super) source: Option<Source>,
    to_signal: Affine,
    light: Signal,
    to_xyz: Mat3,
}

impl Judge {
    /// # Errors
    /// If light is said to come in another range than full.
    pub(super) fn new(setting: Setting) -> Result<Self> {
        let screen = setting.screen.info();
        let squeeze = match setting.range {
            Range::Legal => Range::Legal,
            Range::Full | Range::Expanded => Range::Full,
        }
        .from_signal(10)?;
        Ok(Self {
            setting,
            source: match setting.source {
                Some((encoding, range)) => Source::new(encoding, range, setting.shaper)?,
                None => None,
            },
            to_signal: Affine {
                gain: 1.0 / squeeze.gain,
                offset: -squeeze.offset / squeeze.gain,
            },
            light: setting.screen.signal(),
            to_xyz: screen.gamut.rgb_to_xyz(),
        })
    }

    /// Table output to the screen's signal, 0 ... 1 between black and white.
    pub(super) fn signal(&self, out: [f32; 3]) -> [f32; 3] {
        out.map(|v| self.to_signal.apply(v))
    }

    /// The colour that the screen shows, relative to the picture's white.
    pub(super) fn lab(&self, out: [f32; 3]) -> Lab {
        let shown = self.signal(out).map(|v| v.clamp(0.0, 1.0));
        let light = self.light.decode(Rgb::from_array(shown));
        let xyz = self.to_xyz.apply(light.to_array().map(f64::from));
        Lab::from_xyz(xyz, self.setting.screen.info().gamut.white())
    }
}

/// An encoding that goes in, prepared for judging colours.
pub(super) struct Source {
    pub(super) label: &'static str,
    pub(super) class: EncodingClass,
    to_code: Affine,
    curve: Curve,
    shaper: Option<Shaper>,
    primaries: Primaries,
    to_xyz: Mat3,
}

impl Source {
    /// None for scans, which are no pictures yet, and for light whose shaper is not known.
    fn new(encoding: EncodingId, range: Range, shaper: Option<Shaper>) -> Result<Option<Self>> {
        let info = encoding.info();
        let is_light = info.class == EncodingClass::SceneLinear;
        if info.class == EncodingClass::Scan || (is_light && shaper.is_none()) {
            return Ok(None);
        }
        Ok(Some(Self {
            label: info.label,
            class: info.class,
            to_code: range.to_code(info.class, 10)?,
            curve: info.curve,
            shaper: shaper.filter(|_| is_light),
            primaries: info.primaries,
            to_xyz: info.primaries.rgb_to_xyz(),
        }))
    }

    /// The colour that an input is of: the scene's, white paper at 100, or the screen's.
    pub(super) fn lab(&self, input: [f32; 3]) -> Lab {
        Lab::from_xyz(self.to_xyz.apply(self.light(input)), self.primaries.white())
    }

    fn light(&self, input: [f32; 3]) -> [f64; 3] {
        input.map(|v| {
            f64::from(match &self.shaper {
                Some(shaper) => shaper.decode(v),
                None => self.curve.decode(self.to_code.apply(v)),
            })
        })
    }

    /// Whether a surface may have the colour: no brighter than white paper, not darker than black velvet, and no
    /// stronger than pigments are. What else a camera records are lamps, or lights that nothing gives.
    pub(super) fn is_surface(&self, input: [f32; 3]) -> bool {
        let colour = self.lab(input);
        colour.l >= BLACK_VELVET && is_surface(colour)
    }

    /// The input that a grey of this reflectance has.
    pub(super) fn grey_code(&self, reflectance: f64) -> f32 {
        let light = reflectance as f32;
        match &self.shaper {
            Some(shaper) => shaper.encode(light),
            None => (self.curve.encode(light) - self.to_code.offset) / self.to_code.gain,
        }
    }
}
