//! Pictures that are numbered by their names, and what grain, dust, weave and flicker follow.

use lookwright_film::look::Look;

/// Seeds are whole numbers below this, as those of a look's steps are.
pub const SEEDS: u32 = 1_000_000;

/// The number at the end of a file's name, before its ending: "ferry.0123.exr" is frame 123. Grain and
/// dust follow it, so that a sequence moves and a picture has the same wherever it is rendered.
pub fn frame_number(name: &str) -> Option<u32> {
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    let digits = stem.len() - stem.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    stem[stem.len() - digits..].parse().ok()
}

/// A look with other seeds of all that frames draw by their number, made from its own.
pub fn with_seeds(look: &Look, seed: impl Fn(f64) -> f64) -> Look {
    let mut look = look.clone();
    look.negative.grain.seed = seed(look.negative.grain.seed);
    look.negative.dust.seed = seed(look.negative.dust.seed);
    look.lens.weave.seed = seed(look.lens.weave.seed);
    look.negative.flicker.seed = seed(look.negative.flicker.seed);
    look
}

/// The seed that a shot of this name has in the place of a look's own: the same whoever renders it.
pub fn seed_of_shot(own: f64, shot: &str) -> f64 {
    f64::from(mixed(own as u32, shot) % SEEDS)
}

/// A number and some text as another number: FNV-1a of 64 bits (Fowler, Noll and Vo; the constants
/// of draft-eastlake-fnv), its halves folded together.
fn mixed(number: u32, text: &str) -> u32 {
    let bytes = number.to_le_bytes().into_iter().chain(text.bytes());
    let hash = bytes.fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    });
    (hash >> 32) as u32 ^ hash as u32
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

    /// Test vectors of the FNV draft: "" and "a", the offset basis and one step.
    #[test]
    fn the_hash_is_fnv_1a() {
        let hash = |text: &[u8]| {
            text.iter().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
                (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
            })
        };
        assert_eq!(hash(b"a"), 0xaf63_dc4c_8601_ec8c);
        let folded = |hash: u64| (hash >> 32) as u32 ^ hash as u32;
        assert_eq!(mixed(0, "a"), folded(hash(b"\0\0\0\0a")));
    }
}
