//! What a frame draws by its number: the same whoever renders it, and in any order.

use lookwright_colour::hash;

/// Farthest that is drawn, in standard deviations: one frame in four hundred would go beyond.
pub const FARTHEST: f64 = 3.0;

/// Two numbers between 0 and 1, neither of them 0, as a normal one (Box and Muller 1958).
fn normal(seed: u32, salt: u32, frame: u32) -> f64 {
    let unit = |salt| (f64::from(hash::pair(frame, seed, salt)) + 1.0) / 4_294_967_296.0;
    let (length, turn) = (unit(salt), unit(salt ^ 0x5bf0_3635));
    (-2.0 * libm::log(length)).sqrt() * libm::cos(core::f64::consts::TAU * turn)
}

/// A normal number of a frame: mean 0, standard deviation 1, held within [`FARTHEST`]. It keeps for about
/// `slowness` frames what it was; at 0 every frame has its own.
#[must_use]
pub fn drawn(seed: u32, salt: u32, frame: u32, slowness: f64) -> f64 {
    // Independent numbers under a bell curve, whose squared weights sum to 1.
    let around = (2.0 * slowness).ceil() as i32;
    let (mut sum, mut squares) = (0.0, 0.0);
    for offset in -around..=around {
        let far = if slowness > 0.0 {
            f64::from(offset) / slowness
        } else {
            0.0
        };
        let weight = libm::exp(-far * far);
        sum += weight * normal(seed, salt, frame.wrapping_add_signed(offset));
        squares += weight * weight;
    }
    (sum / squares.sqrt()).clamp(-FARTHEST, FARTHEST)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn frames_are_normal_and_slow_ones_resemble_their_neighbours() {
        let count = 20_000;
        for (slowness, alike) in [(0.0, 0.0), (1.0, 0.607), (4.0, 0.969)] {
            let all: Vec<f64> = (0..count).map(|f| drawn(7, 1, f, slowness)).collect();
            let mean = |it: &mut dyn Iterator<Item = f64>| it.sum::<f64>() / f64::from(count);
            let middle = mean(&mut all.iter().copied());
            let variance = mean(&mut all.iter().map(|v| v * v));
            let next = mean(&mut all.windows(2).map(|w| w[0] * w[1])) / variance;
            assert!(middle.abs() < 0.06, "{slowness}: {middle}");
            assert!(
                (variance.sqrt() - 1.0).abs() < 0.03,
                "{slowness}: {variance}"
            );
            // Of bell-shaped weights e^(-(t/s)^2): the correlation a frame apart is e^(-1/(2 s^2)).
            assert!((next - alike).abs() < 0.03, "{slowness}: {next}");
        }
        let seeds: Vec<f64> = (0..4).map(|seed| drawn(seed, 1, 9, 2.0)).collect();
        assert!(seeds.windows(2).all(|w| w[0] != w[1]));
        // Also at the ends of the numbers.
        assert!(drawn(1, 1, u32::MAX, 3.0).is_finite() && drawn(1, 1, 0, 3.0).is_finite());
    }
}
