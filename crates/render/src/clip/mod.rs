//! A clip through a look, frame by frame, while it plays: 8 bits in, 8 bits out.
//!
//! What does not show in motion is cut:
//!
//! - code to layer exposure, and density to the screen, are tables of 33 nodes, made once per look;
//! - stray light is worked out at half the size ([`stray`]);
//! - what spreads less than that is one Gaussian ([`soft`]);
//! - a field that an overlay draws is moved about (`KeptGrain`).
//!
//! Without grain, 9 of 10 codes lie within one step of 8 bits of the exact picture and 99 of 100
//! within two (held by the tests); at the edges of small lamps up to 36 was seen. A frame at rest and whatever is saved goes the exact way.

mod soft;
mod stray;
#[cfg(test)]
mod tests;

use core::ops::Range;

use super::fast::TablePass;
use super::job::Job;
use super::output::rgba8;
use super::pointwise::{self, Along, PointOp};
use super::quick::{Spaced, table_of_codes};
use lookwright_colour::Rgb;
use lookwright_colour::error::Result;
use lookwright_film::look::StageId;
use lookwright_film::path::negative::grain::KeptGrain;
use lookwright_film::path::plan::{Action, InMotion, Node};
use lookwright_film::path::{LightPath, Plan, PointPart, Points};
use lookwright_film::spatial::moved::move_whole;
use lookwright_film::spatial::step::SpreadStep;
use lookwright_film::spatial::{Planes, Window};
use soft::Soft;
use stray::{Stray, half_size};

/// Rows that go through the point passes at once: so few that they stay in the cache.
const BAND: usize = 8;
/// By how much stray light may raise an exposure above the brightest that a code leads to.
const STRAY_ROOM: f32 = 1.5;
/// Density that grain may add or take at the ends.
const GRAIN_ROOM: f32 = 0.12;

/// Renders the frames of a clip at one size through one look.
pub struct ClipRenderer {
    job: Job,
    plan: Plan,
    /// From the frame's code to the stage's numbers.
    steps: Vec<Motion>,
    picture: Planes,
}

/// What is done to a frame.
enum Motion {
    /// To each pixel by itself, through a table.
    Table(TablePass),
    /// To each pixel by itself.
    Points(Points),
    /// Densities to places on the axes of the table that follows.
    Spaced(Spaced),
    /// A field, by the name of its step, moved about.
    Field(&'static str, KeptGrain),
    /// Light that strays widely.
    Stray(Stray),
    /// What spreads a little.
    Soft(Soft),
    /// The picture lies elsewhere: the plan's node of that number.
    Move(usize),
    /// An overlay, drawn for each frame: the plan's node of that number.
    Overlay(usize),
}

impl Motion {
    /// Whether it can be done to some rows at a time.
    const fn is_by_rows(&self) -> bool {
        matches!(
            self,
            Self::Table(_) | Self::Points(_) | Self::Spaced(_) | Self::Field(..)
        )
    }
}

impl ClipRenderer {
    /// Whether a stage can be shown while a clip plays: the ends of the path and what follows the
    /// negative.
    pub const fn shows(stage: StageId) -> bool {
        !matches!(stage, StageId::Lens | StageId::Negative)
    }

    /// For frames of `width` by `height` pixels, whose place and scale is the job's window; its
    /// frame number does not matter, [`Self::shows`] must hold for its stage. What can be kept of
    /// `before` is.
    ///
    /// # Errors
    /// None for jobs that were read.
    pub fn new(job: &Job, width: usize, height: usize, before: Option<Self>) -> Result<Self> {
        let plan = match job.stage {
            StageId::Intake => job.unstyled_plan(),
            _ => job.plan(),
        };
        let mut kept = Vec::new();
        for step in before.into_iter().flat_map(|before| before.steps) {
            if let Motion::Field(name, field) = step {
                kept.push((name, field));
            }
        }
        let steps = steps(&plan, &job.window, (width, height), kept)?;
        Ok(Self {
            job: job.clone(),
            plan,
            steps,
            picture: Planes::filled(width, height, 0.0),
        })
    }

    /// Whether this renders frames of that size for that job.
    pub fn suits(&self, job: &Job, width: usize, height: usize) -> bool {
        (self.picture.width, self.picture.height) == (width, height)
            && self.job
                == Job {
                    frame_number: self.job.frame_number,
                    ..job.clone()
                }
    }

    /// Frame `number`, in place: RGBA, 8 bits each, as many pixels as this is made for. Overlays
    /// follow the number.
    ///
    /// # Panics
    /// If there are fewer pixels.
    pub fn render(&mut self, rgba: &mut [u8], number: u32) {
        let Self {
            job,
            plan,
            steps,
            picture,
        } = self;
        let (width, height) = (picture.width, picture.height);
        let mut rest = &mut steps[..];
        let mut is_first = true;
        while !rest.is_empty() {
            let count = rest.iter().take_while(|step| step.is_by_rows()).count();
            let (by_rows, after) = core::mem::take(&mut rest).split_at_mut(count);
            let bands = if count > 0 { height } else { 0 };
            for top in (0..bands).step_by(BAND) {
                let rows = top..height.min(top + BAND);
                let bytes = &mut rgba[4 * rows.start * width..4 * rows.end * width];
                let mut planes = part(picture, &rows);
                if is_first {
                    read(bytes, &mut planes);
                }
                for step in &*by_rows {
                    run_rows(step, plan.path(), &rows, &mut planes, number);
                }
                if after.is_empty() {
                    write(&planes, bytes);
                }
            }
            is_first = false;
            if let Some((step, after)) = after.split_first_mut() {
                match step {
                    Motion::Stray(stray) => stray.add(picture),
                    Motion::Soft(soft) => soft.run(picture),
                    Motion::Move(node) => {
                        if let Action::Move(moving) = &plan.nodes()[*node].action {
                            move_whole(picture, &moving.moves(&job.window, number));
                        }
                    }
                    Motion::Overlay(node) => {
                        if let Action::Overlay(overlay) = &plan.nodes()[*node].action {
                            overlay.lay(picture, &job.window, number);
                        }
                    }
                    Motion::Table(_)
                    | Motion::Points(_)
                    | Motion::Spaced(_)
                    | Motion::Field(..) => {}
                }
                rest = after;
            }
        }
    }
}

fn run_rows(
    step: &Motion,
    path: &LightPath,
    rows: &Range<usize>,
    planes: &mut [&mut [f32]; 3],
    number: u32,
) {
    let planes = planes.each_mut().map(|plane| &mut **plane);
    match step {
        Motion::Table(table) => table.run_rows(planes),
        Motion::Points(points) => Along(path, *points).run_rows(planes),
        Motion::Spaced(spaced) => pointwise::run_rows(spaced, planes),
        Motion::Field(_, field) => field.add(rows.clone(), planes, number),
        Motion::Stray(_) | Motion::Soft(_) | Motion::Move(_) | Motion::Overlay(_) => {}
    }
}

/// What a plan does to frames of `size`: the first point parts as a table up to the film, those of
/// the film as they are, and the last ones as a table again. Where no film is exposed, all is one table.
fn steps(
    plan: &Plan,
    window: &Window,
    size: (usize, usize),
    kept: Vec<(&'static str, KeptGrain)>,
) -> Result<Vec<Motion>> {
    let exposed = |_: &Points| !plan.path().is_of_scan();
    let Some(finish) = plan.finish().filter(exposed) else {
        let all = plan
            .passes()
            .iter()
            .fold(Points::NONE, |all, pass| all.with(pass.points));
        return Ok(vec![Motion::Table(table_of_codes(&Along(
            plan.path(),
            all,
        ))?)]);
    };
    let is_developed = |node: &Node| matches!(node.action, Action::Point(PointPart::Develop));
    let developed = plan.nodes().iter().position(is_developed);
    let (light, film) = plan.nodes().split_at(developed.unwrap_or(0));
    let mut entering = Points::NONE;
    for node in light {
        if let Action::Point(part) = node.action {
            entering = entering.and(part);
        }
    }
    let mut steps = vec![Motion::Table(table_of_codes(&Along(
        plan.path(),
        entering,
    ))?)];
    let mut kept = kept;
    add_spatial(&mut steps, light, 0, window, size, &mut kept);
    steps.push(Motion::Points(Points::only(PointPart::Develop)));
    add_spatial(&mut steps, film, light.len(), window, size, &mut kept);
    let spaced = Spaced(plan.path().spacing());
    let ranges = places(&spaced, plan.path(), entering);
    let leaving = spaced.table(&Along(plan.path(), finish), ranges)?;
    steps.push(Motion::Spaced(spaced));
    steps.push(Motion::Table(leaving));
    Ok(steps)
}

/// What is not point by point of some nodes, of which the first has that number in its plan.
fn add_spatial(
    steps: &mut Vec<Motion>,
    nodes: &[Node],
    first: usize,
    window: &Window,
    size: (usize, usize),
    kept: &mut Vec<(&'static str, KeptGrain)>,
) {
    let halved = Window {
        scale: window.scale / 2.0,
        ..*window
    };
    let mut stray: Vec<Box<dyn SpreadStep>> = Vec::new();
    let mut others = Vec::new();
    for (number, node) in (first..).zip(nodes) {
        match &node.action {
            Action::Point(_) => {}
            Action::Spread(spreading) => match spreading.in_motion(window) {
                InMotion::Halved => stray.extend(spreading.step(half_size(size), &halved)),
                InMotion::Gaussian(variances) => others.extend(
                    (spreading.step(size, window))
                        .and_then(|step| Soft::new(step, variances))
                        .map(Motion::Soft),
                ),
            },
            Action::Move(_) => others.push(Motion::Move(number)),
            Action::Overlay(overlay) => {
                let before = kept.iter().position(|(step, _)| *step == node.step);
                let before = before.map(|place| kept.swap_remove(place).1);
                others.push(match overlay.field(size, window, 0, before) {
                    Some(field) => Motion::Field(node.step, field),
                    None => Motion::Overlay(number),
                });
            }
        }
    }
    if !stray.is_empty() {
        steps.push(Motion::Stray(Stray::new(size, stray)));
    }
    steps.append(&mut others);
}

/// The lowest and the highest place on each axis that a code can lead to, which `entering` makes
/// light on the film of, with room for stray light and grain.
fn places(spaced: &Spaced, path: &LightPath, entering: Points) -> [(f32, f32); 3] {
    // Exposures are largest and smallest where codes are; densities, whose layers only hold each
    // other back, where exposures are.
    let corner = |i: usize, ends: [[f32; 3]; 2]| {
        let end = |axis: usize| ends[i >> axis & 1][axis];
        Rgb::new(end(0), end(1), end(2))
    };
    let mut ends = [[f32::MAX; 3], [f32::MIN; 3]];
    for i in 0..8 {
        let exposure = Along(path, entering).apply(corner(i, [[0.0; 3], [1.0; 3]]));
        for (axis, value) in exposure.to_array().into_iter().enumerate() {
            ends[0][axis] = ends[0][axis].min(value);
            ends[1][axis] = ends[1][axis].max(value * STRAY_ROOM);
        }
    }
    let develop = Points::only(PointPart::Develop);
    let mut ranges = [(f32::MAX, f32::MIN); 3];
    for i in 0..8 {
        let density = path.along(develop, corner(i, ends));
        for grain in [-GRAIN_ROOM, GRAIN_ROOM] {
            let places = spaced.apply(density.map(|d| d + grain)).to_array();
            for ((low, high), place) in ranges.iter_mut().zip(places) {
                (*low, *high) = (low.min(place), high.max(place));
            }
        }
    }
    ranges
}

/// Some rows of a picture.
fn part<'a>(picture: &'a mut Planes, rows: &Range<usize>) -> [&'a mut [f32]; 3] {
    let width = picture.width;
    let range = rows.start * width..rows.end * width;
    picture
        .planes
        .each_mut()
        .map(|plane| &mut plane[range.clone()])
}

/// Codes of 8 bits, on the scale where the largest is 1.
fn read(rgba: &[u8], [red, green, blue]: &mut [&mut [f32]; 3]) {
    let pixels = rgba.as_chunks::<4>().0.iter();
    let planes = red.iter_mut().zip(green.iter_mut()).zip(blue.iter_mut());
    for (pixel, ((r, g), b)) in pixels.zip(planes) {
        let code = |byte: u8| f32::from(byte) * (1.0 / 255.0);
        (*r, *g, *b) = (code(pixel[0]), code(pixel[1]), code(pixel[2]));
    }
}

/// To codes of 8 bits, rounded; the fourth byte is opaque.
fn write([red, green, blue]: &[&mut [f32]; 3], rgba: &mut [u8]) {
    let pixels = rgba.as_chunks_mut::<4>().0.iter_mut();
    let planes = red.iter().zip(green.iter()).zip(blue.iter());
    for (pixel, ((r, g), b)) in pixels.zip(planes) {
        *pixel = rgba8(*r, *g, *b);
    }
}
