//! Plates: the texture that no table can carry, as pictures of its own.
//!
//! - Grain: log scan code around 0.5, for an even grey; laid by `code + 2 plate - 1`.
//! - Dust: log scan code from 0; laid by adding.
//! - Halation: the light that it adds to layer exposure, linear; it is the picture's own.

use super::job::Job;
use super::kept::run_node;
use super::pointwise::Along;
use lookwright_film::look::StageId;
use lookwright_film::path::plan::Action;
use lookwright_film::path::{Plan, Points};
use lookwright_film::spatial::Planes;

/// The grain of the job's look over a mid-grey of `width` x `height` pixels, or none if the look
/// has no grain.
pub fn grain_plate(width: usize, height: usize, job: &Job) -> Option<Planes> {
    overlay_plate("grain", (width, height), job)
}

/// The dust of the job's look on a frame of `width` x `height` pixels, or none if it has no dust.
pub fn dust_plate(width: usize, height: usize, job: &Job) -> Option<Planes> {
    overlay_plate("dust", (width, height), job)
}

/// The light that the look's halation adds to a picture's layer exposure (mid-grey 0.18), from
/// the picture's code, or none if the look has no halation.
pub fn halation_plate(code: Planes, job: &Job) -> Option<Planes> {
    spread_plate("halation", code, job)
}

fn overlay_plate(step: &str, size: (usize, usize), job: &Job) -> Option<Planes> {
    match &film_plan(job).node(step)?.action {
        Action::Overlay(overlay) => Some(overlay.plate(size, &job.window, job.frame_number)),
        _ => None,
    }
}

/// What a step adds to a picture that has come as far as it.
fn spread_plate(step: &str, code: Planes, job: &Job) -> Option<Planes> {
    let plan = film_plan(job);
    plan.node(step)?;
    let mut picture = code;
    for node in plan.nodes() {
        match &node.action {
            Action::Spread(spreading) if node.step == step => {
                return spreading.plate(picture, &job.window);
            }
            // The picture that it is laid over lies where the camera saw it: no table can move it.
            Action::Move(moving) if moving.is_numbered() => {}
            Action::Point(part) => {
                Along(plan.path(), Points::only(*part)).run(&mut picture);
            }
            _ => run_node(node, &mut picture, job, None),
        }
    }
    None
}

fn film_plan(job: &Job) -> Plan {
    Plan::of(&job.look, &job.frame, &job.delivery, StageId::Negative)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::strips::tests::night;
    use lookwright_film::look::{Delivery, Frame, Look, StartingStock};
    use lookwright_film::spatial::Window;

    #[test]
    fn halation_lies_over_the_picture_as_it_came_whatever_the_frame() {
        let mut look = Look::starting(StartingStock::Evening);
        look.negative.halation.on = true;
        let plate = |look: &Look, frame_number| {
            let job = Job {
                look: look.clone(),
                frame: Frame::read(r#"{"source":{"encoding":"logc3"}}"#).unwrap(),
                delivery: Delivery::default(),
                stage: StageId::Negative,
                window: Window::whole(96, 64),
                frame_number,
            };
            halation_plate(night(96, 64), &job).unwrap()
        };
        let still = plate(&look, 0);
        look.lens.weave.on = true;
        look.lens.weave.upright = 40.0;
        assert_eq!(plate(&look, 0), still);
        assert_eq!(plate(&look, 7), still);
        look.lens.fringe.on = true;
        assert_ne!(plate(&look, 7), still);
    }
}
