//! Which encoding a picture should be read with, and why: a proposal, never a silent choice.

use lookwright_colour::encoding::EncodingId::{self, *};

use crate::colour::ColourHint;
use crate::decoded::{Decoded, Samples};
use crate::kind::Kind;

/// How sure a suggestion is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Confidence {
    /// A guess from how the picture looks.
    Low,
    /// A custom of the format, or a file name.
    Medium,
    /// The file says so.
    High,
}

/// An encoding to read a picture with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Suggestion {
    /// The encoding.
    pub encoding: EncodingId,
    /// Read codes in legal (narrow) range.
    pub legal_range: bool,
    /// One sentence for the person who decides.
    pub reason: String,
    /// How sure it is.
    pub confidence: Confidence,
}

/// Suggests an encoding from the file's colour tags, its name, its kind, EXIF and the spread of
/// its codes, in this order.
pub fn suggest(picture: &Decoded, file_name: &str) -> Suggestion {
    let (encoding, confidence, reason) = choose(picture, file_name);
    let mut reason = format!("{}: {reason}", encoding.id());
    if picture.legal_range {
        reason.push_str("; the file says that its codes are in legal range");
    }
    reason.push('.');
    Suggestion {
        encoding,
        legal_range: picture.legal_range,
        reason,
        confidence,
    }
}

fn choose(picture: &Decoded, file_name: &str) -> (EncodingId, Confidence, String) {
    let named = from_name(file_name);
    // Programs mark camera log as printing density too, so of that a name counts for more.
    let doubtful = |encoding: EncodingId| encoding.scan_density().is_some() && named.is_some();
    if let ColourHint::Known { encoding, reason } = &picture.colour
        && !doubtful(*encoding)
    {
        return (*encoding, Confidence::High, reason.clone());
    }
    if let Some((id, word)) = named {
        let reason = format!("the file name says \"{word}\"");
        return (id, Confidence::Medium, reason);
    }
    if matches!(picture.kind, Kind::Exr | Kind::Hdr) {
        let reason = format!(
            "{} holds linear light, and BT.709 primaries unless it says otherwise",
            picture.kind.name()
        );
        return (SrgbLinear, Confidence::Medium, reason);
    }
    if picture.kind == Kind::Clip {
        let reason = "most clips are Rec.709 display code, and the name says nothing else";
        return (Rec709, Confidence::Medium, reason.to_owned());
    }
    if let Samples::F32(_) = picture.samples {
        let reason = "floats without a profile are most often linear light; this is a guess";
        return (SrgbLinear, Confidence::Low, reason.to_owned());
    }
    if picture.camera.says_srgb {
        return (Srgb, Confidence::High, "EXIF says sRGB".to_owned());
    }
    let spread = Spread::of(picture);
    if picture.file_bits > 8 && spread.looks_like_log() {
        let (id, maker) = log_of_maker(picture.camera.make.as_deref());
        let maker = maker.map_or(String::new(), |m| {
            format!(" and its camera was made by {m}")
        });
        let reason = format!(
            "a guess: the picture has no profile{maker}, its codes stay between {:.2} and {:.2} \
             and it is low in contrast, as camera log is; check it by eye",
            spread.low, spread.high
        );
        return (id, Confidence::Low, reason);
    }
    if picture.camera.says_adobe_rgb {
        let reason = "EXIF speaks of Adobe RGB but the profile is missing; for true colour save \
                      it with its profile";
        return (Srgb, Confidence::Low, reason.to_owned());
    }
    let kind = picture.kind.name();
    if picture.file_bits > 8 {
        let reason = format!(
            "a guess: a {}-bit {kind} without a profile that has the contrast of a display picture",
            picture.file_bits
        );
        return (Srgb, Confidence::Low, reason);
    }
    let reason = format!("most {kind} files without a profile are sRGB");
    (Srgb, Confidence::Medium, reason)
}

/// Words that file names carry, the longer before the shorter that they contain.
const NAME_WORDS: [(&str, EncodingId); 36] = [
    ("acescct", AcesCct),
    ("acescg", AcesCg),
    ("aces2065", Ap0Linear),
    ("applelog2", AppleLog2),
    ("applelog", AppleLog),
    ("log3g10", Log3G10),
    ("slog3", SLog3SGamut3Cine),
    ("slog2", SLog2SGamut),
    ("redlogfilm", RedLogFilm),
    ("filmscan", FilmScan),
    ("adx10", Adx10),
    ("adx16", Adx16),
    ("bmdfilm5", BlackmagicFilm5),
    ("logc4", LogC4),
    ("logc3", LogC3),
    ("logc", LogC3),
    ("clog2", CanonLog2),
    ("clog3", CanonLog3),
    ("canonlog2", CanonLog2),
    ("canonlog3", CanonLog3),
    ("canonlog", CanonLog),
    ("clog", CanonLog),
    ("flog2c", FLog2C),
    ("flog2", FLog2),
    ("flog", FLog),
    ("vlog", VLog),
    ("nlog", NLog),
    ("dlog", DLog),
    ("llog", LLog),
    ("milog", MiLog),
    ("hlg", Hlg),
    ("pq", Pq),
    ("rec2020", Rec2020),
    ("rec709", Rec709),
    ("displayp3", DisplayP3),
    ("srgb", Srgb),
];

/// An encoding whose name stands in the file name as a word of its own; hyphens within
/// ("s-log3") don't matter.
fn from_name(file_name: &str) -> Option<(EncodingId, &'static str)> {
    let stem = file_name
        .rsplit(['/', '\\'])
        .next()
        .unwrap_or_default()
        .to_ascii_lowercase();
    let bounded = |text: &str, at: usize, word: &str| {
        let before = text[..at].chars().next_back();
        let after = text[at + word.len()..].chars().next();
        let letter = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
        !letter(before) && !letter(after)
    };
    let joined = stem.replace('-', "");
    NAME_WORDS.into_iter().find_map(|(word, id)| {
        let found = [&stem, &joined].into_iter().any(|text| {
            text.match_indices(word)
                .any(|(at, _)| bounded(text, at, word))
        });
        found.then_some((id, word))
    })
}

/// The log curve that a maker's cameras record, as the makers' own papers name them.
fn log_of_maker(make: Option<&str>) -> (EncodingId, Option<&str>) {
    const MAKERS: [(&str, EncodingId); 12] = [
        ("sony", SLog3SGamut3Cine),
        ("panasonic", VLog),
        ("canon", CanonLog3),
        ("fuji", FLog2),
        ("nikon", NLog),
        ("dji", DLog),
        ("apple", AppleLog),
        ("red", Log3G10),
        ("arri", LogC3),
        ("leica", LLog),
        ("xiaomi", MiLog),
        ("blackmagic", BlackmagicFilm5),
    ];
    let lower = make.unwrap_or_default().to_ascii_lowercase();
    match MAKERS.iter().find(|(maker, _)| lower.starts_with(maker)) {
        Some((_, id)) => (*id, make),
        None => (LogC3, None),
    }
}

/// How the codes of a picture are spread, 0 ... 1.
struct Spread {
    /// One in a thousand codes is below.
    low: f32,
    /// Half of the codes lie within this distance.
    middle: f32,
    /// One in a thousand codes is above.
    high: f32,
}

impl Spread {
    fn of(picture: &Decoded) -> Self {
        const MOST: usize = 300_000;
        let count = picture.samples.len();
        // An odd step, not a multiple of 3, visits all three channels.
        let step = (count / MOST).max(1) / 6 * 6 + 1;
        let mut codes: Vec<f32> = (0..count)
            .step_by(step)
            .map(|i| picture.samples.normalised(i))
            .collect();
        codes.sort_unstable_by(f32::total_cmp);
        let at = |share: f64| {
            let last = codes.len().saturating_sub(1);
            codes
                .get((share * last as f64) as usize)
                .copied()
                .unwrap_or(0.0)
        };
        Self {
            low: at(0.001),
            middle: at(0.75) - at(0.25),
            high: at(0.999),
        }
    }

    /// Black lies at 0.09 to 0.15 in every camera log curve (their makers' papers), which leaves
    /// room for noise below; display pictures reach 0. Contrast: common practice, no source.
    fn looks_like_log(&self) -> bool {
        self.low > 0.06 && self.high < 0.97 && self.middle < 0.35 && self.high - self.low > 0.02
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn file_names_speak_in_whole_words() {
        assert_eq!(
            from_name("/a/quay_S-Log3.tif"),
            Some((SLog3SGamut3Cine, "slog3"))
        );
        assert_eq!(from_name("night.logc4.0001.png"), Some((LogC4, "logc4")));
        assert_eq!(from_name("LogC_0001.tif"), Some((LogC3, "logc")));
        assert_eq!(from_name("market-acescg.exr"), Some((AcesCg, "acescg")));
        assert_eq!(
            from_name("reel_Film-Scan.0001.dpx"),
            Some((FilmScan, "filmscan"))
        );
        assert_eq!(from_name("vlogger.png"), None);
        assert_eq!(from_name("dialogclip.png"), None);
        assert_eq!(from_name("logc3/quay.png"), None);
    }
}
