//! Codes of 8 bits.

use crate::lane::Lane;

/// The nearest of 256 codes; what lies outside 0 ... 1 is limited, and what is no number is 0.
#[inline(always)]
#[must_use]
pub fn byte(code: f32) -> u8 {
    nearest(code) as u8
}

/// The same as a number to be packed with others.
#[inline(always)]
#[must_use]
pub fn nearest(code: f32) -> u32 {
    whole(Lane::clamp_to(code, 0.0, 1.0) * 255.0 + 0.5)
}

/// The whole part of a number of 0 ... 256. From 2^23 on floats are whole numbers, which stand in their
/// lowest bits; casts would do too, but compilers make them one by one.
#[inline(always)]
#[must_use]
pub fn whole(number: f32) -> u32 {
    const WHOLE: f32 = 8_388_608.0;
    let near = number + WHOLE;
    let above = u32::from(near - WHOLE > number);
    near.to_bits() - WHOLE.to_bits() - above
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_whole_part_is_the_standard_floor_beside_every_step() {
        for n in 0..=255_u8 {
            let n = f32::from(n);
            for x in [
                n,
                n.next_up(),
                n + 0.5,
                (n + 0.5).next_down(),
                (n + 1.0).next_down(),
            ] {
                assert_eq!(whole(x), f32::floor(x) as u32, "{x}");
            }
        }
    }

    #[test]
    fn a_byte_is_the_nearest_code_and_limited() {
        for n in 0..=255_u8 {
            assert_eq!(byte(f32::from(n) / 255.0), n);
        }
        for (code, wanted) in [
            (-0.2, 0),
            (7.0, 255),
            (f32::INFINITY, 255),
            (f32::NEG_INFINITY, 0),
            (f32::NAN, 0),
            (0.4999 / 255.0, 0),
            (0.5001 / 255.0, 1),
        ] {
            assert_eq!(byte(code), wanted, "{code}");
        }
    }
}
