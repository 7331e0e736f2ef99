//! What belongs to a shot: its name, and the grain and dust that are its own.

use std::path::Path;

use lookwright_film::look::Look;
use lookwright_picture::{SEEDS, seed_of_shot, with_seeds};

/// Where the grain and dust of a run come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Seed {
    /// The look's own, as they stand.
    Look,
    /// This one, for both.
    Number(u32),
}

impl Seed {
    /// Reads `look` or a number.
    pub(crate) fn parse(text: &str) -> Result<Self, String> {
        if text == "look" {
            return Ok(Self::Look);
        }
        match text.parse() {
            Ok(number @ 0..SEEDS) => Ok(Self::Number(number)),
            _ => Err(format!(
                "give a whole number from 0 to {}, or look",
                SEEDS - 1
            )),
        }
    }
}

/// The name of the shot that a picture belongs to: what stands before its number and the sign that sets
/// it off. A picture whose name is its number alone has its folder's. `quay_logc3` is no picture of a
/// shot, as nothing sets off its number.
pub(crate) fn of_numbered(picture: &Path) -> Option<String> {
    let stem = picture.file_stem().unwrap_or_default().to_string_lossy();
    let before = stem.trim_end_matches(|c: char| c.is_ascii_digit());
    let set_off = before.is_empty() || before.ends_with(SIGNS);
    (set_off && before.len() < stem.len()).then(|| name_of(picture))
}

/// What sets a number off from a name.
const SIGNS: [char; 4] = ['.', '_', '-', ' '];

/// The name of a picture's shot, whatever its own name.
pub(super) fn name_of(picture: &Path) -> String {
    let stem = picture.file_stem().unwrap_or_default().to_string_lossy();
    let name = stem.trim_end_matches(|c: char| c.is_ascii_digit());
    let name = name.trim_end_matches(SIGNS);
    if !name.is_empty() {
        return name.to_owned();
    }
    let folder = match picture.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let real = folder.canonicalize().unwrap_or_else(|_| folder.to_owned());
    let name = real.file_name().unwrap_or_default().to_string_lossy();
    name.into_owned()
}

/// The look with a shot's own grain and dust, which follow from the look's seeds and the shot's
/// name, whoever renders the shot and wherever. Pictures of no shot have the look's.
pub(crate) fn with_seed(look: &Look, seed: Option<Seed>, shot: Option<&str>) -> Look {
    match (seed, shot) {
        (None, Some(shot)) => with_seeds(look, |own| seed_of_shot(own, shot)),
        (None | Some(Seed::Look), _) => look.clone(),
        (Some(Seed::Number(number)), _) => with_seeds(look, |_| f64::from(number)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shot_is_named_by_what_stands_before_the_number() {
        for (path, name) in [
            ("in/ferry.0123.exr", Some("ferry")),
            ("ferry_v2-0123.dpx", Some("ferry_v2")),
            ("no/such/quay/1001.dpx", Some("quay")),
            ("IMG_2047.jpg", Some("IMG")),
            ("quay_logc3.png", None),
            ("quay.png", None),
        ] {
            assert_eq!(of_numbered(Path::new(path)).as_deref(), name);
        }
    }

    #[test]
    fn shots_differ_and_a_number_is_taken_as_it_is() {
        let look = Look::default();
        let seeds = |look: Look| (look.negative.grain.seed, look.negative.dust.seed);
        let of = |seed, shot| seeds(with_seed(&look, seed, shot));
        assert_eq!(of(None, None), seeds(look.clone()));
        assert_eq!(of(Some(Seed::Look), Some("ferry")), seeds(look.clone()));
        assert_eq!(of(Some(Seed::Number(7)), Some("ferry")), (7.0, 7.0));
        let (ferry, quay) = (of(None, Some("ferry")), of(None, Some("quay")));
        assert!(ferry.0 != quay.0 && ferry.1 != quay.1);
        assert_eq!(ferry, of(None, Some("ferry")));
        let mut other = look.clone();
        other.negative.grain.seed += 1.0;
        assert!(with_seed(&other, None, Some("ferry")).negative.grain.seed != ferry.0);
    }
}
