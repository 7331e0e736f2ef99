//! Vectorscope, of screen code alone: how many pixels have each pair of colour differences, by the
//! screen's own luma: `Cb = (B - Y) / (2 - 2 kb)`, `Cr = (R - Y) / (2 - 2 kr)`; Cb to the right, Cr
//! upwards, both -0.5 ... 0.5.

use lookwright_colour::Rgb;
use lookwright_colour::encoding::ScreenId;
use lookwright_colour::luma::LUMA;
use lookwright_film::look::{CodeRange, Display};
use lookwright_film::spatial::Planes;

use super::scopes::opaque;

/// Side of the vectorscope's field.
pub const VECTOR_SIDE: usize = 192;

/// Gain and offset from codes to a screen's signal of 0 to 1 (legal range, ITU-R BT.709-6 item 4.6: 64 to
/// 940 of 1023).
pub(super) const fn to_signal(range: CodeRange) -> [f32; 2] {
    match range {
        CodeRange::Full => [1.0, 0.0],
        CodeRange::Legal => [1023.0 / 876.0, -64.0 / 876.0],
    }
}

/// How a screen's code is parted into luma and two colour differences.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColourDifferences {
    /// Weights of red, green and blue in the luma; they sum to 1.
    pub luma: [f32; 3],
}

impl ColourDifferences {
    /// A screen's own: those of ITU-R BT.709-6 item 3.2, BT.2020-2 table 4 and BT.2100-2 table 6. Display P3 has none of
    /// its own standard; there it is what its primaries weigh in its white, and so in theatres, whose codes
    /// are read as P3's with the picture's white.
    #[must_use]
    pub fn of(screen: ScreenId) -> Self {
        let luma = match screen {
            ScreenId::Rec709 | ScreenId::Srgb => LUMA,
            ScreenId::Rec2020
            | ScreenId::Pq600
            | ScreenId::Pq1000
            | ScreenId::Pq2000
            | ScreenId::Pq4000
            | ScreenId::Hlg1000 => [0.2627, 0.6780, 0.0593],
            ScreenId::DisplayP3
            | ScreenId::P3D65Theatre
            | ScreenId::P3DciTheatre
            | ScreenId::DcdmXyz => screen.info().gamut.rgb_to_xyz().0[1].map(|v| v as f32),
        };
        Self { luma }
    }

    /// Cb and Cr of a code of full range.
    #[must_use]
    pub fn at(&self, [r, g, b]: [f32; 3]) -> [f32; 2] {
        let [kr, kg, kb] = self.luma;
        let y = r * kr + g * kg + b * kb;
        [(b - y) / (2.0 - 2.0 * kb), (r - y) / (2.0 - 2.0 * kr)]
    }

    /// Cb and Cr of colour bars at a share of full code: red, yellow, green, cyan, blue, magenta (the
    /// bars of ITU-R BT.471 are those at 75 and 100 %).
    #[must_use]
    pub fn bars(&self, share: f32) -> [[f32; 2]; 6] {
        [
            [1, 0, 0],
            [1, 1, 0],
            [0, 1, 0],
            [0, 1, 1],
            [0, 0, 1],
            [1, 0, 1],
        ]
        .map(|bar: [u8; 3]| self.at(bar.map(|on| f32::from(on) * share)))
    }
}

/// Pixels by their colour differences.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Vectorscope {
    /// `counts[y * VECTOR_SIDE + x]`, from the top.
    pub counts: Vec<u32>,
    pixels: usize,
}

impl Vectorscope {
    /// Counts a picture in the code of a display; what lies outside 0 ... 1 counts at its end.
    #[must_use]
    pub fn of(code: &Planes, display: &Display) -> Self {
        let differences = ColourDifferences::of(display.screen);
        let signal = display.screen.signal();
        let [gain, offset] = to_signal(display.range);
        let mut counts = vec![0; VECTOR_SIDE * VECTOR_SIDE];
        let [red, green, blue] = &code.planes;
        for ((r, g), b) in red.iter().zip(green).zip(blue) {
            let full = [*r, *g, *b].map(|v| v.clamp(0.0, 1.0) * gain + offset);
            let own = signal.uncontained(Rgb::from_array(full));
            let [cb, cr] = differences.at(own.to_array());
            let place = |v: f32| {
                let from_edge = (v + 0.5).max(0.0);
                ((from_edge * VECTOR_SIDE as f32) as usize).min(VECTOR_SIDE - 1)
            };
            counts[place(-cr) * VECTOR_SIDE + place(cb)] += 1;
        }
        Self {
            counts,
            pixels: code.pixels(),
        }
    }

    /// As RGBA with its axes, square.
    #[must_use]
    pub fn rgba(&self) -> Vec<u8> {
        let mut out = Vec::with_capacity(self.counts.len() * 4);
        let full = self.pixels as f32;
        for (place, count) in self.counts.iter().enumerate() {
            let (x, y) = (place % VECTOR_SIDE, place / VECTOR_SIDE);
            let axis = if x == VECTOR_SIDE / 2 || y == VECTOR_SIDE / 2 {
                0.22
            } else {
                0.0
            };
            let light = (*count as f32 / full * 6000.0).sqrt() * 0.5 + axis;
            out.extend(opaque([light; 3]));
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(found: [f32; 2], expected: [f32; 2]) -> bool {
        found
            .iter()
            .zip(expected)
            .all(|(a, b)| (a - b).abs() < 2e-5)
    }

    #[test]
    fn greys_have_no_difference_and_complements_lie_opposite() {
        for screen in ScreenId::ALL {
            let own = ColourDifferences::of(screen);
            for grey in [0.0, 0.4, 1.0] {
                assert!(close(own.at([grey; 3]), [0.0; 2]), "{screen:?} {grey}");
            }
            let [red, yellow, green, cyan, blue, magenta] = own.bars(1.0);
            for (a, b) in [(red, cyan), (yellow, blue), (green, magenta)] {
                assert!(close(a, b.map(|v| -v)), "{screen:?}");
            }
            assert!((red[1] - 0.5).abs() < 1e-6 && (blue[0] - 0.5).abs() < 1e-6);
            assert!((own.bars(0.75)[0][1] - 0.375).abs() < 1e-6);
        }
    }

    /// Worked by hand with the divisors as the recommendations print them: 1.8556 and 1.5748 (BT.709),
    /// 1.8814 and 1.4746 (BT.2020).
    #[test]
    fn bars_are_those_of_bt_709_and_bt_2020() {
        let [red, _, green, _, blue, _] = ColourDifferences::of(ScreenId::Rec709).bars(1.0);
        assert!(close(red, [-0.2126 / 1.8556, 0.5]), "{red:?}");
        assert!(close(blue, [0.5, -0.0722 / 1.5748]), "{blue:?}");
        assert!(
            close(green, [-0.7152 / 1.8556, -0.7152 / 1.5748]),
            "{green:?}"
        );
        let [red, _, green, _, blue, _] = ColourDifferences::of(ScreenId::Rec2020).bars(1.0);
        assert!(close(red, [-0.2627 / 1.8814, 0.5]), "{red:?}");
        assert!(close(blue, [0.5, -0.0593 / 1.4746]), "{blue:?}");
        assert!(
            close(green, [-0.6780 / 1.8814, -0.6780 / 1.4746]),
            "{green:?}"
        );
    }

    /// The row of Y as Apple and the W3C print it (CSS Color 4, section 18, `lin_P3_to_XYZ`).
    #[test]
    fn p3_weighs_as_its_primaries_do() {
        let luma = ColourDifferences::of(ScreenId::DisplayP3).luma;
        for (found, expected) in luma.into_iter().zip([0.228_975, 0.691_739, 0.079_287]) {
            assert!((found - expected).abs() < 2e-5, "{luma:?}");
        }
        assert!((luma.iter().sum::<f32>() - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_bar_lights_its_own_place_in_either_range() {
        let place = |v: f32| ((v + 0.5) * VECTOR_SIDE as f32) as usize;
        for screen in ScreenId::ALL {
            let [cb, cr] = ColourDifferences::of(screen).bars(0.75)[2];
            let expected = place(-cr) * VECTOR_SIDE + place(cb);
            for (range, codes) in [
                (CodeRange::Full, [0.0, 1.0]),
                (CodeRange::Legal, [64.0 / 1023.0, 940.0 / 1023.0]),
            ] {
                let info = screen.info();
                let own = Rgb::from_array([0.0, 0.75, 0.0]);
                let signal = if info.primaries == info.gamut {
                    own
                } else {
                    let light = own.map(|v| info.curve.decode(v));
                    screen.signal().encode(light)
                };
                let code = signal.map(|v| v * (codes[1] - codes[0]) + codes[0]);
                let mut bar = Planes::filled(4, 4, 0.0);
                for (plane, code) in bar.planes.iter_mut().zip(code.to_array()) {
                    plane.fill(code);
                }
                let display = Display {
                    screen,
                    range,
                    ..Display::default()
                };
                let counts = Vectorscope::of(&bar, &display).counts;
                assert_eq!(counts[expected], 16, "{screen:?} {range:?}");
            }
        }
    }
}
