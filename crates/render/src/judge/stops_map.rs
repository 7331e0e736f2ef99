//! Stops map: a picture's light in stops from mid-grey, a colour for each stop.
//!
//! The palette is *chosen*: it grows lighter by about as much at each step, blue below grey and yellow
//! above, so that neighbours differ by 5 or more (CIEDE2000) also for eyes that lack one kind of cone.

use lookwright_film::path::negative::GREY_SCENE_LIN;

/// Stops told apart on either side of mid-grey; the last stands for all beyond.
pub const REACH: usize = 5;
const STEPS: usize = 2 * REACH + 1;

/// sRGB codes of the stops, the darkest first.
pub const STOP_COLOURS: [[u8; 3]; STEPS] = [
    [16, 16, 46],
    [7, 40, 103],
    [4, 65, 131],
    [32, 89, 145],
    [72, 110, 143],
    [127, 127, 127],
    [161, 150, 100],
    [198, 172, 76],
    [237, 193, 77],
    [246, 223, 131],
    [252, 247, 219],
];

/// Which of [`STOP_COLOURS`] stands for a luminance, white or a card of 100 % being 1: the nearest whole
/// stop from 18 %.
#[must_use]
pub fn stop_of(luminance: f32) -> usize {
    let stops = libm::log2(f64::from(luminance).max(0.0) / GREY_SCENE_LIN);
    let reach = REACH as f64;
    (libm::round(stops).clamp(-reach, reach) + reach) as usize
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::Mat3;
    use lookwright_colour::encoding::Curve;
    use lookwright_colour::space::white::D65;
    use lookwright_colour::space::{Lab, delta_e_2000, primaries::BT709};

    /// Dichromacy on linear sRGB: Machado, Oliveira and Fernandes, "A Physiologically-based Model for
    /// Simulation of Color Vision Deficiency" (2009), table of severity 1.0.
    const EYES: [(&str, Mat3); 4] = [
        ("all cones", Mat3::IDENTITY),
        (
            "protanopia",
            Mat3([
                [0.152286, 1.052583, -0.204868],
                [0.114503, 0.786281, 0.099216],
                [-0.003882, -0.048116, 1.051998],
            ]),
        ),
        (
            "deuteranopia",
            Mat3([
                [0.367322, 0.860646, -0.227968],
                [0.280085, 0.672501, 0.047413],
                [-0.011820, 0.042940, 0.968881],
            ]),
        ),
        (
            "tritanopia",
            Mat3([
                [1.255528, -0.076749, -0.178779],
                [-0.078411, 0.930809, 0.147602],
                [0.004733, 0.691367, 0.303900],
            ]),
        ),
    ];

    #[test]
    fn powers_of_two_about_mid_grey_are_the_steps() {
        for (step, stops) in (-5_i32..=5).enumerate() {
            let light = 0.18 * 2.0_f32.powi(stops);
            assert_eq!(stop_of(light), step);
            // Half a stop but for a hair to either side is the same step still, at the ends all beyond.
            assert_eq!(stop_of(light * 1.41), step);
            assert_eq!(stop_of(light / 1.41), step);
            assert_eq!(stop_of(light * 1.42), (step + 1).min(STEPS - 1));
        }
        assert_eq!(stop_of(0.0), 0);
        assert_eq!(stop_of(-1.0), 0);
        assert_eq!(stop_of(1e9), STEPS - 1);
    }

    #[test]
    fn neighbours_are_told_apart_by_every_eye_and_grow_lighter() {
        for (name, eye) in EYES {
            let seen = STOP_COLOURS.map(|colour| {
                let light =
                    colour.map(|code| f64::from(Curve::Srgb.decode(f32::from(code) / 255.0)));
                let seen = eye.apply(light).map(|v| v.clamp(0.0, 1.0));
                Lab::from_xyz(BT709.rgb_to_xyz().apply(seen), D65)
            });
            for (i, pair) in seen.windows(2).enumerate() {
                let apart = delta_e_2000(pair[0], pair[1]);
                assert!(apart >= 5.0, "{name}, step {i}: {apart}");
                assert!(pair[1].l > pair[0].l + 4.0, "{name}, step {i}");
            }
        }
    }
}
