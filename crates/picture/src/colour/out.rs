//! The colour that a written file declares: an ICC profile, code points or chromaticities.

use lookwright_colour::encoding::{Curve, Encoding, EncodingId};
use lookwright_colour::space::Primaries;
use lookwright_colour::{Error, Result};
use moxcms::{ColorDateTime, ColorProfile, LocalizableString, ProfileText, ToneReprCurve};

use super::curve::CURVES;
use super::profile;

/// The encoding of the rows that are written, as far as a file can say it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutColour {
    /// An encoding; nothing is declared of one on a curve that no profile describes, such as a camera's.
    Of(EncodingId),
    /// The log code of a film scan, 0.002 of printing density for each of 10 bits; only DPX has a word
    /// for it.
    Scan,
    /// Density or another state that is no encoding: nothing is declared.
    Unmarked,
}

impl OutColour {
    /// What can be declared, if anything.
    fn declared(self) -> Option<&'static Encoding> {
        match self {
            Self::Of(encoding) => Some(encoding.info()).filter(|info| CURVES.contains(&info.curve)),
            Self::Scan | Self::Unmarked => None,
        }
    }

    /// The primaries, or `None` when unmarked.
    pub(crate) fn primaries(self) -> Option<&'static Primaries> {
        self.declared().map(|info| &info.primaries)
    }

    /// Whether rows in this colour are linear light.
    pub(crate) fn is_linear(self) -> bool {
        self.declared()
            .is_some_and(|info| info.curve == Curve::Linear)
    }

    /// PNG `cICP` code points (ITU-T H.273) of a display encoding.
    pub(crate) fn cicp(self, full_range: bool) -> Option<[u8; 4]> {
        let Self::Of(encoding) = self else {
            return None;
        };
        let (primaries, transfer) = match encoding {
            EncodingId::Srgb => (1, 13),
            EncodingId::DisplayP3 => (12, 13),
            EncodingId::Rec709 => (1, 1),
            EncodingId::Rec2020 => (9, 14),
            _ => return None,
        };
        Some([primaries, transfer, 0, u8::from(full_range)])
    }

    /// An ICC v4 matrix profile, always the same bytes; `None` when unmarked.
    pub(crate) fn icc(self) -> Result<Option<Vec<u8>>> {
        let Some(encoding) = self.declared() else {
            return Ok(None);
        };
        let curve = match encoding.curve {
            // Parameters of ICC.1:2022 10.18, function type 3.
            Curve::Srgb => vec![2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045],
            Curve::Bt1886 => vec![2.4],
            _ => vec![1.0],
        };
        let mut profile =
            profile::matrix_profile(&encoding.primaries, ToneReprCurve::Parametric(curve));
        profile.description = Some(text(encoding.label));
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
