//! The encodings that a picture may come in.
//!
//! One row each in `cameras.rs` or `pictures.rs`: to add an encoding, add its curve, its primaries, a name
//! and a row.
//! White is that of the primaries. The adaptation is the one of the published transform to ACES:
//! CAT02 for the makers who use it, Bradford for all others.

mod cameras;
mod pictures;

use super::{Curve, named};
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
    /// Printing density of a negative that was exposed and developed elsewhere, and scanned: such a
    /// picture enters at the scan. Curve and primaries are how the encoding reads it as scene light.
    Scan,
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
    /// 10-bit log code of film scans: printing density.
    FilmScan,
    /// ADX10: printing density, 10 bits.
    Adx10,
    /// ADX16: printing density, 16 bits.
    Adx16,
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

const COUNT: usize = cameras::ROWS.len() + pictures::ROWS.len();
/// Cameras first, then the others.
const TABLE: [Encoding; COUNT] = {
    let mut table = [cameras::ROWS[0]; COUNT];
    let mut row = 0;
    while row < table.len() {
        let others = row.checked_sub(cameras::ROWS.len());
        table[row] = match others {
            None => cameras::ROWS[row],
            Some(row) => pictures::ROWS[row],
        };
        row += 1;
    }
    table
};

impl EncodingId {
    /// Every encoding.
    pub const ALL: [Self; COUNT] = [
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
        Self::FilmScan,
        Self::Adx10,
        Self::Adx16,
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

    /// How codes become working light: [`EncodingId::unmixing`], the curve's `decode`, then this matrix
    /// to linear AP1.
    /// (1, 1, 1) stays (1, 1, 1), so greys stay grey.
    pub fn to_scene(self) -> (Curve, Mat3) {
        let e = self.info();
        (e.curve, rgb_to_rgb(&e.primaries, &primaries::AP1, e.cat))
    }

    /// How working light becomes codes: this matrix from linear AP1, the curve's `encode`, then the
    /// inverse of [`EncodingId::unmixing`].
    pub fn from_scene(self) -> (Mat3, Curve) {
        let e = self.info();
        (rgb_to_rgb(&primaries::AP1, &e.primaries, e.cat), e.curve)
    }
}
