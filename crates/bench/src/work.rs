//! The pieces of work, by name.

use lookwright_colour::encoding::{Curve, ExposureIndex};
use lookwright_colour::lane::Lane;
use lookwright_colour::{Mat3, PixelMatrix, Rgb};
use lookwright_film::look::{Delivery, Frame, Look, StageId, StartingStock};
use lookwright_film::path::{LightPath, Points};
use lookwright_film::spatial::{Gaussian, Planes, Scratch, Spread, Window};
use lookwright_render::pointwise::{self, Along, PointOp};
use lookwright_render::{Job, Renderer, TablePass, Vectors};
use lookwright_table::Grid3;
use lookwright_table::cdl::{Cdl, Clamp};

/// Pixels of three channels, in place.
type Rows = Box<dyn Fn(Option<Vectors>, [&mut [f32]; 3]) + Sync>;
/// A whole picture, in place.
type Whole = Box<dyn Fn(&mut Planes)>;

enum Action {
    /// Every pixel by itself: can be split over threads.
    Rows(Rows),
    /// The picture as a whole.
    Whole(Whole),
}

/// A piece of work and the frame that it is done on.
pub struct Work {
    source: Planes,
    now: Planes,
    action: Action,
}

impl Work {
    /// Puts the frame back as it was.
    pub fn reset(&mut self) {
        self.now.clone_from(&self.source);
    }

    /// Does the work once, on one thread.
    pub fn run(&mut self) {
        self.run_on(None);
    }

    /// Does the work once, on the given vectors where it is point work.
    pub fn run_on(&mut self, vectors: Option<Vectors>) {
        match &self.action {
            Action::Rows(rows) => rows(vectors, self.now.planes.each_mut().map(Vec::as_mut_slice)),
            Action::Whole(whole) => {
                let mut picture = core::mem::take(&mut self.now);
                whole(&mut picture);
                self.now = picture;
            }
        }
    }

    /// Does point work once, split over two threads. Gives whether it is point work.
    pub fn run_in_two(&mut self) -> bool {
        let Action::Rows(rows) = &self.action else {
            return false;
        };
        let half = self.now.pixels() / 2;
        let [r, g, b] = self
            .now
            .planes
            .each_mut()
            .map(|plane| plane.split_at_mut(half));
        std::thread::scope(|scope| {
            scope.spawn(|| rows(None, [r.0, g.0, b.0]));
            rows(None, [r.1, g.1, b.1]);
        });
        true
    }

    /// Pixels of the frame.
    #[must_use]
    pub fn pixels(&self) -> usize {
        self.source.pixels()
    }
}

/// Reaches of the blurs, in pixels.
const SIGMAS: [usize; 4] = [5, 20, 80, 500];
/// The steps that have texture, in the light's order.
pub const TEXTURE: [&str; 10] = [
    "diffusion",
    "fringe",
    "vignette",
    "weave",
    "halation",
    "softness",
    "edge",
    "grain",
    "dust",
    "flicker",
];

/// The look's point part where neighbours are alike, so that what none of them needs is not done.
const PHOTOGRAPH: &str = "look, point part, of a photograph";

/// Every name.
#[must_use]
pub fn names() -> Vec<String> {
    let point = [
        "copy and multiply",
        "matrix",
        "LogC3 to linear",
        "CDL with power and saturation",
        "table 33",
        "table 65",
        "chain LogC3 + matrix + CDL",
        "chain LogC3 + matrix + CDL + table 33",
        "look, point part",
        PHOTOGRAPH,
    ];
    let blurs = SIGMAS.map(|sigma| format!("blur {sigma} px"));
    let all = point.into_iter().map(str::to_owned).chain(blurs);
    let steps = TEXTURE.into_iter().chain(["look, all texture"]);
    all.chain(steps.map(str::to_owned)).collect()
}

/// The work of this name on a frame of `width` by `height` pixels.
#[must_use]
pub fn work(name: &str, width: usize, height: usize) -> Option<Work> {
    let action = match name {
        "copy and multiply" => point(Multiply),
        "matrix" => point(Matrix(MATRIX.for_pixels())),
        "LogC3 to linear" => point(LogC3),
        "CDL with power and saturation" => point(Correction(correction()?)),
        "table 33" | "table 65" => {
            let pass = TablePass::new(colour_table(if name == "table 33" { 33 } else { 65 })?);
            Action::Rows(Box::new(move |vectors, rows| pass.run_on(vectors, rows)))
        }
        "chain LogC3 + matrix + CDL" => point(chain()?),
        "chain LogC3 + matrix + CDL + table 33" => {
            let (chain, pass) = (chain()?, TablePass::new(colour_table(33)?));
            Action::Rows(Box::new(move |vectors, rows| {
                in_blocks(rows, |mut block| {
                    pointwise::run_on(vectors, &chain, block.each_mut().map(|p| &mut **p));
                    pass.run_on(vectors, block);
                });
            }))
        }
        "look, point part" | PHOTOGRAPH => {
            let look = Look::starting(StartingStock::Evening);
            let path = LightPath::new(&look, &log_frame()?, &Delivery::default());
            Action::Rows(Box::new(move |vectors, rows| {
                pointwise::run_on(vectors, &Along(&path, Points::up_to(StageId::Screen)), rows);
            }))
        }
        "look, all texture" => whole_look(width, height, &TEXTURE)?,
        _ if TEXTURE.contains(&name) => whole_look(width, height, &[name])?,
        _ => match number(name, "look, texture steps: ", "") {
            Some(count) => whole_look(width, height, TEXTURE.get(..count)?)?,
            None => blur(number(name, "blur ", " px")?, width, height),
        },
    };
    let source = if name == PHOTOGRAPH {
        crate::frame::photograph(width, height)?
    } else {
        crate::frame(width, height)
    };
    Some(Work {
        now: source.clone(),
        source,
        action,
    })
}

/// Pixels that are worked on at a time where passes follow each other, so that the second finds
/// them in the cache.
const BLOCK: usize = 2048;

fn in_blocks([r, g, b]: [&mut [f32]; 3], work: impl Fn([&mut [f32]; 3])) {
    for ((r, g), b) in r
        .chunks_mut(BLOCK)
        .zip(g.chunks_mut(BLOCK))
        .zip(b.chunks_mut(BLOCK))
    {
        work([r, g, b]);
    }
}

fn point(op: impl PointOp + Sync + 'static) -> Action {
    Action::Rows(Box::new(move |vectors, rows| {
        pointwise::run_on(vectors, &op, rows)
    }))
}

/// A frame in LogC3, untrimmed.
fn log_frame() -> Option<Frame> {
    Frame::read(r#"{"source":{"encoding":"logc3"}}"#).ok()
}

/// The starting look with the given steps of its texture on and no others, at their settings.
fn whole_look(width: usize, height: usize, on: &[&str]) -> Option<Action> {
    let mut look = Look::starting(StartingStock::Evening);
    look.for_each_step(|step| {
        if step.spec().texture {
            step.set_on(on.contains(&step.spec().id));
        }
    });
    let job = Job {
        look,
        frame: log_frame()?,
        delivery: Delivery::default(),
        stage: StageId::Screen,
        window: Window::whole(width, height),
        frame_number: 0,
    };
    Some(Action::Whole(Box::new(move |picture| {
        *picture = Renderer::new(core::mem::take(picture)).render(&job);
    })))
}

/// The number between two parts of a name.
fn number(name: &str, before: &str, after: &str) -> Option<usize> {
    name.strip_prefix(before)?.strip_suffix(after)?.parse().ok()
}

fn blur(sigma: usize, width: usize, height: usize) -> Action {
    let gaussian = Gaussian {
        sigma: sigma as f64,
        share: 1.0,
    };
    let spread = Spread::new(width, height, &[gaussian], None);
    Action::Whole(Box::new(move |picture| {
        let mut scratch = Scratch::default();
        for channel in 0..3 {
            spread.gather(&mut scratch, |y, row| {
                row.copy_from_slice(picture.row(channel, y))
            });
            spread.emit(&scratch, |y, row| {
                picture.row_mut(channel, y).copy_from_slice(row)
            });
        }
    }))
}

/// The matrix of the chain: a camera's to a screen's.
const MATRIX: Mat3 = Mat3([
    [1.62, -0.54, -0.08],
    [-0.07, 1.33, -0.26],
    [0.02, -0.23, 1.21],
]);

fn correction() -> Option<Cdl> {
    Cdl::new([1.1, 1.0, 0.9], [0.01, 0.0, -0.01], [0.9, 1.0, 1.1], 1.1).ok()
}

/// A table that bends and mixes colours, over 0 ... 1.
#[must_use]
pub fn colour_table(size: usize) -> Option<Grid3> {
    Grid3::sample_codes(size, |[r, g, b]| {
        [
            r * r + 0.1 * g * (1.0 - r),
            0.9 * g + 0.1 * b,
            0.5 * b + 0.5 * b * b,
        ]
    })
    .ok()
}

struct Multiply;

impl PointOp for Multiply {
    #[inline(always)]
    fn apply<L: Lane>(&self, Rgb { r, g, b }: Rgb<L>) -> Rgb<L> {
        Rgb::new(r * 1.5, g * 1.5, b * 1.5)
    }
}

struct Matrix(PixelMatrix);

impl PointOp for Matrix {
    #[inline(always)]
    fn apply<L: Lane>(&self, pixel: Rgb<L>) -> Rgb<L> {
        self.0.apply(pixel)
    }
}

struct LogC3;

impl PointOp for LogC3 {
    #[inline(always)]
    fn apply<L: Lane>(&self, Rgb { r, g, b }: Rgb<L>) -> Rgb<L> {
        let curve = Curve::LogC3(ExposureIndex::Ei800);
        Rgb::new(curve.decode(r), curve.decode(g), curve.decode(b))
    }
}

struct Correction(Cdl);

impl PointOp for Correction {
    #[inline(always)]
    fn apply<L: Lane>(&self, pixel: Rgb<L>) -> Rgb<L> {
        self.0.apply(pixel, Clamp::On)
    }
}

/// LogC3 to linear, matrix, correction.
struct Chain(PixelMatrix, Cdl);

fn chain() -> Option<Chain> {
    Some(Chain(MATRIX.for_pixels(), correction()?))
}

impl PointOp for Chain {
    #[inline(always)]
    fn apply<L: Lane>(&self, pixel: Rgb<L>) -> Rgb<L> {
        self.1.apply(self.0.apply(LogC3.apply(pixel)), Clamp::On)
    }
}
