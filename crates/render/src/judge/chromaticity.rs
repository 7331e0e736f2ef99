//! Chromaticities of a picture: how many pixels have each colour, whatever their brightness, in CIE 1976
//! u'v' (CIE 15). There equal steps are more nearly equal to the eye than in xy, where green takes half of
//! the diagram; both planes keep mixtures of two lights on straight lines, so a gamut is a triangle in either.

use lookwright_colour::encoding::{ScreenId, Signal};
use lookwright_colour::space::{Cat, Primaries, Xy, primaries, rgb_to_rgb, white};
use lookwright_colour::{Mat3, Rgb, space};
use lookwright_film::look::{CodeRange, Display, StageId};
use lookwright_film::spatial::Planes;

use super::scopes::opaque;
use super::vectorscope::to_signal;

/// Side of the field in pixels.
pub const FIELD_SIDE: usize = 192;
/// What of u' and v' the field shows, from 0: all that can be seen (u' up to .623, v' up to .587).
pub const FIELD_SPAN: f64 = 0.64;
/// Gamuts that are drawn, smallest first.
pub const GAMUTS: [(&str, Primaries); 3] = [
    ("Rec.709", primaries::BT709),
    ("P3", primaries::DISPLAY_P3),
    ("Rec.2020", primaries::BT2020),
];
/// Less light than this share of white has no colour worth reading. Chosen: rounding and grain decide there.
const DARKEST: f64 = 0.001;
/// How far below none a gamut's red, green or blue may be, as a share of the colour's luminance: rounding.
const ROUNDING: f64 = 1e-3;

/// How three numbers of a stage are light.
#[derive(Clone, Copy, Debug)]
pub struct Colorimetry {
    to_xyz: Mat3,
    /// None where they are light already.
    signal: Option<Signal>,
    to_signal: [f32; 2],
}

impl Colorimetry {
    /// Of what leaves a stage; nothing where the numbers are no light: layers' densities, and codes made of
    /// them. Scene and print are seen with their white brought to D65, as the screen brings it there.
    #[must_use]
    pub fn of(stage: StageId, display: &Display) -> Option<Self> {
        match stage {
            StageId::Intake | StageId::Lens | StageId::Print => Some(Self {
                to_xyz: primaries::BT2020.rgb_to_xyz().after(&rgb_to_rgb(
                    &primaries::AP1,
                    &primaries::BT2020,
                    Cat::Bradford,
                )),
                signal: None,
                to_signal: [1.0, 0.0],
            }),
            StageId::Negative | StageId::Scan => None,
            StageId::Screen => Some(Self::of_screen(display.screen, display.range)),
        }
    }

    fn of_screen(screen: ScreenId, range: CodeRange) -> Self {
        Self {
            to_xyz: screen.info().gamut.rgb_to_xyz(),
            signal: Some(screen.signal()),
            to_signal: to_signal(range),
        }
    }

    /// The light of three numbers, with Y = 1 for white.
    #[must_use]
    pub fn xyz(&self, numbers: [f32; 3]) -> [f64; 3] {
        let [gain, offset] = self.to_signal;
        let light = match &self.signal {
            Some(signal) => {
                let full = numbers.map(|v| (v * gain + offset).clamp(0.0, 1.0));
                signal.decode(Rgb::from_array(full)).to_array()
            }
            None => numbers,
        };
        self.to_xyz.apply(light.map(f64::from))
    }

    /// Its chromaticity; nothing for what is too dark to have one.
    #[must_use]
    pub fn chromaticity(&self, numbers: [f32; 3]) -> Option<Xy> {
        chromaticity_of(self.xyz(numbers))
    }
}

fn chromaticity_of(xyz: [f64; 3]) -> Option<Xy> {
    // Light that no eye can see, of a camera's negative numbers, may have a sum of none.
    (xyz[1] >= DARKEST && xyz.iter().sum::<f64>() > DARKEST).then(|| Xy::from_xyz(xyz))
}

/// Pixels by their chromaticity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chromaticities {
    /// `counts[row * FIELD_SIDE + column]`, v' upwards.
    pub counts: Vec<u32>,
    /// Pixels outside each of [`GAMUTS`].
    pub outside: [usize; 3],
    /// Pixels too dark to have a colour.
    pub dark: usize,
    pixels: usize,
}

impl Chromaticities {
    /// Counts a picture; what lies beyond the field counts at its edge.
    #[must_use]
    pub fn of(picture: &Planes, colorimetry: &Colorimetry) -> Self {
        let mut found = Self {
            counts: vec![0; FIELD_SIDE * FIELD_SIDE],
            outside: [0; 3],
            dark: 0,
            pixels: picture.pixels(),
        };
        let to_gamut = GAMUTS.map(|(_, gamut)| gamut.xyz_to_rgb());
        let [red, green, blue] = &picture.planes;
        for ((r, g), b) in red.iter().zip(green).zip(blue) {
            let xyz = colorimetry.xyz([*r, *g, *b]);
            let Some(xy) = chromaticity_of(xyz) else {
                found.dark += 1;
                continue;
            };
            let [u, v] = xy.to_uv_1976();
            found.counts[(FIELD_SIDE - 1 - bin(v)) * FIELD_SIDE + bin(u)] += 1;
            for (outside, matrix) in found.outside.iter_mut().zip(&to_gamut) {
                let least = -ROUNDING * xyz[1];
                *outside += usize::from(matrix.apply(xyz).iter().any(|v| *v < least));
            }
        }
        found
    }

    /// Shares of the picture outside each of [`GAMUTS`], and of what is too dark to have a colour.
    #[must_use]
    pub fn shares(&self) -> [f64; 4] {
        let [a, b, c] = self.outside;
        [a, b, c, self.dark].map(|count| count as f64 / self.pixels.max(1) as f64)
    }

    /// As RGBA, square.
    #[must_use]
    pub fn rgba(&self) -> Vec<u8> {
        let full = self.pixels.max(1) as f32;
        let light = |count: &u32| (*count as f32 / full * 6000.0).sqrt() * 0.5;
        let pixels = self.counts.iter().map(|it| opaque([light(it); 3]));
        pixels.flatten().collect()
    }
}

/// The row or column of a coordinate, counted from 0.
fn bin(coordinate: f64) -> usize {
    let place = coordinate / FIELD_SPAN * FIELD_SIDE as f64;
    (place.max(0.0) as usize).min(FIELD_SIDE - 1)
}

/// What is drawn around the counts, all in u'v'.
#[derive(Clone, Debug)]
pub struct Diagram {
    /// Wavelength in nm, u', v'.
    pub locus: Vec<[f64; 3]>,
    /// Red, green and blue of each of [`GAMUTS`].
    pub gamuts: [[[f64; 2]; 3]; 3],
    /// D65.
    pub white: [f64; 2],
    /// Kelvin, u', v': black bodies up to 4000 K, daylight from 5000 K on (see [`space::white_of`]).
    pub lights: Vec<[f64; 3]>,
}

/// Temperatures of the lights' line, in steps of mired that leave it smooth.
fn temperatures() -> impl Iterator<Item = f64> {
    const STEP_MIRED: f64 = 1e6 / space::KELVIN_MAX / 2.0;
    let steps = (1e6 / space::KELVIN_MIN / STEP_MIRED) as u32;
    (2..=steps).map(|i| 1e6 / (f64::from(i) * STEP_MIRED))
}

/// The diagram of CIE 1976 u'v'.
#[must_use]
pub fn diagram() -> Diagram {
    let point = |says: f64, xy: Xy| {
        let [u, v] = xy.to_uv_1976();
        [says, u, v]
    };
    Diagram {
        locus: space::spectral_locus()
            .map(|(nm, xy)| point(nm, xy))
            .collect(),
        gamuts: GAMUTS.map(|(_, gamut)| gamut.rgb().map(Xy::to_uv_1976)),
        white: white::D65.to_uv_1976(),
        lights: temperatures()
            .map(|kelvin| point(kelvin, space::white_of(kelvin, 0.0)))
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::space::KELVIN_MAX;

    fn of_screen(screen: ScreenId) -> Colorimetry {
        Colorimetry::of(
            StageId::Screen,
            &Display {
                screen,
                ..Display::default()
            },
        )
        .unwrap()
    }

    /// The place of the one bin that is counted, in u'v' of its middle.
    fn place(counts: &[u32], pixels: u32) -> [f64; 2] {
        let at = counts.iter().position(|count| *count == pixels).unwrap();
        let middle = |bin: usize| (bin as f64 + 0.5) * FIELD_SPAN / FIELD_SIDE as f64;
        [
            middle(at % FIELD_SIDE),
            middle(FIELD_SIDE - 1 - at / FIELD_SIDE),
        ]
    }

    /// Corners as the recommendations print them (ITU-R BT.709-6 item 1.3, BT.2020-2 table 3; SMPTE EG 432-1).
    #[test]
    fn a_patch_falls_within_half_a_bin_of_its_screens_primary_and_white() {
        let half = FIELD_SPAN / FIELD_SIDE as f64 / 2.0 + 1e-6;
        for (screen, corners) in [
            (ScreenId::Rec709, [(0.64, 0.33), (0.30, 0.60), (0.15, 0.06)]),
            (ScreenId::Srgb, [(0.64, 0.33), (0.30, 0.60), (0.15, 0.06)]),
            (
                ScreenId::DisplayP3,
                [(0.680, 0.320), (0.265, 0.690), (0.150, 0.060)],
            ),
            (
                ScreenId::P3D65Theatre,
                [(0.680, 0.320), (0.265, 0.690), (0.150, 0.060)],
            ),
            (
                ScreenId::Rec2020,
                [(0.708, 0.292), (0.170, 0.797), (0.131, 0.046)],
            ),
        ] {
            for channel in 0..4 {
                let mut patch = Planes::filled(4, 3, if channel == 3 { 0.6 } else { 0.0 });
                if channel < 3 {
                    patch.planes[channel].fill(0.75);
                }
                let (x, y) = corners.get(channel).copied().unwrap_or((0.3127, 0.3290));
                let d = -2.0 * x + 12.0 * y + 3.0;
                let found = Chromaticities::of(&patch, &of_screen(screen));
                let [u, v] = place(&found.counts, 12);
                assert!(
                    (u - 4.0 * x / d).abs() <= half && (v - 9.0 * y / d).abs() <= half,
                    "{screen:?} {channel}: {u} {v}"
                );
            }
        }
    }

    #[test]
    fn a_wide_primary_lies_outside_of_narrower_gamuts_and_not_of_its_own() {
        let count = |screen| {
            let mut patch = Planes::filled(4, 4, 0.0);
            patch.planes[1].fill(0.8);
            Chromaticities::of(&patch, &of_screen(screen)).outside
        };
        assert_eq!(count(ScreenId::Rec709), [0, 0, 0]);
        assert_eq!(count(ScreenId::DisplayP3), [16, 0, 0]);
        assert_eq!(count(ScreenId::Rec2020), [16, 16, 0]);
    }

    #[test]
    fn scene_grey_of_any_brightness_is_the_white_and_black_has_no_colour() {
        let scene = Colorimetry::of(StageId::Lens, &Display::default()).unwrap();
        for light in [0.002, 0.18, 40.0] {
            let xy = scene.chromaticity([light; 3]).unwrap();
            assert!((xy.x - 0.3127).abs() < 1e-4 && (xy.y - 0.3290).abs() < 1e-4);
        }
        assert_eq!(scene.chromaticity([0.0; 3]), None);
        assert_eq!(scene.chromaticity([-1.0, 0.2, -3.0]), None);
        let mut picture = Planes::filled(2, 2, 0.18);
        for plane in &mut picture.planes {
            plane[0] = 0.0;
        }
        let found = Chromaticities::of(&picture, &scene);
        assert_eq!((found.dark, found.counts.iter().sum::<u32>()), (1, 3));
        assert_eq!(found.shares(), [0.0, 0.0, 0.0, 0.25]);
    }

    #[test]
    fn legal_range_moves_no_colour() {
        let [full, legal] = [CodeRange::Full, CodeRange::Legal]
            .map(|range| Colorimetry::of_screen(ScreenId::Rec709, range));
        let code = [0.7_f32, 0.3, 0.5];
        let squeezed = code.map(|v| (64.0 + 876.0 * v) / 1023.0);
        let (a, b) = (
            full.chromaticity(code).unwrap(),
            legal.chromaticity(squeezed).unwrap(),
        );
        assert!((a.x - b.x).abs() < 1e-6 && (a.y - b.y).abs() < 1e-6);
    }

    #[test]
    fn densities_and_their_codes_have_no_chromaticity() {
        for stage in [StageId::Negative, StageId::Scan] {
            assert!(Colorimetry::of(stage, &Display::default()).is_none());
        }
    }

    #[test]
    fn all_that_is_drawn_lies_in_the_field() {
        let drawn = diagram();
        let lines = drawn.locus.iter().chain(&drawn.lights);
        assert!(lines.clone().count() > 60);
        for [_, u, v] in lines {
            assert!((0.0..FIELD_SPAN).contains(u) && (0.0..FIELD_SPAN).contains(v));
        }
        let hottest = drawn.lights[0][0];
        assert!((hottest - KELVIN_MAX).abs() < 1e-6, "{hottest}");
    }
}
