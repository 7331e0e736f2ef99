//! The plainest way to walk the plan: a whole picture, node by node, nothing kept. What every other
//! way is tested against.

use super::job::Job;
use super::kept::{run_node, run_points};
use lookwright_film::path::{Plan, Points};
use lookwright_film::spatial::Planes;

/// The numbers after the job's stage.
pub(crate) fn render(code: Planes, job: &Job) -> Planes {
    run_all(code, &job.plan(), job)
}

/// The frame as the camera saw it, written for the delivery's screen: no look at all.
pub(crate) fn unstyled(code: Planes, job: &Job) -> Planes {
    run_all(code, &job.unstyled_plan(), job)
}

fn run_all(code: Planes, plan: &Plan, job: &Job) -> Planes {
    let mut picture = code;
    let mut points = Points::NONE;
    // Without anything between them all point parts are one.
    for pass in plan.passes() {
        points = points.with(pass.points);
        if !pass.nodes.is_empty() {
            run_points(plan, points, &mut picture);
            points = Points::NONE;
        }
        for node in pass.nodes {
            run_node(node, &mut picture, job, None);
        }
    }
    run_points(plan, points, &mut picture);
    picture
}
