//! Pictures that are numbered by their names.

/// The number at the end of a file's name, before its ending: "ferry.0123.exr" is frame 123. Grain and
/// dust follow it, so that a sequence moves and a picture has the same wherever it is rendered.
pub fn frame_number(name: &str) -> Option<u32> {
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    let digits = stem.len() - stem.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    stem[stem.len() - digits..].parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_number_at_the_end_of_the_name_is_the_frame() {
        assert_eq!(frame_number("ferry.0123.exr"), Some(123));
        assert_eq!(frame_number("quay.exr"), None);
        assert_eq!(frame_number("1001.dpx"), Some(1001));
        assert_eq!(frame_number("IMG_2047"), Some(2047));
        assert_eq!(frame_number("quay_logc3.png"), Some(3));
        // More than a number can be, and nothing at all.
        assert_eq!(frame_number("99999999999.png"), None);
        assert_eq!(frame_number(""), None);
    }
}
