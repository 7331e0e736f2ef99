//! A whole picture, pass by pass of the plan, and what is kept from before.
//!
//! What a pass gives is kept under a key of all that it depends on, so moving a control recomputes
//! nothing that comes before it.

use core::hash::Hasher;
use std::collections::BTreeMap;
use std::hash::DefaultHasher;

use super::job::Job;
use super::pointwise::Along;
use super::quick;
use lookwright_film::path::negative::grain::KeptGrain;
use lookwright_film::path::plan::{Action, Node, Pass};
use lookwright_film::path::{Plan, Points};
use lookwright_film::spatial::moved::move_whole;
use lookwright_film::spatial::step::spread_whole;
use lookwright_film::spatial::{Planes, Window};

pub(super) fn run_points(plan: &Plan, points: Points, picture: &mut Planes) {
    if !points.is_empty() {
        Along(plan.path(), points).run(picture);
    }
}

/// Fields that overlays draw once, by step.
type Fields = BTreeMap<&'static str, KeptGrain>;

/// Does what a node does that is no point part, in place.
pub(super) fn run_node(node: &Node, picture: &mut Planes, job: &Job, fields: Option<&mut Fields>) {
    let (size, window, number) = (
        (picture.width, picture.height),
        &job.window,
        job.frame_number,
    );
    match &node.action {
        Action::Point(_) => {}
        Action::Spread(spreading) => {
            if let Some(step) = spreading.step(size, window) {
                spread_whole(step.as_ref(), picture);
            }
        }
        Action::Move(moving) => move_whole(picture, &moving.moves(window, number)),
        Action::Overlay(overlay) => {
            let field = fields.and_then(|fields| {
                let before = fields.remove(node.step);
                let field = overlay.field(size, window, number, before)?;
                Some(&*fields.entry(node.step).or_insert(field))
            });
            match field {
                Some(field) => field.add_still(picture),
                None => overlay.lay(picture, window, number),
            }
        }
    }
}

/// Renders one picture again and again while its settings change, and keeps what can be kept.
///
/// Memory: the source, one buffer of the same size for each pass that ends with a step which is
/// not point by point or with the developed film, and one for the grain.
#[derive(Clone, Debug)]
pub struct Renderer {
    code: Planes,
    window: Option<Window>,
    /// What the first passes gave, and the key of all that led to it.
    kept: Vec<(u64, Planes)>,
    fields: Fields,
}

impl Renderer {
    /// For a picture in its frame's code.
    pub const fn new(code: Planes) -> Self {
        Self {
            code,
            window: None,
            kept: Vec::new(),
            fields: Fields::new(),
        }
    }

    /// The picture in its frame's code.
    pub const fn code(&self) -> &Planes {
        &self.code
    }

    /// The numbers after the job's stage.
    pub fn render(&mut self, job: &Job) -> Planes {
        let plan = job.plan();
        self.run(&plan, &plan.passes(), job)
    }

    /// The frame as the camera saw it, written for the delivery's screen: no look at all.
    pub fn unstyled(&self, job: &Job) -> Planes {
        let plan = job.unstyled_plan();
        let mut picture = self.code.clone();
        for pass in plan.passes() {
            run_points(&plan, pass.points, &mut picture);
        }
        picture
    }

    /// As [`Self::render`], but what follows the negative within one step of 8 bits in nearly all
    /// pixels, and several times as fast: for looking at while a control moves.
    pub fn render_quickly(&mut self, job: &Job) -> Planes {
        if self.code.pixels() < quick::WORTHWHILE {
            return self.render(job);
        }
        self.quickly(job)
    }

    pub(crate) fn quickly(&mut self, job: &Job) -> Planes {
        let plan = job.plan();
        let passes = plan.passes();
        let Some(finish) = plan.finish() else {
            return self.run(&plan, &passes, job);
        };
        let mut picture = self.run(&plan, &passes[..passes.len() - 1], job);
        match quick::finish(&mut picture, plan.path(), finish) {
            Ok(()) => picture,
            Err(_) => self.run(&plan, &passes, job),
        }
    }

    fn run(&mut self, plan: &Plan, passes: &[Pass], job: &Job) -> Planes {
        if self.window.replace(job.window) != Some(job.window) {
            self.kept.clear();
        }
        let mut hasher = DefaultHasher::new();
        for (place, pass) in passes.iter().enumerate() {
            hasher.write_u64(pass.key);
            if pass.nodes.iter().any(Node::is_numbered) {
                hasher.write_u32(job.frame_number);
            }
            let key = hasher.finish();
            if self.kept.get(place).is_none_or(|(kept, _)| *kept != key) {
                let before = place.checked_sub(1).map_or(&self.code, |i| &self.kept[i].1);
                let mut picture = before.clone();
                run_points(plan, pass.points, &mut picture);
                for node in pass.nodes {
                    run_node(node, &mut picture, job, Some(&mut self.fields));
                }
                if !pass.is_worth_keeping() {
                    return picture;
                }
                self.kept.truncate(place);
                self.kept.push((key, picture));
            }
        }
        let last = passes.len().checked_sub(1);
        last.map_or(&self.code, |last| &self.kept[last].1).clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::render;
    use lookwright_film::look::{Delivery, Frame, Look, Options, StageId, StartingStock};

    fn ramp() -> Planes {
        let mut picture = Planes::filled(64, 8, 0.0);
        for (channel, plane) in picture.planes.iter_mut().enumerate() {
            for (i, value) in plane.iter_mut().enumerate() {
                *value = ((i * (channel + 3)) % 97) as f32 / 96.0;
            }
        }
        picture
    }

    fn job(stage: StageId) -> Job {
        Job {
            look: Look::starting(StartingStock::Evening),
            frame: Frame::read(r#"{"source":{"encoding":"logc3"}}"#).unwrap(),
            delivery: Delivery::default(),
            stage,
            window: Window::whole(64, 8),
            frame_number: 3,
        }
    }

    #[test]
    fn what_is_kept_is_what_would_be_rendered() {
        let mut renderer = Renderer::new(ramp());
        let mut job = job(StageId::Screen);
        for change in 0..6 {
            match change {
                1 => job.look.scan.contrast.slope = 2.0,
                2 => {
                    job.look.negative.development.push = 1.0;
                    job.frame_number = 4;
                }
                3 => job.look.lens.exposure.stops = -1.0,
                4 => job.look.negative.grain.on = false,
                5 => job.look.negative.halation.on = false,
                _ => {}
            }
            for stage in StageId::ALL {
                job.stage = *stage;
                assert_eq!(
                    renderer.render(&job),
                    render(ramp(), &job),
                    "{change} {stage:?}"
                );
            }
        }
    }

    #[test]
    fn the_quick_way_is_within_a_step_of_8_bits_in_999_of_1000_pixels() {
        // Every code of a wide range in turn, so all colours that a camera can record.
        let (width, height) = (500, 300);
        let mut picture = Planes::filled(width, height, 0.0);
        for (channel, plane) in picture.planes.iter_mut().enumerate() {
            for (i, value) in plane.iter_mut().enumerate() {
                let (x, y) = ((i % width) as f32 / 500.0, (i / width) as f32 / 300.0);
                let apart = [0.0, 0.35, 0.7][channel];
                *value = 0.1 + 0.7 * x + 0.12 * libm::sinf(core::f32::consts::TAU * (y + apart));
            }
        }
        for class in [
            StartingStock::Evening,
            StartingStock::Overcast,
            StartingStock::Noon,
        ] {
            let mut job = Job {
                look: Look::starting(class),
                window: Window::whole(width, height),
                ..job(StageId::Screen)
            };
            job.look.scan.dye_density.whole = 0.3;
            job.look.scan.contrast.slope = 1.9;
            let mut renderer = Renderer::new(picture.clone());
            let quick = renderer.render_quickly(&job);
            let exact = renderer.render(&job);
            let mut off: Vec<f32> = (0..width * height)
                .map(|i| {
                    let apart = |c: usize| (quick.planes[c][i] - exact.planes[c][i]).abs();
                    apart(0).max(apart(1)).max(apart(2)) * 255.0
                })
                .collect();
            off.sort_by(f32::total_cmp);
            let bound = off[off.len() * 999 / 1000];
            assert!(bound < 1.0 && bound > 0.0, "{class:?}: {bound}");
        }
    }

    #[test]
    fn the_fused_path_is_the_split_path() {
        // Without texture everything is one pass; the same steps in four passes give the same.
        let mut job = job(StageId::Screen);
        job.look = job.look.without_texture();
        assert_eq!(Renderer::new(ramp()).render(&job), render(ramp(), &job));
    }
}
