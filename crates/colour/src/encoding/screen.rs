//! The screens that a picture may be made for.

use super::{Curve, DIFFUSE_WHITE, Signal, named};
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
    /// Its brightest white in cd/m2, where that is more than the picture's white card
    /// ([`super::DIFFUSE_WHITE`]); none on ordinary screens, whose white is the picture's.
    pub peak: Option<f64>,
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
    /// High dynamic range, PQ, up to 600 cd/m2.
    Pq600,
    /// High dynamic range, PQ, up to 1000 cd/m2.
    Pq1000,
    /// High dynamic range, PQ, up to 2000 cd/m2.
    Pq2000,
    /// High dynamic range, PQ, up to 4000 cd/m2.
    Pq4000,
    /// High dynamic range, HLG on a screen of 1000 cd/m2. No other peak needs a signal of its own: each screen shows this
    /// one with the gamma of its peak (ITU-R BT.2100-2, note 5f).
    Hlg1000,
}

/// A screen of ITU-R BT.2100.
const fn hdr(
    screen: ScreenId,
    id: &'static str,
    label: &'static str,
    curve: Curve,
    peak: f64,
) -> Screen {
    Screen {
        screen,
        id,
        label,
        curve,
        primaries: primaries::BT2020,
        gamut: primaries::BT2020,
        peak: Some(peak),
        stand_in: ScreenId::Rec709,
        source: "ITU-R BT.2100-2, BT.2408-7",
    }
}

const TABLE: [Screen; 12] = [
    Screen {
        screen: ScreenId::Rec709,
        id: "rec709",
        label: "Rec.709, gamma 2.4",
        curve: Curve::Bt1886,
        primaries: primaries::BT709,
        gamut: primaries::BT709,
        peak: None,
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
        peak: None,
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
        peak: None,
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
        peak: None,
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
        peak: None,
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
        peak: None,
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
        peak: None,
        stand_in: ScreenId::Rec709,
        source: "SMPTE ST 428-1, P3 within",
    },
    hdr(
        ScreenId::Pq600,
        "pq-600",
        "Rec.2100 PQ, peak 600 cd/m2",
        Curve::PqLight,
        600.0,
    ),
    hdr(
        ScreenId::Pq1000,
        "pq-1000",
        "Rec.2100 PQ, peak 1000 cd/m2",
        Curve::PqLight,
        1000.0,
    ),
    hdr(
        ScreenId::Pq2000,
        "pq-2000",
        "Rec.2100 PQ, peak 2000 cd/m2",
        Curve::PqLight,
        2000.0,
    ),
    hdr(
        ScreenId::Pq4000,
        "pq-4000",
        "Rec.2100 PQ, peak 4000 cd/m2",
        Curve::PqLight,
        4000.0,
    ),
    hdr(
        ScreenId::Hlg1000,
        "hlg-1000",
        "Rec.2100 HLG, for a screen of 1000 cd/m2",
        Curve::Hlg,
        1000.0,
    ),
];

impl ScreenId {
    /// Every screen.
    pub const ALL: [Self; 12] = [
        Self::Rec709,
        Self::Srgb,
        Self::DisplayP3,
        Self::Rec2020,
        Self::P3D65Theatre,
        Self::P3DciTheatre,
        Self::DcdmXyz,
        Self::Pq600,
        Self::Pq1000,
        Self::Pq2000,
        Self::Pq4000,
        Self::Hlg1000,
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

    /// Its brightest white by the picture's white card: 1 on ordinary screens.
    pub fn headroom(self) -> f64 {
        self.info().peak.map_or(1.0, |peak| peak / DIFFUSE_WHITE)
    }

    /// From linear RGB of the screen's gamut, 1 being the picture's white (on a screen of high
    /// dynamic range its white card), to signal and back.
    pub fn signal(self) -> Signal {
        Signal::of(self)
    }
}
