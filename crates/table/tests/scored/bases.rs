//! Good tables that mistakes are made in, at any size.

use lookwright_colour::Rgb;
use lookwright_colour::encoding::{EncodingId, Range, ScreenId};
use lookwright_colour::space::{Cat, rgb_to_rgb};
use lookwright_table::Grid3;
use lookwright_table::health::Setting;

use super::report::Half;

/// What a base does between the encoding that goes in and the screen.
#[derive(Clone, Copy)]
pub enum Kind {
    /// Scene light through a shoulder.
    Rendered,
    /// A picture made a little paler and warmer.
    Graded,
}

pub struct Base {
    pub name: &'static str,
    pub half: Half,
    pub encoding: EncodingId,
    pub screen: ScreenId,
    kind: Kind,
    size: usize,
}

/// Log and display, three sizes in each half.
pub const BASES: [Base; 10] = {
    use EncodingId::{
        AcesCct, DisplayP3, FLog2, LogC3, LogC4, Rec709, SLog3SGamut3Cine, Srgb, VLog,
    };
    use Kind::{Graded, Rendered};
    const fn base(
        name: &'static str,
        half: Half,
        encoding: EncodingId,
        screen: ScreenId,
        kind: Kind,
        size: usize,
    ) -> Base {
        Base {
            name,
            half,
            encoding,
            screen,
            kind,
            size,
        }
    }
    [
        base(
            "LogC3 to Rec.709, 17",
            Half::Tuning,
            LogC3,
            ScreenId::Rec709,
            Rendered,
            17,
        ),
        base(
            "V-Log to Rec.709, 33",
            Half::Tuning,
            VLog,
            ScreenId::Rec709,
            Rendered,
            33,
        ),
        base(
            "LogC4 to sRGB, 65",
            Half::Tuning,
            LogC4,
            ScreenId::Srgb,
            Rendered,
            65,
        ),
        base(
            "Rec.709 graded, 33",
            Half::Tuning,
            Rec709,
            ScreenId::Rec709,
            Graded,
            33,
        ),
        base(
            "Display P3 to sRGB, 17",
            Half::Tuning,
            DisplayP3,
            ScreenId::Srgb,
            Graded,
            17,
        ),
        base(
            "F-Log2 to Rec.709, 17",
            Half::Held,
            FLog2,
            ScreenId::Rec709,
            Rendered,
            17,
        ),
        base(
            "S-Log3 to Rec.709, 33",
            Half::Held,
            SLog3SGamut3Cine,
            ScreenId::Rec709,
            Rendered,
            33,
        ),
        base(
            "ACEScct to Display P3, 65",
            Half::Held,
            AcesCct,
            ScreenId::DisplayP3,
            Rendered,
            65,
        ),
        base(
            "sRGB graded, 33",
            Half::Held,
            Srgb,
            ScreenId::Srgb,
            Graded,
            33,
        ),
        base(
            "sRGB to Rec.2020, 17",
            Half::Held,
            Srgb,
            ScreenId::Rec2020,
            Graded,
            17,
        ),
    ]
};

impl Base {
    pub fn setting(&self) -> Setting {
        Setting {
            source: Some((self.encoding, Range::Full)),
            screen: self.screen,
            said: true,
            ..Setting::default()
        }
    }

    pub fn is_log(&self) -> bool {
        matches!(self.kind, Kind::Rendered)
    }

    pub fn grid(&self) -> Grid3 {
        Grid3::sample_codes(self.size, |code| self.at(code)).unwrap()
    }

    pub fn at(&self, code: [f32; 3]) -> [f32; 3] {
        let (from, to) = (self.encoding.info(), self.screen.info());
        let light = code.map(|v| f64::from(from.curve.decode(v)));
        let [r, g, b] = rgb_to_rgb(&from.primaries, &to.gamut, Cat::Bradford).apply(light);
        let shown = match self.kind {
            // Reinhard et al. 2002: x (1 + x / w^2) / (1 + x), white at 8.
            Kind::Rendered => [r, g, b].map(|x| {
                let x = (2.0 * x).max(0.0);
                (x * (1.0 + x / 64.0) / (1.0 + x)).min(1.0)
            }),
            Kind::Graded => {
                let grey = 0.2126 * r + 0.7152 * g + 0.0722 * b;
                let paler = [r, g, b].map(|v| (grey + 0.9 * (v - grey)).clamp(0.0, 1.0));
                [paler[0], 0.98 * paler[1], 0.95 * paler[2]]
            }
        };
        let shown = Rgb::from_array(shown.map(|v| v as f32));
        self.screen.signal().encode(shown).to_array()
    }
}
