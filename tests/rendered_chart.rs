//! A 24-patch chart laid over a picture, in perspective and with noise, and what chart check says of it.
//!
//! The patches come from `reference/lights.json` (colour-science 0.4.7: measured reflectances of many charts
//! under published illuminants), the published colours from `reference/encodings.json`.

use lookwright_colour::encoding::ScreenId;
use lookwright_colour::space::primaries::AP1;
use lookwright_colour::{Mat3, Rgb};
use lookwright_film::look::{Frame, Look};
use lookwright_film::path::FrameCode;
use lookwright_film::path::intake::IntakePoint;
use lookwright_film::spatial::Planes;
use lookwright_render::judge::{ChartCheck, ChartCorners, check_chart};
use serde_json::Value;

/// Side of a patch and the chart's border, in what lies between patches' middles.
const PATCH: f64 = 0.87;
const BORDER: f64 = 0.75;
/// Light that the chart's own card reflects.
const CARD: f64 = 0.035;
/// Points along a side of each pixel.
const FINE: usize = 3;

/// Numbers that look drawn by chance, the same every time (Knuth's multiplier for 64 bits).
pub struct Noise(u64);

impl Noise {
    /// From a seed.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// From 0 to 1.
    pub fn even(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// About normal, of standard deviation 1: a sum of twelve.
    pub fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.even()).sum::<f64>() - 6.0
    }
}

/// Where the outer corners of a chart's card lie, clockwise from its dark skin.
#[derive(Clone, Copy, Debug)]
pub struct Corners(pub [[f64; 2]; 4]);

impl Corners {
    /// A card `share` times as wide as the picture, or as wide as fits, turned and slanted, at a place
    /// from 0 to 1 of where it fits.
    pub fn within(
        picture: &Planes,
        share: f64,
        degrees: f64,
        slant: [f64; 8],
        place: [f64; 2],
    ) -> Self {
        let size = [picture.width as f64, picture.height as f64];
        let (wide, high) = (5.0 + 2.0 * BORDER, 3.0 + 2.0 * BORDER);
        let (sine, cosine) = (
            libm::sin(degrees.to_radians()),
            libm::cos(degrees.to_radians()),
        );
        let unit: [[f64; 2]; 4] = core::array::from_fn(|i| {
            let [x, y] = [[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]][i];
            let (x, y) = (x + slant[2 * i], (y + slant[2 * i + 1]) * high / wide);
            [x * cosine - y * sine, x * sine + y * cosine]
        });
        let span = |axis: usize| {
            let along = unit.map(|corner| corner[axis]);
            (
                along.into_iter().fold(f64::INFINITY, f64::min),
                along.into_iter().fold(f64::NEG_INFINITY, f64::max),
            )
        };
        let spans = [span(0), span(1)];
        let fits = (0..2).map(|i| 0.99 * size[i] / (spans[i].1 - spans[i].0));
        let by = fits.fold(share * size[0], f64::min);
        let start =
            [0, 1].map(|i| (size[i] - by * (spans[i].1 - spans[i].0)) * place[i] - by * spans[i].0);
        Self(unit.map(|corner| [0, 1].map(|i| start[i] + by * corner[i])))
    }
}

/// A picture with a chart.
pub struct Laid {
    /// Scene light, AP1.
    pub picture: Planes,
    /// Middles of the corner patches in pixels, clockwise from dark skin.
    pub centres: [[f64; 2]; 4],
    /// Shortest way from one corner patch to the next, by patches.
    pub mesh: f64,
}

/// Lays a chart, `stops` over its reflectances, over scene light. `grain`: noise against the light.
pub fn laid(
    background: &Planes,
    patches: &[[f64; 3]],
    stops: f64,
    corners: &Corners,
    grain: f64,
    noise: &mut Noise,
) -> Laid {
    let to_picture = from_square(&corners.0);
    let from_picture = to_picture.inverse().expect("corners of a card");
    let gain = libm::exp2(stops);
    let mut picture = background.clone();
    let width = picture.width;
    let (wide, high) = (5.0 + 2.0 * BORDER, 3.0 + 2.0 * BORDER);
    for i in 0..picture.pixels() {
        let mut light = [0.0; 3];
        for k in 0..FINE * FINE {
            let at = |k: usize| (k as f64 + 0.5) / FINE as f64;
            let (x, y) = (
                (i % width) as f64 + at(k % FINE),
                (i / width) as f64 + at(k / FINE),
            );
            let [u, v, w] = from_picture.apply([x, y, 1.0]);
            let (u, v) = (u / w, v / w);
            let here = if (0.0..1.0).contains(&u) && (0.0..1.0).contains(&v) {
                patch_at(patches, u * wide - BORDER, v * high - BORDER).map(|light| light * gain)
            } else {
                [0, 1, 2].map(|c| f64::from(background.planes[c][i]))
            };
            for (sum, light) in light.iter_mut().zip(here) {
                *sum += light / (FINE * FINE) as f64;
            }
        }
        for (plane, light) in picture.planes.iter_mut().zip(light) {
            plane[i] = (light * (1.0 + grain * noise.normal())) as f32;
        }
    }
    let centre = |u: f64, v: f64| {
        let [x, y, w] = to_picture.apply([(u + BORDER) / wide, (v + BORDER) / high, 1.0]);
        [x / w, y / w]
    };
    let centres = [
        centre(0.0, 0.0),
        centre(5.0, 0.0),
        centre(5.0, 3.0),
        centre(0.0, 3.0),
    ];
    let meshes = (0..4).map(|i| {
        let ([ax, ay], [bx, by]) = (centres[i], centres[(i + 1) % 4]);
        libm::hypot(bx - ax, by - ay) / if i % 2 == 0 { 5.0 } else { 3.0 }
    });
    Laid {
        mesh: meshes.fold(f64::INFINITY, f64::min),
        picture,
        centres,
    }
}

fn patch_at(patches: &[[f64; 3]], u: f64, v: f64) -> [f64; 3] {
    let (column, row) = (libm::round(u), libm::round(v));
    let on_card = (u - column).abs() > PATCH / 2.0 || (v - row).abs() > PATCH / 2.0;
    if on_card || !(0.0..6.0).contains(&column) || !(0.0..4.0).contains(&row) {
        return [CARD; 3];
    }
    patches[row as usize * 6 + column as usize]
}

/// The perspective of the unit square (Heckbert, Fundamentals of Texture Mapping and Image Warping, 1989).
fn from_square([[x0, y0], [x1, y1], [x2, y2], [x3, y3]]: &[[f64; 2]; 4]) -> Mat3 {
    let (dx1, dy1, dx2, dy2) = (x1 - x2, y1 - y2, x3 - x2, y3 - y2);
    let (sx, sy) = (x0 - x1 + x2 - x3, y0 - y1 + y2 - y3);
    let across = dx1 * dy2 - dx2 * dy1;
    let g = (sx * dy2 - dx2 * sy) / across;
    let h = (dx1 * sy - sx * dy1) / across;
    Mat3([
        [x1 - x0 + g * x1, x3 - x0 + h * x3, *x0],
        [y1 - y0 + g * y1, y3 - y0 + h * y3, *y0],
        [g, h, 1.0],
    ])
}

/// A published light.
pub struct Lit {
    /// What it is called there.
    pub name: String,
    /// Its correlated colour temperature.
    pub kelvin: f64,
    /// The chart in it, as AP1 scene light.
    pub patches: Vec<[f64; 3]>,
}

/// Three numbers.
pub fn triple(value: &Value) -> [f64; 3] {
    [0, 1, 2].map(|i| value[i].as_f64().expect("reference"))
}

/// The chart in each of the published lights.
pub fn lights() -> Vec<Lit> {
    let lights: Value =
        serde_json::from_str(include_str!("reference/lights.json")).expect("reference");
    let one = |light: &Value| Lit {
        name: light["light"].as_str().expect("reference").to_owned(),
        kelvin: light["kelvin"].as_f64().expect("reference"),
        patches: light["patches"]
            .as_array()
            .expect("reference")
            .iter()
            .map(triple)
            .collect(),
    };
    lights
        .as_array()
        .expect("reference")
        .iter()
        .map(one)
        .collect()
}

/// The published patches of the chart.
pub fn published() -> Vec<Value> {
    let reference: Value =
        serde_json::from_str(include_str!("reference/encodings.json")).expect("reference");
    reference["chart"].as_array().expect("reference").clone()
}

/// Looks for a chart; the sentence if there is none.
pub fn check(code: &Planes, frame: &Frame) -> Result<ChartCheck, String> {
    check_chart(code, frame, &Look::default(), ScreenId::Srgb, None)
        .map_err(|error| error.message().to_owned())
}

/// A frame of scene light.
pub fn scene() -> Frame {
    Frame::read(r#"{"source":{"encoding":"acescg"}}"#).expect("reference")
}

/// How far greys lie from their published luminance once what is suggested is taken, in stops.
pub fn exposure_left(found: &ChartCheck, patches: &[[f64; 3]], stops: f64) -> f64 {
    let trim = found.trim.expect("reference");
    let mut frame = scene();
    frame.trim.exposure = trim.exposure;
    frame.trim.kelvin = trim.kelvin;
    frame.trim.tint = trim.tint;
    let intake = IntakePoint::new(&frame);
    let published = published();
    let left = (19..23).map(|i| {
        let code = patches[i].map(|v| (v * libm::exp2(stops)) as f32);
        let light = intake.apply(FrameCode(Rgb::from_array(code))).0.to_array();
        let luminance = AP1.rgb_to_xyz().apply(light.map(f64::from))[1];
        libm::log2(luminance / published[i]["xyY"][2].as_f64().expect("reference"))
    });
    left.sum::<f64>() / 4.0
}

/// How far the light that is suggested lies from one, in mired.
pub fn mired_off(found: &ChartCheck, kelvin: f64) -> f64 {
    (1e6 / found.trim.expect("reference").kelvin - 1e6 / kelvin).abs()
}

/// Farthest that a corner was found from where it lies, in the shorter mesh of the chart.
pub fn corners_off(found: &ChartCorners, laid: &Laid) -> f64 {
    let far = |(a, b): (&[f64; 2], &[f64; 2])| {
        let size = [laid.picture.width as f64, laid.picture.height as f64];
        libm::hypot(a[0] * size[0] - b[0], a[1] * size[1] - b[1])
    };
    let most = found.iter().zip(&laid.centres).map(far).fold(0.0, f64::max);
    most / laid.mesh
}
