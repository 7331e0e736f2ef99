//! The colour that a written file declares: an ICC profile, code points or chromaticities.

use lookwright_colour::space::{Primaries, primaries};
use lookwright_colour::{Error, Result};
use moxcms::{ColorDateTime, ColorProfile, LocalizableString, ProfileText, ToneReprCurve};

use super::curve::Curve;
use super::profile;

/// The encoding of the rows that are written, as far as a file can say it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutColour {
    /// sRGB (IEC 61966-2-1).
    Srgb,
    /// Display P3: P3 primaries, D65, the sRGB curve.
    DisplayP3,
    /// BT.709 on a BT.1886 display (the 2.4th power).
    Rec709,
    /// BT.2020 on a BT.1886 display (the 2.4th power).
    Rec2020,
    /// Linear light, BT.709 primaries.
    SrgbLinear,
    /// Linear light, BT.2020 primaries.
    Rec2020Linear,
    /// Linear light, AP1.
    AcesCg,
    /// Linear light, AP0.
    Ap0Linear,
    /// Camera log, density or another state that no profile describes: nothing is declared.
    Unmarked,
}

impl OutColour {
    /// The colour of an encoding id; [`Self::Unmarked`] for every id that no profile describes.
    pub fn from_id(id: &str) -> Self {
        match id {
            "srgb" => Self::Srgb,
            "display-p3" => Self::DisplayP3,
            "rec709" => Self::Rec709,
            "rec2020" => Self::Rec2020,
            "srgb-linear" => Self::SrgbLinear,
            "rec2020-linear" => Self::Rec2020Linear,
            "acescg" => Self::AcesCg,
            "ap0-linear" => Self::Ap0Linear,
            _ => Self::Unmarked,
        }
    }

    /// The primaries, or `None` when unmarked.
    pub(crate) fn primaries(self) -> Option<&'static Primaries> {
        Some(match self {
            Self::Srgb | Self::Rec709 | Self::SrgbLinear => &primaries::BT709,
            Self::DisplayP3 => &primaries::DISPLAY_P3,
            Self::Rec2020 | Self::Rec2020Linear => &primaries::BT2020,
            Self::AcesCg => &primaries::AP1,
            Self::Ap0Linear => &primaries::AP0,
            Self::Unmarked => return None,
        })
    }

    fn curve(self) -> Curve {
        match self {
            Self::Srgb | Self::DisplayP3 => Curve::Srgb,
            Self::Rec709 | Self::Rec2020 => Curve::Bt1886,
            _ => Curve::Linear,
        }
    }

    /// Whether rows in this colour are linear light.
    pub(crate) fn is_linear(self) -> bool {
        self != Self::Unmarked && self.curve() == Curve::Linear
    }

    fn description(self) -> &'static str {
        match self {
            Self::Srgb => "sRGB",
            Self::DisplayP3 => "Display P3",
            Self::Rec709 => "Rec.709 (BT.1886)",
            Self::Rec2020 => "Rec.2020 (BT.1886)",
            Self::SrgbLinear => "Linear, Rec.709 primaries",
            Self::Rec2020Linear => "Linear, Rec.2020 primaries",
            Self::AcesCg => "Linear, AP1 primaries",
            Self::Ap0Linear => "Linear, AP0 primaries",
            Self::Unmarked => "",
        }
    }

    /// PNG `cICP` code points (ITU-T H.273) of a display encoding.
    pub(crate) fn cicp(self, full_range: bool) -> Option<[u8; 4]> {
        let (primaries, transfer) = match self {
            Self::Srgb => (1, 13),
            Self::DisplayP3 => (12, 13),
            Self::Rec709 => (1, 1),
            Self::Rec2020 => (9, 14),
            _ => return None,
        };
        Some([primaries, transfer, 0, u8::from(full_range)])
    }

    /// An ICC v4 matrix profile, always the same bytes; `None` when unmarked.
    pub(crate) fn icc(self) -> Result<Option<Vec<u8>>> {
        let Some(primaries) = self.primaries() else {
            return Ok(None);
        };
        let curve = match self.curve() {
            // Parameters of ICC.1:2022 10.18, function type 3.
            Curve::Srgb => vec![2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045],
            Curve::Bt1886 => vec![2.4],
            Curve::Linear => vec![1.0],
        };
        let mut profile = profile::matrix_profile(primaries, ToneReprCurve::Parametric(curve));
        profile.description = Some(text(self.description()));
        profile.copyright = Some(text("CC0"));
        let bytes = ColorProfile::encode(&profile);
        bytes
            .map(Some)
            .map_err(|e| Error::new(format!("The colour profile was not built: {e}.")))
    }
}

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
