//! The screens that a picture may be made for.

use super::{Curve, EncodingId, named};
use crate::space::{Cat, Primaries, primaries, rgb_to_rgb};
use crate::{Mat3, Result};

/// What a screen is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screen {
    /// Which screen this is.
    pub screen: ScreenId,
    /// Its name in files and options.
    pub id: &'static str,
    /// Its name for people.
    pub label: &'static str,
    /// From the screen's light to its signal.
    pub curve: Curve,
    /// Its primaries and white.
    pub primaries: Primaries,
    /// Where these are from.
    pub source: &'static str,
}

/// A screen by name.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum ScreenId {
    /// Television, gamma 2.4.
    #[default]
    Rec709,
    /// Computer screens.
    Srgb,
    /// Wide-gamut computer screens and phones.
    DisplayP3,
    /// Ultra-high-definition television, gamma 2.4.
    Rec2020,
}

const TABLE: [Screen; 4] = [
    Screen {
        screen: ScreenId::Rec709,
        id: "rec709",
        label: "Rec.709, gamma 2.4",
        curve: Curve::Bt1886,
        primaries: primaries::BT709,
        source: "ITU-R BT.709-6, BT.1886",
    },
    Screen {
        screen: ScreenId::Srgb,
        id: "srgb",
        label: "sRGB",
        curve: Curve::Srgb,
        primaries: primaries::BT709,
        source: "IEC 61966-2-1:1999",
    },
    Screen {
        screen: ScreenId::DisplayP3,
        id: "display-p3",
        label: "Display P3",
        curve: Curve::Srgb,
        primaries: primaries::DISPLAY_P3,
        source: "SMPTE EG 432-1 primaries, IEC 61966-2-1 curve",
    },
    Screen {
        screen: ScreenId::Rec2020,
        id: "rec2020",
        label: "Rec.2020, gamma 2.4",
        curve: Curve::Bt1886,
        primaries: primaries::BT2020,
        source: "ITU-R BT.2020-2, BT.1886",
    },
];

impl ScreenId {
    /// Every screen.
    pub const ALL: [Self; 4] = [Self::Rec709, Self::Srgb, Self::DisplayP3, Self::Rec2020];

    /// What this screen is.
    pub const fn info(self) -> &'static Screen {
        &TABLE[self as usize]
    }

    /// Its name in files and options.
    pub const fn id(self) -> &'static str {
        self.info().id
    }

    /// Its signal as an encoding that pictures come in.
    pub const fn encoding(self) -> EncodingId {
        match self {
            Self::Rec709 => EncodingId::Rec709,
            Self::Srgb => EncodingId::Srgb,
            Self::DisplayP3 => EncodingId::DisplayP3,
            Self::Rec2020 => EncodingId::Rec2020,
        }
    }

    /// The screen with this name.
    ///
    /// # Errors
    /// If there is none; the sentence lists the names there are.
    pub fn parse(id: &str) -> Result<Self> {
        named("screen", id, &Self::ALL, Self::id)
    }

    /// From linear AP1 to the screen's linear RGB (Bradford to its white), and then to signal.
    pub fn from_working(self) -> (Mat3, Curve) {
        let screen = self.info();
        let matrix = rgb_to_rgb(&primaries::AP1, &screen.primaries, Cat::Bradford);
        (matrix, screen.curve)
    }
}
