//! What a table's output is looked at on.

use lookwright_colour::encoding::{Affine, Range, ScreenId, Signal};
use lookwright_colour::error::Result;
use lookwright_colour::space::Lab;
use lookwright_colour::{Mat3, Rgb};

/// The delivery that a table is judged for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Setting {
    /// The screen that the table's output is made for.
    pub screen: ScreenId,
    /// The range of the table's output: full or legal.
    pub range: Range,
    /// Bits of the source's codes.
    pub source_bits: u32,
    /// Bits of the display.
    pub display_bits: u32,
}

impl Default for Setting {
    /// Full range on a Rec.709 screen of 8 bits, from a 10-bit source.
    fn default() -> Self {
        Self {
            screen: ScreenId::Rec709,
            range: Range::Full,
            source_bits: 10,
            display_bits: 8,
        }
    }
}

/// A setting prepared for judging colours.
pub(super) struct Judge {
    pub(super) setting: Setting,
    to_signal: Affine,
    light: Signal,
    to_xyz: Mat3,
}

impl Judge {
    /// # Errors
    /// If legal range is not defined: it is judged at 10 bits, so never.
    pub(super) fn new(setting: Setting) -> Result<Self> {
        let screen = setting.screen.info();
        let squeeze = match setting.range {
            Range::Legal => Range::Legal,
            Range::Full | Range::Expanded => Range::Full,
        }
        .from_signal(10)?;
        Ok(Self {
            setting,
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
