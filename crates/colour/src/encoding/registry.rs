//! The encodings that a picture may come in.
//!
//! One row each in [`TABLE`]: to add an encoding, add its curve, its primaries, a name and a row.
//! White is that of the primaries. The adaptation is the one of the published transform to ACES:
//! CAT02 for the makers who use it, Bradford for all others.

use super::{Curve, ExposureIndex, named};
use crate::space::{Cat, Primaries, primaries, rgb_to_rgb};
use crate::{Mat3, Result};

/// What kind of light an encoding's codes stand for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EncodingClass {
    /// Scene light on a curve of its own: camera footage, pictures in ACEScct and ACEScc, HLG and PQ.
    Log,
    /// Scene light as it is.
    SceneLinear,
    /// A picture made for a screen: nothing in it is brighter than the screen's white, and its
    /// linear values are the screen's light, not the scene's.
    Display,
}

/// What an encoding is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Encoding {
    /// Which encoding this is.
    pub encoding: EncodingId,
    /// Its name in files and options.
    pub id: &'static str,
    /// Its name for people.
    pub label: &'static str,
    /// Its transfer curve.
    pub curve: Curve,
    /// Its primaries and white.
    pub primaries: Primaries,
    /// How its white is adapted to that of the working space.
    pub cat: Cat,
    /// What kind of light its codes stand for.
    pub class: EncodingClass,
    /// Where curve and primaries are from.
    pub source: &'static str,
}

/// An encoding by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EncodingId {
    /// LogC3 at EI 800, ARRI Wide Gamut 3.
    LogC3,
    /// LogC3 at EI 160, ARRI Wide Gamut 3.
    LogC3Ei160,
    /// LogC3 at EI 200, ARRI Wide Gamut 3.
    LogC3Ei200,
    /// LogC3 at EI 250, ARRI Wide Gamut 3.
    LogC3Ei250,
    /// LogC3 at EI 320, ARRI Wide Gamut 3.
    LogC3Ei320,
    /// LogC3 at EI 400, ARRI Wide Gamut 3.
    LogC3Ei400,
    /// LogC3 at EI 500, ARRI Wide Gamut 3.
    LogC3Ei500,
    /// LogC3 at EI 640, ARRI Wide Gamut 3.
    LogC3Ei640,
    /// LogC3 at EI 1000, ARRI Wide Gamut 3.
    LogC3Ei1000,
    /// LogC3 at EI 1280, ARRI Wide Gamut 3.
    LogC3Ei1280,
    /// LogC3 at EI 1600, ARRI Wide Gamut 3.
    LogC3Ei1600,
    /// LogC4, ARRI Wide Gamut 4.
    LogC4,
    /// S-Log2, S-Gamut.
    SLog2SGamut,
    /// S-Log3, S-Gamut3.
    SLog3SGamut3,
    /// S-Log3, S-Gamut3.Cine.
    SLog3SGamut3Cine,
    /// S-Log3, S-Gamut3 of VENICE cameras.
    SLog3SGamut3Venice,
    /// S-Log3, S-Gamut3.Cine of VENICE cameras.
    SLog3SGamut3CineVenice,
    /// V-Log, V-Gamut.
    VLog,
    /// Canon Log, Cinema Gamut.
    CanonLog,
    /// Canon Log 2, Cinema Gamut.
    CanonLog2,
    /// Canon Log 3, Cinema Gamut.
    CanonLog3,
    /// F-Log, F-Gamut.
    FLog,
    /// F-Log2, F-Gamut.
    FLog2,
    /// F-Log2 C, F-Gamut C.
    FLog2C,
    /// N-Log, N-Gamut.
    NLog,
    /// L-Log, Rec.2020 primaries.
    LLog,
    /// Log3G10, REDWideGamutRGB.
    Log3G10,
    /// REDLogFilm, REDWideGamutRGB.
    RedLogFilm,
    /// Blackmagic Film Generation 5, Blackmagic Wide Gamut.
    BlackmagicFilm5,
    /// Apple Log, Rec.2020 primaries.
    AppleLog,
    /// Apple Log 2, Apple Wide Gamut.
    AppleLog2,
    /// Mi-Log, Rec.2020 primaries.
    MiLog,
    /// D-Log, D-Gamut.
    DLog,
    /// ACEScct.
    AcesCct,
    /// ACEScc.
    AcesCc,
    /// Hybrid log-gamma, Rec.2020 primaries.
    Hlg,
    /// Perceptual quantisation, Rec.2020 primaries.
    Pq,
    /// ACEScg (linear, AP1).
    AcesCg,
    /// ACES2065-1 (linear, AP0).
    Ap0Linear,
    /// Linear, Rec.709 primaries.
    SrgbLinear,
    /// Linear, Rec.2020 primaries.
    Rec2020Linear,
    /// sRGB.
    Srgb,
    /// Display P3.
    DisplayP3,
    /// Rec.709, gamma 2.4.
    Rec709,
    /// Rec.2020, gamma 2.4.
    Rec2020,
    /// A finished picture in a space of its own, brought to linear AP0.
    DisplayAp0,
}

const TABLE: [Encoding; 46] = [
    Encoding {
        encoding: EncodingId::LogC3,
        id: "logc3",
        label: "LogC3 (EI 800), ARRI Wide Gamut 3",
        curve: Curve::LogC3(ExposureIndex::Ei800),
        primaries: primaries::ARRI_WIDE_GAMUT_3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "ARRI, Log C Curve - Usage in VFX, 2012",
    },
    Encoding {
        encoding: EncodingId::LogC3Ei160,
        id: "logc3-ei160",
        label: "LogC3 (EI 160), ARRI Wide Gamut 3",
        curve: Curve::LogC3(ExposureIndex::Ei160),
        primaries: primaries::ARRI_WIDE_GAMUT_3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "ARRI, Log C Curve - Usage in VFX, 2012",
    },
    Encoding {
        encoding: EncodingId::LogC3Ei200,
        id: "logc3-ei200",
        label: "LogC3 (EI 200), ARRI Wide Gamut 3",
        curve: Curve::LogC3(ExposureIndex::Ei200),
        primaries: primaries::ARRI_WIDE_GAMUT_3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "ARRI, Log C Curve - Usage in VFX, 2012",
    },
    Encoding {
        encoding: EncodingId::LogC3Ei250,
        id: "logc3-ei250",
        label: "LogC3 (EI 250), ARRI Wide Gamut 3",
        curve: Curve::LogC3(ExposureIndex::Ei250),
        primaries: primaries::ARRI_WIDE_GAMUT_3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "ARRI, Log C Curve - Usage in VFX, 2012",
    },
    Encoding {
        encoding: EncodingId::LogC3Ei320,
        id: "logc3-ei320",
        label: "LogC3 (EI 320), ARRI Wide Gamut 3",
        curve: Curve::LogC3(ExposureIndex::Ei320),
        primaries: primaries::ARRI_WIDE_GAMUT_3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "ARRI, Log C Curve - Usage in VFX, 2012",
    },
    Encoding {
        encoding: EncodingId::LogC3Ei400,
        id: "logc3-ei400",
        label: "LogC3 (EI 400), ARRI Wide Gamut 3",
        curve: Curve::LogC3(ExposureIndex::Ei400),
        primaries: primaries::ARRI_WIDE_GAMUT_3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "ARRI, Log C Curve - Usage in VFX, 2012",
    },
    Encoding {
        encoding: EncodingId::LogC3Ei500,
        id: "logc3-ei500",
        label: "LogC3 (EI 500), ARRI Wide Gamut 3",
        curve: Curve::LogC3(ExposureIndex::Ei500),
        primaries: primaries::ARRI_WIDE_GAMUT_3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "ARRI, Log C Curve - Usage in VFX, 2012",
    },
    Encoding {
        encoding: EncodingId::LogC3Ei640,
        id: "logc3-ei640",
        label: "LogC3 (EI 640), ARRI Wide Gamut 3",
        curve: Curve::LogC3(ExposureIndex::Ei640),
        primaries: primaries::ARRI_WIDE_GAMUT_3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "ARRI, Log C Curve - Usage in VFX, 2012",
    },
    Encoding {
        encoding: EncodingId::LogC3Ei1000,
        id: "logc3-ei1000",
        label: "LogC3 (EI 1000), ARRI Wide Gamut 3",
        curve: Curve::LogC3(ExposureIndex::Ei1000),
        primaries: primaries::ARRI_WIDE_GAMUT_3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "ARRI, Log C Curve - Usage in VFX, 2012",
    },
    Encoding {
        encoding: EncodingId::LogC3Ei1280,
        id: "logc3-ei1280",
        label: "LogC3 (EI 1280), ARRI Wide Gamut 3",
        curve: Curve::LogC3(ExposureIndex::Ei1280),
        primaries: primaries::ARRI_WIDE_GAMUT_3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "ARRI, Log C Curve - Usage in VFX, 2012",
    },
    Encoding {
        encoding: EncodingId::LogC3Ei1600,
        id: "logc3-ei1600",
        label: "LogC3 (EI 1600), ARRI Wide Gamut 3",
        curve: Curve::LogC3(ExposureIndex::Ei1600),
        primaries: primaries::ARRI_WIDE_GAMUT_3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "ARRI, Log C Curve - Usage in VFX, 2012",
    },
    Encoding {
        encoding: EncodingId::LogC4,
        id: "logc4",
        label: "LogC4, ARRI Wide Gamut 4",
        curve: Curve::LogC4,
        primaries: primaries::ARRI_WIDE_GAMUT_4,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "ARRI, LogC4 specification, 2022",
    },
    Encoding {
        encoding: EncodingId::SLog2SGamut,
        id: "slog2-sgamut",
        label: "S-Log2, S-Gamut",
        curve: Curve::SLog2,
        primaries: primaries::S_GAMUT3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "Sony, S-Log2 and S-Gamut, 2012",
    },
    Encoding {
        encoding: EncodingId::SLog3SGamut3,
        id: "slog3-sgamut3",
        label: "S-Log3, S-Gamut3",
        curve: Curve::SLog3,
        primaries: primaries::S_GAMUT3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "Sony, Technical Summary for S-Gamut3.Cine/S-Log3, 2013",
    },
    Encoding {
        encoding: EncodingId::SLog3SGamut3Cine,
        id: "slog3-sgamut3cine",
        label: "S-Log3, S-Gamut3.Cine",
        curve: Curve::SLog3,
        primaries: primaries::S_GAMUT3_CINE,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "Sony, Technical Summary for S-Gamut3.Cine/S-Log3, 2013",
    },
    Encoding {
        encoding: EncodingId::SLog3SGamut3Venice,
        id: "slog3-sgamut3-venice",
        label: "S-Log3, S-Gamut3 of VENICE",
        curve: Curve::SLog3,
        primaries: primaries::VENICE_S_GAMUT3,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "Sony, transforms to ACES for VENICE, 2018",
    },
    Encoding {
        encoding: EncodingId::SLog3SGamut3CineVenice,
        id: "slog3-sgamut3cine-venice",
        label: "S-Log3, S-Gamut3.Cine of VENICE",
        curve: Curve::SLog3,
        primaries: primaries::VENICE_S_GAMUT3_CINE,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "Sony, transforms to ACES for VENICE, 2018",
    },
    Encoding {
        encoding: EncodingId::VLog,
        id: "vlog",
        label: "V-Log, V-Gamut",
        curve: Curve::VLog,
        primaries: primaries::V_GAMUT,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "Panasonic, V-Log/V-Gamut Reference Manual, 2014",
    },
    Encoding {
        encoding: EncodingId::CanonLog,
        id: "clog",
        label: "Canon Log, Cinema Gamut",
        curve: Curve::CanonLog,
        primaries: primaries::CINEMA_GAMUT,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "Canon, input transforms of July 2020",
    },
    Encoding {
        encoding: EncodingId::CanonLog2,
        id: "clog2",
        label: "Canon Log 2, Cinema Gamut",
        curve: Curve::CanonLog2,
        primaries: primaries::CINEMA_GAMUT,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "Canon, input transforms of July 2020",
    },
    Encoding {
        encoding: EncodingId::CanonLog3,
        id: "clog3",
        label: "Canon Log 3, Cinema Gamut",
        curve: Curve::CanonLog3,
        primaries: primaries::CINEMA_GAMUT,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "Canon, input transforms of July 2020",
    },
    Encoding {
        encoding: EncodingId::FLog,
        id: "flog",
        label: "F-Log, F-Gamut",
        curve: Curve::FLog,
        primaries: primaries::BT2020,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "Fujifilm, F-Log Data Sheet, 2022",
    },
    Encoding {
        encoding: EncodingId::FLog2,
        id: "flog2",
        label: "F-Log2, F-Gamut",
        curve: Curve::FLog2,
        primaries: primaries::BT2020,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "Fujifilm, F-Log2 Data Sheet, 2022",
    },
    Encoding {
        encoding: EncodingId::FLog2C,
        id: "flog2c",
        label: "F-Log2 C, F-Gamut C",
        curve: Curve::FLog2,
        primaries: primaries::F_GAMUT_C,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "Fujifilm, F-Log2 C Data Sheet, 2024",
    },
    Encoding {
        encoding: EncodingId::NLog,
        id: "nlog",
        label: "N-Log, N-Gamut",
        curve: Curve::NLog,
        primaries: primaries::BT2020,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "Nikon, N-Log Specification, 2018",
    },
    Encoding {
        encoding: EncodingId::LLog,
        id: "llog",
        label: "L-Log, Rec.2020 primaries",
        curve: Curve::LLog,
        primaries: primaries::BT2020,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "Leica, L-Log Reference Manual, 2022",
    },
    Encoding {
        encoding: EncodingId::Log3G10,
        id: "log3g10",
        label: "Log3G10, REDWideGamutRGB",
        curve: Curve::Log3G10,
        primaries: primaries::RED_WIDE_GAMUT,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "RED, REDWideGamutRGB and Log3G10, 2017",
    },
    Encoding {
        encoding: EncodingId::RedLogFilm,
        id: "redlogfilm",
        label: "REDLogFilm, REDWideGamutRGB",
        curve: Curve::FilmScan,
        primaries: primaries::RED_WIDE_GAMUT,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "RED, transforms of 2017; the curve is that of film scans",
    },
    Encoding {
        encoding: EncodingId::BlackmagicFilm5,
        id: "bmdfilm5",
        label: "Blackmagic Film Generation 5, Blackmagic Wide Gamut",
        curve: Curve::Film5,
        primaries: primaries::BLACKMAGIC_WIDE_GAMUT,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "Blackmagic Design, Generation 5 Color Science, 2021",
    },
    Encoding {
        encoding: EncodingId::AppleLog,
        id: "applelog",
        label: "Apple Log, Rec.2020 primaries",
        curve: Curve::AppleLog,
        primaries: primaries::BT2020,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "Apple, Apple Log Profile white paper, 2023",
    },
    Encoding {
        encoding: EncodingId::AppleLog2,
        id: "applelog2",
        label: "Apple Log 2, Apple Wide Gamut",
        curve: Curve::AppleLog,
        primaries: primaries::APPLE_WIDE_GAMUT,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "Apple, Apple Log 2, 2025",
    },
    Encoding {
        encoding: EncodingId::MiLog,
        id: "milog",
        label: "Mi-Log, Rec.2020 primaries",
        curve: Curve::MiLog,
        primaries: primaries::BT2020,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "Xiaomi, Mi-Log Profile white paper, 2024",
    },
    Encoding {
        encoding: EncodingId::DLog,
        id: "dlog",
        label: "D-Log, D-Gamut",
        curve: Curve::DLog,
        primaries: primaries::D_GAMUT,
        cat: Cat::Cat02,
        class: EncodingClass::Log,
        source: "DJI, white paper on D-Log and D-Gamut, 2017",
    },
    Encoding {
        encoding: EncodingId::AcesCct,
        id: "acescct",
        label: "ACEScct",
        curve: Curve::AcesCct,
        primaries: primaries::AP1,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "Academy S-2016-001",
    },
    Encoding {
        encoding: EncodingId::AcesCc,
        id: "acescc",
        label: "ACEScc",
        curve: Curve::AcesCc,
        primaries: primaries::AP1,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "Academy S-2014-003",
    },
    Encoding {
        encoding: EncodingId::Hlg,
        id: "hlg",
        label: "HLG, Rec.2020 primaries",
        curve: Curve::Hlg,
        primaries: primaries::BT2020,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "ITU-R BT.2100-2, BT.2408-7",
    },
    Encoding {
        encoding: EncodingId::Pq,
        id: "pq",
        label: "PQ, Rec.2020 primaries",
        curve: Curve::Pq,
        primaries: primaries::BT2020,
        cat: Cat::Bradford,
        class: EncodingClass::Log,
        source: "ITU-R BT.2100-2, BT.2408-7",
    },
    Encoding {
        encoding: EncodingId::AcesCg,
        id: "acescg",
        label: "ACEScg (linear, AP1)",
        curve: Curve::Linear,
        primaries: primaries::AP1,
        cat: Cat::Bradford,
        class: EncodingClass::SceneLinear,
        source: "Academy S-2014-004",
    },
    Encoding {
        encoding: EncodingId::Ap0Linear,
        id: "ap0-linear",
        label: "ACES2065-1 (linear, AP0)",
        curve: Curve::Linear,
        primaries: primaries::AP0,
        cat: Cat::Bradford,
        class: EncodingClass::SceneLinear,
        source: "SMPTE ST 2065-1",
    },
    Encoding {
        encoding: EncodingId::SrgbLinear,
        id: "srgb-linear",
        label: "Linear, Rec.709 primaries",
        curve: Curve::Linear,
        primaries: primaries::BT709,
        cat: Cat::Bradford,
        class: EncodingClass::SceneLinear,
        source: "ITU-R BT.709-6 primaries",
    },
    Encoding {
        encoding: EncodingId::Rec2020Linear,
        id: "rec2020-linear",
        label: "Linear, Rec.2020 primaries",
        curve: Curve::Linear,
        primaries: primaries::BT2020,
        cat: Cat::Bradford,
        class: EncodingClass::SceneLinear,
        source: "ITU-R BT.2020-2 primaries",
    },
    Encoding {
        encoding: EncodingId::Srgb,
        id: "srgb",
        label: "sRGB",
        curve: Curve::Srgb,
        primaries: primaries::BT709,
        cat: Cat::Bradford,
        class: EncodingClass::Display,
        source: "IEC 61966-2-1:1999",
    },
    Encoding {
        encoding: EncodingId::DisplayP3,
        id: "display-p3",
        label: "Display P3",
        curve: Curve::Srgb,
        primaries: primaries::DISPLAY_P3,
        cat: Cat::Bradford,
        class: EncodingClass::Display,
        source: "SMPTE EG 432-1 primaries, IEC 61966-2-1 curve",
    },
    Encoding {
        encoding: EncodingId::Rec709,
        id: "rec709",
        label: "Rec.709, gamma 2.4",
        curve: Curve::Bt1886,
        primaries: primaries::BT709,
        cat: Cat::Bradford,
        class: EncodingClass::Display,
        source: "ITU-R BT.709-6, BT.1886",
    },
    Encoding {
        encoding: EncodingId::Rec2020,
        id: "rec2020",
        label: "Rec.2020, gamma 2.4",
        curve: Curve::Bt1886,
        primaries: primaries::BT2020,
        cat: Cat::Bradford,
        class: EncodingClass::Display,
        source: "ITU-R BT.2020-2, BT.1886",
    },
    Encoding {
        encoding: EncodingId::DisplayAp0,
        id: "display-ap0",
        label: "A screen's light (linear, AP0), as converted from a profile",
        curve: Curve::Linear,
        primaries: primaries::AP0,
        cat: Cat::Bradford,
        class: EncodingClass::Display,
        source: "SMPTE ST 2065-1 primaries",
    },
];

impl EncodingId {
    /// Every encoding.
    pub const ALL: [Self; 46] = [
        Self::LogC3,
        Self::LogC3Ei160,
        Self::LogC3Ei200,
        Self::LogC3Ei250,
        Self::LogC3Ei320,
        Self::LogC3Ei400,
        Self::LogC3Ei500,
        Self::LogC3Ei640,
        Self::LogC3Ei1000,
        Self::LogC3Ei1280,
        Self::LogC3Ei1600,
        Self::LogC4,
        Self::SLog2SGamut,
        Self::SLog3SGamut3,
        Self::SLog3SGamut3Cine,
        Self::SLog3SGamut3Venice,
        Self::SLog3SGamut3CineVenice,
        Self::VLog,
        Self::CanonLog,
        Self::CanonLog2,
        Self::CanonLog3,
        Self::FLog,
        Self::FLog2,
        Self::FLog2C,
        Self::NLog,
        Self::LLog,
        Self::Log3G10,
        Self::RedLogFilm,
        Self::BlackmagicFilm5,
        Self::AppleLog,
        Self::AppleLog2,
        Self::MiLog,
        Self::DLog,
        Self::AcesCct,
        Self::AcesCc,
        Self::Hlg,
        Self::Pq,
        Self::AcesCg,
        Self::Ap0Linear,
        Self::SrgbLinear,
        Self::Rec2020Linear,
        Self::Srgb,
        Self::DisplayP3,
        Self::Rec709,
        Self::Rec2020,
        Self::DisplayAp0,
    ];

    /// What this encoding is.
    pub const fn info(self) -> &'static Encoding {
        &TABLE[self as usize]
    }

    /// Its name in files and options.
    pub const fn id(self) -> &'static str {
        self.info().id
    }

    /// The encoding with this name.
    ///
    /// # Errors
    /// If there is none; the sentence lists the names there are.
    pub fn parse(id: &str) -> Result<Self> {
        named("encoding", id, &Self::ALL, Self::id)
    }

    /// How codes become working light: the curve's `decode`, then this matrix to linear AP1.
    /// (1, 1, 1) stays (1, 1, 1), so greys stay grey.
    pub fn to_scene(self) -> (Curve, Mat3) {
        let e = self.info();
        (e.curve, rgb_to_rgb(&e.primaries, &primaries::AP1, e.cat))
    }

    /// How working light becomes codes: this matrix from linear AP1, then the curve's `encode`.
    pub fn from_scene(self) -> (Mat3, Curve) {
        let e = self.info();
        (rgb_to_rgb(&primaries::AP1, &e.primaries, e.cat), e.curve)
    }
}
