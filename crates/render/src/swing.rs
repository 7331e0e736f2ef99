//! How far a step that lies on the film swings what comes of a grey scale: what a plate of it has to
//! be multiplied by where it is laid on code.

use super::job::Job;
use super::pointwise::Along;
use lookwright_film::path::plan::Action;
use lookwright_film::path::{Plan, Points};
use lookwright_film::spatial::{Planes, Window};

/// What a step does to one grey.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swing {
    /// The grey's code without the step.
    pub code: [f32; 3],
    /// Standard deviation of the code with it, which nothing holds to 0 ... 1.
    pub deviation: [f32; 3],
}

/// What an overlay of the job's look does, without any other texture, to even pictures of `greys`
/// (codes of the job's frame), or none if the look has no such step. Every grey lies under the same
/// `edge` x `edge` pixels from the middle of `frames` frames, the job's first, so that one can be
/// compared with another.
pub fn swings(
    step: &str,
    job: &Job,
    (edge, frames): (usize, u32),
    greys: &[f32],
) -> Option<Vec<Swing>> {
    let plan = job.plan();
    let Action::Overlay(overlay) = &plan.node(step)?.action else {
        return None;
    };
    let (before, after) = points_around(&plan, step);
    let (width, height) = (job.window.full_width as i32, job.window.full_height as i32);
    let window = Window {
        x0: (width - edge as i32) / 2,
        y0: (height - edge as i32) / 2,
        ..job.window
    };
    let run = |points, planes: &mut Planes| Along(plan.path(), points).run(planes);
    let one = |&grey: &f32| {
        let mut film = Planes::filled(1, 1, grey);
        run(before, &mut film);
        let density = film.planes.each_ref().map(|plane| plane[0]);
        run(after, &mut film);
        let code = film.planes.map(|plane| plane[0]);
        (density, code)
    };
    let greys: Vec<_> = greys.iter().map(one).collect();
    let mut sums = vec![[[0.0_f64; 2]; 3]; greys.len()];
    for number in job.frame_number..job.frame_number + frames {
        let field = overlay.field((edge, edge), &window, number, None);
        let lay = |density: &mut Planes| match &field {
            Some(field) => field.add_still(density),
            None => overlay.lay(density, &window, number),
        };
        for ((density, code), sums) in greys.iter().zip(&mut sums) {
            let mut laid = laid_on(*density, edge, &lay);
            run(after, &mut laid);
            for channel in 0..3 {
                add_away(&laid.planes[channel], code[channel], &mut sums[channel]);
            }
        }
    }
    let count = f64::from(frames) * (edge * edge) as f64;
    let told = greys.iter().zip(sums).map(|((_, code), sums)| Swing {
        code: *code,
        deviation: sums.map(|[sum, squares]| {
            let mean = sum / count;
            libm::sqrt((squares / count - mean * mean).max(0.0)) as f32
        }),
    });
    Some(told.collect())
}

/// The point parts before an overlay, and those after it.
fn points_around(plan: &Plan, step: &str) -> (Points, Points) {
    let (mut before, mut after) = (Points::NONE, Points::NONE);
    let mut passed = false;
    for node in plan.nodes() {
        passed |= node.step == step;
        if let Action::Point(part) = node.action {
            match passed {
                false => before = before.and(part),
                true => after = after.and(part),
            }
        }
    }
    (before, after)
}

/// An even density with the overlay on it: the pixels that it changed, in one row.
fn laid_on(density: [f32; 3], edge: usize, lay: &impl Fn(&mut Planes)) -> Planes {
    let mut picture = Planes::filled(edge, edge, 0.0);
    for (plane, value) in picture.planes.iter_mut().zip(density) {
        plane.fill(value);
    }
    lay(&mut picture);
    let changed = |i: usize| (0..3).any(|c| picture.planes[c][i] != density[c]);
    let places: Vec<usize> = (0..edge * edge).filter(|&i| changed(i)).collect();
    let planes = picture
        .planes
        .map(|plane| places.iter().map(|&i| plane[i]).collect());
    Planes {
        width: places.len(),
        height: 1,
        planes,
    }
}

/// Adds how far pixels are from `code` to the sums of that and of its square.
fn add_away(pixels: &[f32], code: f32, [sum, squares]: &mut [f64; 2]) {
    for pixel in pixels {
        let away = f64::from(pixel - code);
        *sum += away;
        *squares += away * away;
    }
}
