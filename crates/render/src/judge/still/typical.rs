//! What photographs are like before a look is on them: the figures of many, and a picture to put looks on.
//!
//! A still of other things says of a look only how it differs from what such a still is like without one.
//! That is not known of the still, but of photographs at large: so their figures stand in for it. What a
//! look does to figures is tried on a picture made of the statistics of natural scenes (Ruderman, Cronin
//! and Chiao, Statistics of cone responses to natural images, J. Opt. Soc. Am. A 15(8), 1998): in the
//! logarithms of cone responses, lightness and two axes of colour are independent, with standard
//! deviations of 0.353, 0.0732 and 0.0183. *Chosen*: wider by [`WIDER`], as photographers
//! look for contrast and colour and the measured scenes were woods.

use lookwright_colour::encoding::EncodingId;
use lookwright_colour::space::{Cat, primaries::AP1, primaries::BT709, rgb_to_rgb};
use lookwright_colour::{Mat3, Rgb};
use lookwright_film::look::Frame;
use lookwright_film::spatial::Planes;
use lookwright_table::health::halton;

/// Standard deviations of lightness and both axes of colour, in decades.
const DEVIATIONS: [f64; 3] = [0.353, 0.0732, 0.0183];
/// Times which they are taken.
const WIDER: [f64; 3] = [2.2, 2.0, 2.0];
/// Scene light about which they lie: half a stop below mid-grey. *Chosen*, so that the middle of the picture is as
/// light as that of photographs.
const MIDDLE: f64 = 0.13;
/// How many colours it has.
const COLOURS: usize = 1024;

/// Linear RGB of Rec.709 to cone responses, as Reinhard, Ashikhmin, Gooch and Shirley give it (2001).
const TO_CONES: Mat3 = Mat3([
    [0.3811, 0.5783, 0.0402],
    [0.1967, 0.7244, 0.0782],
    [0.0241, 0.1288, 0.8444],
]);

/// Means of the figures ([`super::seen::Like::figures`]) of sixteen open photographs and of 48 views of
/// eight panoramas, shown neutrally. *Measured.*
pub(super) const FIGURES: [f64; 23] = [
    10.0, 18.1, 29.5, 48.1, 67.3, 78.8, 87.4, // Tones.
    0.5, 0.7, 1.3, 0.6, -0.1, // Tint from green to red, darkest part first.
    1.7, 3.1, 3.5, 1.9, 1.6, // From blue to yellow.
    6.0, 9.2, 8.2, 10.9, 8.5, 11.5, // Colourfulness.
];

/// The picture, as light, and how it is read.
pub(super) fn picture() -> (Planes, Frame) {
    let mut frame = Frame::default();
    frame.source.encoding = EncodingId::AcesCg;
    let cones_to_rgb = TO_CONES.inverse().unwrap_or(Mat3::IDENTITY);
    let to_ap1 = rgb_to_rgb(&BT709, &AP1, Cat::Bradford).after(&cones_to_rgb);
    let white = TO_CONES.apply([MIDDLE; 3]);
    let mut planes: [Vec<f32>; 3] = Default::default();
    for (place, other) in halton(COLOURS)
        .into_iter()
        .zip(halton(2 * COLOURS).split_off(COLOURS))
    {
        let [a, b] = normal(place[0], place[1]);
        let [c, _] = normal(place[2], other[0]);
        let [l, m, s] = decades([
            a * DEVIATIONS[0] * WIDER[0],
            b * DEVIATIONS[1] * WIDER[1],
            c * DEVIATIONS[2] * WIDER[2],
        ]);
        let cones = [l, m, s].map(|decade| libm::pow(10.0, decade));
        let light = to_ap1.apply([0, 1, 2].map(|i| cones[i] * white[i]));
        let light = Rgb::from_array(light.map(|v| v as f32)).to_array();
        for (plane, value) in planes.iter_mut().zip(light) {
            plane.push(value);
        }
    }
    (
        Planes {
            width: COLOURS,
            height: 1,
            planes,
        },
        frame,
    )
}

/// From lightness and both axes to the three cones' logarithms: the paper's orthonormal axes, turned back.
fn decades([lightness, yellow_blue, red_green]: [f64; 3]) -> [f64; 3] {
    let (thirds, sixths, halves) = (
        lightness / libm::sqrt(3.0),
        yellow_blue / libm::sqrt(6.0),
        red_green / core::f64::consts::SQRT_2,
    );
    [
        thirds + sixths + halves,
        thirds + sixths - halves,
        thirds - 2.0 * sixths,
    ]
}

/// Two independent normal numbers of two even ones (Box and Muller, Ann. Math. Stat. 29(2), 1958).
fn normal(a: f32, b: f32) -> [f64; 2] {
    let far = libm::sqrt(-2.0 * libm::log(f64::from(a).max(1e-6)));
    let turn = core::f64::consts::TAU * f64::from(b);
    [far * libm::cos(turn), far * libm::sin(turn)]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The statistics that it is made of, found in the light again.
    #[test]
    fn its_cone_responses_have_the_published_deviations() {
        let (picture, _) = picture();
        let from_ap1 = TO_CONES.after(&rgb_to_rgb(&AP1, &BT709, Cat::Bradford));
        let axes: Vec<[f64; 3]> = (0..picture.pixels())
            .map(|i| {
                let light = [0, 1, 2].map(|c| f64::from(picture.planes[c][i]));
                let [l, m, s] = from_ap1.apply(light).map(libm::log10);
                [
                    (l + m + s) / libm::sqrt(3.0),
                    (l + m - 2.0 * s) / libm::sqrt(6.0),
                    (l - m) / libm::sqrt(2.0),
                ]
            })
            .collect();
        for axis in 0..3 {
            let mean = axes.iter().map(|p| p[axis]).sum::<f64>() / axes.len() as f64;
            let square = axes.iter().map(|p| (p[axis] - mean) * (p[axis] - mean));
            let deviation = libm::sqrt(square.sum::<f64>() / axes.len() as f64);
            let published = DEVIATIONS[axis] * WIDER[axis];
            assert!(
                (deviation / published - 1.0).abs() < 0.05,
                "{axis}: {deviation}"
            );
        }
    }
}
