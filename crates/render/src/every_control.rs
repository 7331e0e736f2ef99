//! Every control of every step, moved, through every way to render: each has to show the change, and
//! what is exact has to be the reference, the whole picture rendered anew, bit by bit.
//!
//! Each way has rendered the picture before the change and may keep what it likes: a parameter that
//! were missing from a node's key would leave it as it was.

use crate::judge::DetailView;
use crate::reference::render;
use crate::strips::tests::shared;
use crate::{ClipRenderer, Job, Renderer, to_rgba8};
use lookwright_film::look::{
    Delivery, Frame, Kind, Look, Stage, StageId, StartingStock, Step, Value,
};
use lookwright_film::spatial::{Planes, Window};

const SIZE: (usize, usize) = (56, 80);
/// Steps without which there is no picture: their `on` and `amount` change nothing.
const ALWAYS_ON: [&str; 2] = ["source", "display"];

/// All colours at all brightnesses, with noise and lamps.
fn picture() -> Planes {
    let (width, height) = SIZE;
    let mut picture = Planes::filled(width, height, 0.0);
    let mut state = 7_u32;
    for (channel, plane) in picture.planes.iter_mut().enumerate() {
        for (i, value) in plane.iter_mut().enumerate() {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let noise = (state >> 8) as f32 / 16_777_216.0;
            let (x, y) = (i % width, i / width);
            let turn = x as f32 / width as f32 + channel as f32 / 3.0;
            let tint = 0.3 * libm::sinf(core::f32::consts::TAU * turn);
            *value = 0.1 + 0.5 * y as f32 / height as f32 + 0.6 * tint + 0.15 * noise;
            if i % 401 == 60 {
                *value = 1.0;
            }
        }
    }
    picture
}

/// Pictures in which, between them, every control shows: all steps act, none is neutral.
fn bases() -> Vec<Job> {
    let kinds = [
        (StartingStock::Evening, "red-scatter", "logc3"),
        (StartingStock::Overcast, "base-ring", "srgb"),
        (StartingStock::Noon, "veil", "srgb"),
        (StartingStock::AllGrey, "red-scatter", "srgb"),
    ];
    let base = |(class, method, encoding): (StartingStock, &'static str, &str)| {
        let mut job = Job {
            look: Look::starting(class),
            frame: Frame::read(&format!(r#"{{"source":{{"encoding":"{encoding}"}}}}"#)).unwrap(),
            delivery: Delivery::default(),
            stage: StageId::Screen,
            window: Window::whole(SIZE.0, SIZE.1),
            frame_number: 5,
        };
        for step in steps(&mut job) {
            step.set_on(true);
            for (index, control) in step.spec().controls.iter().enumerate() {
                if let Some(value) = acting(&control.kind) {
                    step.set(index, &value);
                }
            }
        }
        set(&mut job, "halation", "method", Value::Choice(method));
        set(&mut job, "halation", "backing", Value::Choice("none"));
        set(&mut job, "white", "white", Value::Choice("d55"));
        // Few pixels: on a small gauge they are still small enough for what the emulsion spreads.
        set(&mut job, "stock", "gauge", Value::Choice("8"));
        job
    };
    kinds.map(base).into()
}

/// A value at which a control does something.
fn acting(kind: &Kind) -> Option<Value> {
    match kind {
        Kind::Number {
            max,
            default,
            whole,
            ..
        } => {
            let value = default + 0.15 * (max - default);
            Some(Value::Number(if *whole { value.round() } else { value }))
        }
        Kind::Curve { .. } => Some(Value::Curve(vec![[0.0, 0.02], [0.5, 0.46], [1.0, 0.97]])),
        Kind::Switch { .. } | Kind::Choice { .. } => None,
    }
}

fn set(job: &mut Job, step_id: &str, control_id: &str, value: Value) {
    for step in steps(job) {
        let controls = step.spec().controls;
        let index = controls.iter().position(|c| c.id == control_id);
        if let (true, Some(index)) = (step.spec().id == step_id, index) {
            step.set(index, &value);
        }
    }
}

/// The steps of all six stages.
fn steps(job: &mut Job) -> Vec<&mut dyn Step> {
    let Job {
        look,
        frame,
        delivery,
        ..
    } = job;
    let mut all = frame.steps_mut();
    all.append(&mut look.lens.steps_mut());
    all.append(&mut look.negative.steps_mut());
    all.append(&mut look.scan.steps_mut());
    all.append(&mut look.print.steps_mut());
    all.append(&mut delivery.steps_mut());
    all
}

/// One thing that a person can move.
#[derive(Clone, Copy, Debug)]
enum Moved {
    On,
    Amount,
    Control(usize),
}

/// The job after the move, for each place that it can be moved to.
fn moves(base: &Job, step: usize, moved: Moved) -> Vec<Job> {
    let values = |step: &dyn Step, index: usize| match step.spec().controls[index].kind {
        Kind::Number { min, max, .. } => vec![Value::Number(max), Value::Number(min)],
        Kind::Switch { .. } => vec![Value::Switch(true), Value::Switch(false)],
        Kind::Choice { options, .. } => options.iter().map(|o| Value::Choice(o.id)).collect(),
        Kind::Curve { .. } => vec![Value::Curve(vec![[0.0, 0.0], [0.4, 0.6], [1.0, 1.0]])],
    };
    let changed = |change: &dyn Fn(&mut dyn Step)| {
        let mut job = base.clone();
        change(steps(&mut job).swap_remove(step));
        job
    };
    match moved {
        Moved::On => vec![changed(&|step| step.set_on(false))],
        Moved::Amount => vec![changed(&|step| step.set_amount(0.5))],
        Moved::Control(index) => {
            let mut job = base.clone();
            let values = values(steps(&mut job).swap_remove(step), index);
            let jobs = values
                .into_iter()
                .map(|v| changed(&|step| step.set(index, &v)));
            jobs.filter(|job| job != base).collect()
        }
    }
}

/// One of the bases and all that has rendered it.
struct Before {
    job: Job,
    reference: Planes,
    kept: Renderer,
    detail: DetailView,
    played: Vec<u8>,
}

impl Before {
    fn new(job: Job, source: &Planes) -> Self {
        let mut kept = Renderer::new(source.clone());
        kept.render(&job);
        let mut detail = DetailView::new(SIZE, &job, &mut Vec::new());
        while detail.part(source, 0..1, 0..1).is_none() {}
        Self {
            reference: render(source.clone(), &job),
            kept,
            played: played(&job, source, None).0,
            detail,
            job,
        }
    }

    /// Whether the move shows; then all ways to render have to show it.
    fn check(&mut self, source: &Planes, job: &Job, what: &str) -> bool {
        let reference = render(source.clone(), job);
        if reference == self.reference {
            return false;
        }
        // Kept from before the move, and from the move back.
        assert!(self.kept.render(job) == reference, "kept: {what}");
        assert!(
            self.kept.render(&self.job) == self.reference,
            "kept, moved back: {what}"
        );
        let quick = self.kept.quickly(job);
        assert!(quick != self.kept.quickly(&self.job), "quick: {what}");
        for most_kept in [0, usize::MAX] {
            let parts = shared(source, job, &[0, 32], most_kept);
            assert!(parts == reference, "parts, {most_kept}: {what}");
        }
        let shown = self.part(source, &job.clone());
        assert!(shown == reference, "detail: {what}");
        let back = self.part(source, &self.job.clone());
        assert!(back == self.reference, "detail, moved back: {what}");
        if visible(&to_rgba8(&reference), &to_rgba8(&self.reference)) {
            let frame = played(job, source, Some(&self.job));
            assert!(frame.0 != self.played, "clip: {what}");
            assert!(frame.0 == frame.1, "clip, from before: {what}");
        }
        true
    }

    /// The whole picture as a detail, by one that follows the last.
    fn part(&mut self, source: &Planes, job: &Job) -> Planes {
        let placeholder = DetailView::new((1, 1), job, &mut Vec::new());
        let mut before = vec![core::mem::replace(&mut self.detail, placeholder)];
        let mut detail = DetailView::new(SIZE, job, &mut before);
        let part = loop {
            if let Some(part) = detail.part(source, 0..SIZE.0, 0..SIZE.1) {
                break part;
            }
        };
        self.detail = detail;
        part
    }
}

/// Whether more than a few codes differ by more than rounding.
fn visible(a: &[u8], b: &[u8]) -> bool {
    let apart = a.iter().zip(b).filter(|(a, b)| a.abs_diff(**b) > 2);
    apart.count() > a.len() / 50
}

/// A frame of a clip, rendered anew and with what can be kept of another job's.
fn played(job: &Job, source: &Planes, before: Option<&Job>) -> (Vec<u8>, Vec<u8>) {
    let renderer = |job: &Job, before| ClipRenderer::new(job, SIZE.0, SIZE.1, before).unwrap();
    let frame = |mut renderer: ClipRenderer| {
        let mut rgba = to_rgba8(source);
        renderer.render(&mut rgba, job.frame_number);
        rgba
    };
    let before = before.map(|before| renderer(before, None));
    (frame(renderer(job, None)), frame(renderer(job, before)))
}

#[test]
fn every_control_shows_in_every_way_to_render() {
    let source = picture();
    let mut befores: Vec<Before> = bases()
        .into_iter()
        .map(|job| Before::new(job, &source))
        .collect();
    let mut template = befores[0].job.clone();
    let specs: Vec<_> = steps(&mut template).iter().map(|s| s.spec()).collect();
    for (place, spec) in specs.into_iter().enumerate() {
        let controls = (0..spec.controls.len()).map(Moved::Control);
        let always = ALWAYS_ON.contains(&spec.id);
        let all = [Moved::On, Moved::Amount].into_iter().filter(|_| !always);
        for moved in all.chain(controls) {
            let name = match moved {
                Moved::Control(index) => spec.controls[index].id,
                Moved::On => "on",
                Moved::Amount => "amount",
            };
            let what = format!("{}.{name}", spec.id);
            if what == "display.before" {
                // It shows where no look is.
                let plain = |job: &Job| Renderer::new(source.clone()).unstyled(job);
                let job = &befores[0].job;
                let others = moves(job, place, moved);
                assert!(others.iter().any(|other| plain(other) != plain(job)));
                continue;
            }
            let shows = befores.iter_mut().any(|before| {
                moves(&before.job, place, moved)
                    .iter()
                    .any(|job| before.check(&source, job, &what))
            });
            assert!(shows, "{what} changes no picture");
        }
    }
}
