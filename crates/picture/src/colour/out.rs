//! The colour that a written file declares: an ICC profile, code points or chromaticities.

use lookwright_colour::encoding::{Curve, EncodingId, ScreenId};
use lookwright_colour::space::{Primaries, primaries};
use lookwright_colour::{Error, Result};
use moxcms::{ColorDateTime, ColorProfile, LocalizableString, ProfileText, ToneReprCurve};

use super::curve::CURVES;
use super::profile;

/// The encoding of the rows that are written, as far as a file can say it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutColour {
    /// An encoding; nothing is declared of one on a curve that no profile describes, such as a camera's.
    Of(EncodingId),
    /// The code of a screen.
    Screen(ScreenId),
    /// The log code of a film scan, 0.002 of printing density for each of 10 bits; only DPX has a word
    /// for it.
    Scan,
    /// Density or another state that is no encoding: nothing is declared.
    Unmarked,
}

impl OutColour {
    /// What a profile can declare, if anything.
    fn declared(self) -> Option<Declared> {
        let declared = match self {
            Self::Of(encoding) => {
                let info = encoding.info();
                Declared(&info.primaries, info.curve, info.label)
            }
            Self::Screen(screen) => {
                let info = screen.info();
                // X'Y'Z' has no white of its own, which a profile must have.
                if info.primaries == primaries::XYZ {
                    return None;
                }
                Declared(&info.primaries, info.curve, info.label)
            }
            Self::Scan | Self::Unmarked => return None,
        };
        CURVES.contains(&declared.1).then_some(declared)
    }

    /// The primaries, or `None` when unmarked.
    pub(crate) fn primaries(self) -> Option<&'static Primaries> {
        self.declared().map(|Declared(primaries, ..)| primaries)
    }

    /// Whether rows in this colour are linear light.
    pub(crate) fn is_linear(self) -> bool {
        self.declared()
            .is_some_and(|Declared(_, curve, _)| curve == Curve::Linear)
    }

    /// PNG `cICP` code points (ITU-T H.273) of a display encoding.
    pub(crate) fn cicp(self, full_range: bool) -> Option<[u8; 4]> {
        let (primaries, transfer) = match self {
            Self::Of(EncodingId::Srgb) | Self::Screen(ScreenId::Srgb) => (1, 13),
            Self::Of(EncodingId::DisplayP3) | Self::Screen(ScreenId::DisplayP3) => (12, 13),
            Self::Of(EncodingId::Rec709) | Self::Screen(ScreenId::Rec709) => (1, 1),
            Self::Of(EncodingId::Rec2020) | Self::Screen(ScreenId::Rec2020) => (9, 14),
            // XYZ; SMPTE ST 428-1.
            Self::Screen(ScreenId::DcdmXyz) => (10, 17),
            Self::Screen(
                ScreenId::Pq600 | ScreenId::Pq1000 | ScreenId::Pq2000 | ScreenId::Pq4000,
            ) => (9, 16),
            Self::Screen(ScreenId::Hlg1000) => (9, 18),
            // There is no code point for a power of 2.6.
            _ => return None,
        };
        Some([primaries, transfer, 0, u8::from(full_range)])
    }

    /// An ICC v4 matrix profile, always the same bytes; `None` when unmarked.
    pub(crate) fn icc(self) -> Result<Option<Vec<u8>>> {
        let Some(Declared(primaries, curve, label)) = self.declared() else {
            return Ok(None);
        };
        let curve = match curve {
            // Parameters of ICC.1:2022 10.18, function type 3.
            Curve::Srgb => vec![2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045],
            Curve::Bt1886 => vec![2.4],
            Curve::Gamma26 => vec![2.6],
            _ => vec![1.0],
        };
        let mut profile = profile::matrix_profile(primaries, ToneReprCurve::Parametric(curve));
        profile.description = Some(text(label));
        profile.copyright = Some(text("CC0"));
        let bytes = ColorProfile::encode(&profile);
        bytes
            .map(Some)
            .map_err(|e| Error::new(format!("The colour profile was not built: {e}.")))
    }
}

/// Primaries, curve, and a name for people.
struct Declared(&'static Primaries, Curve, &'static str);

fn text(value: &str) -> ProfileText {
    let value = LocalizableString::new("en".to_owned(), "US".to_owned(), value.to_owned());
    ProfileText::Localizable(vec![value])
}

/// The date in every profile that is written, so that the same picture gives the same bytes.
pub(super) const PROFILE_DATE: ColorDateTime = ColorDateTime {
    year: 2025,
    month: 1,
    day_of_the_month: 1,
    hours: 0,
    minutes: 0,
    seconds: 0,
};
