//! The screens that a picture may be made for.

use super::{Curve, Signal, named};
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
    /// From the light of its codes to its signal, channel by channel; [`ScreenId::signal`] has the whole.
    pub curve: Curve,
    /// The primaries of its codes, and the white that equal codes show.
    pub primaries: Primaries,
    /// What pictures are brought into, and their white. Another than the codes' where the codes are a
    /// container for it.
    pub gamut: Primaries,
    /// The screen that stands for it where plain pictures are shown, as on a page: the same look in
    /// codes that such a picture can hold. Most stand for themselves.
    pub stand_in: ScreenId,
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
    /// P3 in a theatre, white D65, gamma 2.6.
    P3D65Theatre,
    /// P3 in a theatre, the theatre's own white, gamma 2.6.
    P3DciTheatre,
    /// The X'Y'Z' codes of digital cinema.
    DcdmXyz,
}

const TABLE: [Screen; 7] = [
    Screen {
        screen: ScreenId::Rec709,
        id: "rec709",
        label: "Rec.709, gamma 2.4",
        curve: Curve::Bt1886,
        primaries: primaries::BT709,
        gamut: primaries::BT709,
        stand_in: ScreenId::Rec709,
        source: "ITU-R BT.709-6, BT.1886",
    },
    Screen {
        screen: ScreenId::Srgb,
        id: "srgb",
        label: "sRGB",
        curve: Curve::Srgb,
        primaries: primaries::BT709,
        gamut: primaries::BT709,
        stand_in: ScreenId::Srgb,
        source: "IEC 61966-2-1:1999",
    },
    Screen {
        screen: ScreenId::DisplayP3,
        id: "display-p3",
        label: "Display P3",
        curve: Curve::Srgb,
        primaries: primaries::DISPLAY_P3,
        gamut: primaries::DISPLAY_P3,
        stand_in: ScreenId::DisplayP3,
        source: "SMPTE EG 432-1 primaries, IEC 61966-2-1 curve",
    },
    Screen {
        screen: ScreenId::Rec2020,
        id: "rec2020",
        label: "Rec.2020, gamma 2.4",
        curve: Curve::Bt1886,
        primaries: primaries::BT2020,
        gamut: primaries::BT2020,
        stand_in: ScreenId::Rec2020,
        source: "ITU-R BT.2020-2, BT.1886",
    },
    Screen {
        screen: ScreenId::P3D65Theatre,
        id: "p3-d65-theatre",
        label: "P3 D65 theatre, gamma 2.6",
        curve: Curve::Gamma26,
        primaries: primaries::DISPLAY_P3,
        gamut: primaries::DISPLAY_P3,
        stand_in: ScreenId::Rec709,
        source: "SMPTE RP 431-2 primaries and gamma, white D65",
    },
    Screen {
        screen: ScreenId::P3DciTheatre,
        id: "p3-dci-theatre",
        label: "P3 DCI theatre, gamma 2.6, picture white D65",
        curve: Curve::Gamma26,
        primaries: primaries::DCI_P3,
        gamut: primaries::DISPLAY_P3,
        stand_in: ScreenId::Rec709,
        source: "SMPTE RP 431-2",
    },
    Screen {
        screen: ScreenId::DcdmXyz,
        id: "dcdm-xyz",
        label: "DCDM X'Y'Z', picture white D65 at 48 cd/m2",
        curve: Curve::Gamma26,
        primaries: primaries::XYZ,
        gamut: primaries::DISPLAY_P3,
        stand_in: ScreenId::Rec709,
        source: "SMPTE ST 428-1, P3 within",
    },
];

impl ScreenId {
    /// Every screen.
    pub const ALL: [Self; 7] = [
        Self::Rec709,
        Self::Srgb,
        Self::DisplayP3,
        Self::Rec2020,
        Self::P3D65Theatre,
        Self::P3DciTheatre,
        Self::DcdmXyz,
    ];

    /// What this screen is.
    pub const fn info(self) -> &'static Screen {
        &TABLE[self as usize]
    }

    /// Its name in files and options.
    pub const fn id(self) -> &'static str {
        self.info().id
    }

    /// The screen with this name.
    ///
    /// # Errors
    /// If there is none; the sentence lists the names there are.
    pub fn parse(id: &str) -> Result<Self> {
        named("screen", id, &Self::ALL, Self::id)
    }

    /// Linear AP1 to the linear RGB of the screen's gamut (Bradford to its white).
    pub fn from_working(self) -> Mat3 {
        rgb_to_rgb(&primaries::AP1, &self.info().gamut, Cat::Bradford)
    }

    /// From linear RGB of the screen's gamut, 1 being the picture's white, to signal and back.
    pub fn signal(self) -> Signal {
        Signal::of(self)
    }
}
