//! Soft bends: how a value follows a line and then comes to rest below a limit.

use lookwright_colour::lane::Lane;

/// `R f(t / R)`, `f(t) = t / sqrt(1 + t^2)`: follows `t` (slope 1, no curvature at 0) and comes
/// to rest at the room `R`. Zero where there is no room. For `t` and `room` up to 1e18.
#[inline(always)]
pub fn bent<L: Lane>(t: L, room: L) -> L {
    let hypotenuse = (t * t + room * room).sqrt().max(t.of(f32::MIN_POSITIVE));
    t * room / hypotenuse
}

/// [`bent`] mixed by the softness `s` with `R t / (R + t)`, which follows `t` too (slope 1) and comes
/// to rest at the room `R` much more slowly. Both in one division, with `h` the hypotenuse of `t` and
/// `R`: `R t ((1 - s) (R + t) + s h) / (h (R + t))`. For `t` from 0 to 1e9 and `R` above 1e-9.
#[inline(always)]
pub fn bent_softly<L: Lane>(t: L, room: L, softness: L) -> L {
    let hypotenuse = (t * t + room * room).sqrt();
    let reach = t + room;
    t * room * (reach + (hypotenuse - reach) * softness) / (hypotenuse * reach)
}

/// How near to 0 and 1 [`within`] comes at most.
const MARGIN: f32 = 2e-4;

/// `x` kept between 0 and 1: exactly `x` between `low_room` and `1 - high_room`, bent beyond.
/// Smooth to the second derivative, strictly rising while single precision can tell.
#[inline(always)]
pub fn within<L: Lane>(x: L, low_room: f32, high_room: f32) -> L {
    // At most one end bends a number, so both share the bend.
    let top = 1.0 - high_room;
    let at_low = x.lt(x.of(low_room));
    let over = L::select(at_low, -x + low_room, x - top);
    let room = L::select(at_low, x.of(low_room - MARGIN), x.of(high_room - MARGIN));
    let bent = bent(over, room);
    L::select(at_low, -bent + low_room, x.below(top, x, bent + top))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn within_is_exact_inside_and_rises_to_its_limits() {
        for x in [0.02_f32, 0.3, 0.9499] {
            assert_eq!(within(x, 0.02, 0.05), x);
        }
        let mut last = -1.0;
        for i in -400..=1800 {
            let y = within(i as f32 / 1000.0, 0.02, 0.05);
            assert!(y > last && y > 0.0 && y < 1.0, "{i}");
            last = y;
        }
        assert!((0.0..0.001).contains(&within(-1e9_f32, 0.02, 0.05)));
        assert!((0.999..1.0).contains(&within(1e9_f32, 0.02, 0.05)));
    }

    #[test]
    fn both_bends_start_with_slope_one_and_rest_at_the_room() {
        let soft = |t, room| bent_softly(t, room, 1.0_f32);
        let bends: [&dyn Fn(f32, f32) -> f32; 3] =
            [&bent, &|t, room| bent_softly(t, room, 0.0), &soft];
        for bend in bends {
            assert!((bend(1e-4, 0.3) - 1e-4).abs() < 1e-7);
            assert!((bend(1e6, 0.3) - 0.3).abs() < 1e-6);
        }
        assert_eq!(bent(0.5_f32, 0.0), 0.0);
        assert!(soft(0.3, 0.3) < bent(0.3_f32, 0.3));
    }

    #[test]
    fn a_soft_bend_is_two_bends_mixed() {
        for t in [0.0_f32, 1e-4, 0.1, 0.3, 2.0, 1e9] {
            for softness in [0.0, 0.35, 1.0] {
                let slow = 0.3 * t / (0.3 + t);
                let mixed = bent(t, 0.3).mix(slow, softness);
                let soft = bent_softly(t, 0.3, softness);
                assert!((soft - mixed).abs() <= 1e-6 * mixed, "{t} {softness}");
            }
        }
    }
}
