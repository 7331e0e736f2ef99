//! Soft bends: how a value follows a line and then comes to rest below a limit.

use crate::lane::Lane;

/// `R f(t / R)`, `f(t) = t / sqrt(1 + t^2)`: follows `t` (slope 1, no curvature at 0) and comes
/// to rest at the room `R`. Zero where there is no room. For `t` and `room` up to 1e18.
#[inline(always)]
pub fn bent<L: Lane>(t: L, room: f32) -> L {
    let hypotenuse = (t * t + room * room).sqrt().max(t.of(f32::MIN_POSITIVE));
    t * room / hypotenuse
}

/// `R t / (R + t)` for `t` from 0 up: follows `t` (slope 1) and comes to rest at the room `R`
/// much more slowly than [`bent`]. Zero where there is no room.
#[inline(always)]
pub fn bent_slowly<L: Lane>(t: L, room: f32) -> L {
    t * room / (t + room).max(t.of(f32::MIN_POSITIVE))
}

/// How near to 0 and 1 [`within`] comes at most.
const MARGIN: f32 = 2e-4;

/// `x` kept between 0 and 1: exactly `x` between `low_room` and `1 - high_room`, bent beyond.
/// Smooth to the second derivative, strictly rising while single precision can tell.
#[inline(always)]
pub fn within<L: Lane>(x: L, low_room: f32, high_room: f32) -> L {
    let low = -bent(-x + low_room, low_room - MARGIN) + low_room;
    let high = bent(x - (1.0 - high_room), high_room - MARGIN) + (1.0 - high_room);
    x.below(low_room, low, x.below(1.0 - high_room, x, high))
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
        for bend in [bent::<f32>, bent_slowly::<f32>] {
            assert!((bend(1e-4, 0.3) - 1e-4).abs() < 1e-7);
            assert!((bend(1e6, 0.3) - 0.3).abs() < 1e-6);
            assert_eq!(bend(0.5, 0.0), 0.0);
        }
        assert!(bent_slowly(0.3_f32, 0.3) < bent(0.3_f32, 0.3));
    }
}
