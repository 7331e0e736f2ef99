//! What differs between two pictures of one frame, seen on one screen.

use lookwright_colour::Mat3;
use lookwright_colour::encoding::ScreenId;
use lookwright_colour::space::{Lab, Xy, delta_e_2000};

/// Colour differences up to which each grey of [`Difference::steps_rgba`] stands; the last one has
/// no end. About 1 is a just noticeable step between large patches.
pub const STEPS: [f64; 3] = [1.0, 3.0, 5.0];
/// The greys, as codes.
const GREYS: [u8; 4] = [0x16, 0x5c, 0xa6, 0xff];
/// How much larger differences of code are in [`amplified_rgba`].
const GAIN: i32 = 8;

/// CIEDE2000 between two pictures, pixel by pixel.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// Of each pixel, row by row.
    pub delta_e: Vec<f64>,
    /// Of all pixels; 0 if there are none.
    pub mean: f64,
    /// The largest.
    pub most: f64,
}

impl Difference {
    /// Between two pictures in the code of `screen`, RGBA with 8 bits each; as many pixels as the
    /// shorter one has.
    pub fn of(before: &[u8], after: &[u8], screen: ScreenId) -> Self {
        let seen = Seen::on(screen);
        let pairs = pixels(before).iter().zip(pixels(after));
        let delta_e: Vec<f64> = pairs
            .map(|(first, second)| {
                if first == second {
                    0.0
                } else {
                    delta_e_2000(seen.lab(*first), seen.lab(*second))
                }
            })
            .collect();
        let sum: f64 = delta_e.iter().sum();
        Self {
            mean: sum / (delta_e.len() as f64).max(1.0),
            most: delta_e.iter().copied().fold(0.0, f64::max),
            delta_e,
        }
    }

    /// A map in four greys, RGBA: darkest up to 1, then up to 3, up to 5, and what is more.
    pub fn steps_rgba(&self) -> Vec<u8> {
        let grey = |delta_e: f64| GREYS[STEPS.iter().filter(|end| delta_e > **end).count()];
        let pixel = |delta_e: &f64| {
            let grey = grey(*delta_e);
            [grey, grey, grey, 0xff]
        };
        self.delta_e.iter().flat_map(pixel).collect()
    }
}

/// The second picture's codes less the first one's, eight times as large about mid-grey, RGBA.
pub fn amplified_rgba(before: &[u8], after: &[u8]) -> Vec<u8> {
    let code = |before: u8, after: u8| {
        let differs = i32::from(after) - i32::from(before);
        (128 + GAIN * differs).clamp(0, 255) as u8
    };
    let pairs = pixels(before).iter().zip(pixels(after));
    pairs
        .flat_map(|(first, second)| {
            let [r, g, b] = [0, 1, 2].map(|channel| code(first[channel], second[channel]));
            [r, g, b, 0xff]
        })
        .collect()
}

fn pixels(rgba: &[u8]) -> &[[u8; 4]] {
    rgba.as_chunks::<4>().0
}

/// A screen's codes as colours.
struct Seen {
    lin: [f64; 256],
    to_xyz: Mat3,
    white: Xy,
}

impl Seen {
    fn on(screen: ScreenId) -> Self {
        let curve = screen.info().curve;
        let mut lin = [0.0; 256];
        for (code, lin) in lin.iter_mut().enumerate() {
            *lin = f64::from(curve.decode(code as f32 / 255.0));
        }
        let primaries = &screen.info().primaries;
        Self {
            lin,
            to_xyz: primaries.rgb_to_xyz(),
            white: primaries.white(),
        }
    }

    fn lab(&self, [r, g, b, _]: [u8; 4]) -> Lab {
        let rgb = [r, g, b].map(|code| self.lin[usize::from(code)]);
        Lab::from_xyz(self.to_xyz.apply(rgb), self.white)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rgba(colours: &[[u8; 3]]) -> Vec<u8> {
        let opaque = |[r, g, b]: &[u8; 3]| [*r, *g, *b, 255];
        colours.iter().flat_map(opaque).collect()
    }

    /// By colour-science 0.4.7: `delta_E` of `XYZ_to_Lab`, with the matrix of `sRGB` made from its
    /// primaries and D65 at 0.3127, 0.3290.
    #[test]
    fn differences_are_those_of_a_reference_library() {
        let before = rgba(&[
            [255, 0, 0],
            [200, 120, 80],
            [10, 10, 10],
            [255; 3],
            [7, 8, 9],
        ]);
        let after = rgba(&[[0, 255, 0], [190, 125, 90], [12, 10, 9], [0; 3], [7, 8, 9]]);
        let expected = [86.607_814, 3.072_370, 0.830_726, 100.0, 0.0];
        let found = Difference::of(&before, &after, ScreenId::Srgb);
        for (ours, theirs) in found.delta_e.iter().zip(expected) {
            assert!((ours - theirs).abs() < 2e-4, "{ours} for {theirs}");
        }
        assert!((found.most - 100.0).abs() < 2e-4);
        assert!((found.mean - 190.510_910 / 5.0).abs() < 1e-3);
        let greys: Vec<u8> = found.steps_rgba().chunks(4).map(|pixel| pixel[0]).collect();
        assert_eq!(greys, [0xff, 0xa6, 0x16, 0xff, 0x16]);
    }

    #[test]
    fn amplified_differences_lie_about_mid_grey_and_keep_their_sign() {
        let before = rgba(&[[100, 100, 100], [0, 255, 50]]);
        let after = rgba(&[[101, 98, 100], [255, 0, 50]]);
        assert_eq!(
            amplified_rgba(&before, &after),
            [136, 112, 128, 255, 255, 0, 128, 255]
        );
    }

    #[test]
    fn nothing_differs_where_there_is_nothing() {
        let none = Difference::of(&[], &[], ScreenId::Rec709);
        assert_eq!((none.mean, none.most), (0.0, 0.0));
        assert!(none.steps_rgba().is_empty());
    }
}
