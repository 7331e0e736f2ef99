//! Integer hashes: the same bits from the same numbers on every machine. For patterns that depend on
//! a place alone; not for secrets.

/// The step from one number of SplitMix64 to the next: 2^64 over the golden ratio, odd.
pub const GOLDEN: u64 = 0x9e37_79b9_7f4a_7c15;

/// The finaliser of SplitMix64 (Steele, Lea, Flood: Fast splittable pseudorandom number generators,
/// 2014).
#[inline(always)]
#[must_use]
pub const fn finalise(x: u64) -> u64 {
    let x = (x ^ (x >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let x = (x ^ (x >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    x ^ (x >> 31)
}

/// 32 bits for two numbers: rounds of multiply and xor-shift. Any good integer hash serves.
#[inline(always)]
#[must_use]
pub const fn pair(x: u32, y: u32, salt: u32) -> u32 {
    let h = x.wrapping_mul(0x9e37_79b1) ^ y.wrapping_mul(0x85eb_ca77) ^ salt;
    let h = (h ^ (h >> 15)).wrapping_mul(0x2c1b_3c6d);
    let h = (h ^ (h >> 12)).wrapping_mul(0x297a_2d39);
    h ^ (h >> 15)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first numbers of SplitMix64 from the seed 1234567, as the generator's reference
    /// implementation in C prints them (from memory).
    #[test]
    fn the_numbers_are_those_of_split_mix_64() {
        let wanted = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
        ];
        let mut state = 1_234_567_u64;
        for number in wanted {
            state = state.wrapping_add(GOLDEN);
            assert_eq!(finalise(state), number);
        }
    }

    /// Every bit of the result is 1 for about half of all places, and half of them change when one
    /// bit of a place does.
    #[test]
    fn bits_of_a_pair_are_even_and_change_with_each_of_its_own() {
        let places = 4096_u32;
        let mut ones = [0; 32];
        let mut changed = 0;
        for i in 0..places {
            let (x, y) = (i % 64, i / 64);
            let bits = pair(x, y, 0);
            for (bit, count) in ones.iter_mut().enumerate() {
                *count += bits >> bit & 1;
            }
            changed += (bits ^ pair(x ^ 1, y, 0)).count_ones();
            changed += (bits ^ pair(x, y ^ 1, 0)).count_ones();
        }
        // Six standard deviations of a fair coin thrown 4096 times are 192.
        for count in ones {
            assert!(count.abs_diff(places / 2) < 192, "{ones:?}");
        }
        let mean = f64::from(changed) / f64::from(2 * places);
        assert!((mean - 16.0).abs() < 1.0, "{mean}");
    }
}
