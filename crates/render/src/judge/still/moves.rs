//! The moves of a look that are fitted to a still, as plain numbers.

use lookwright_film::look::{Control, Kind, Look, Stage, StageId, Step, Value, effective_amount};

/// What a move is counted in, so that equal steps are about equally seen.
#[derive(Clone, Copy, Debug, PartialEq)]
enum By {
    /// The control's own number.
    Value,
    /// Its logarithm, base 2.
    Doubling,
    /// 1e6 over it.
    Mired,
    /// Along one axis of the plane that this control (a strength) and a hue span.
    Plane { hue: &'static str, across: bool },
}

/// One move.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Move {
    stage: StageId,
    step: &'static str,
    control: &'static str,
    by: By,
    /// How far looks usually go, in what it is counted in: one standard deviation. *Chosen.*
    usual: f64,
}

const fn of(step: &'static str, control: &'static str, by: By, usual: f64) -> Move {
    let stage = StageId::Scan;
    Move {
        stage,
        step,
        control,
        by,
        usual,
    }
}

const fn at(stage: StageId, moved: Move) -> Move {
    Move { stage, ..moved }
}

const fn tint(strength: &'static str, hue: &'static str, across: bool) -> Move {
    of("split_tone", strength, By::Plane { hue, across }, 0.18)
}

const EXPOSURE: [Move; 3] = [
    at(StageId::Lens, of("exposure", "stops", By::Value, 0.5)),
    at(StageId::Lens, of("light", "kelvin", By::Mired, 25.0)),
    at(StageId::Lens, of("light", "tint", By::Value, 0.005)),
];
/// Where the scan is shown straight.
const CONTRAST: [Move; 6] = [
    of("contrast", "slope", By::Doubling, 0.25),
    of("contrast", "pivot", By::Value, 30.0),
    of("contrast", "black_drop", By::Value, 0.3),
    of("contrast", "white_roll", By::Value, 0.3),
    of("contrast", "toe", By::Value, 0.2),
    of("contrast", "shoulder", By::Value, 0.3),
];
/// Where it is printed, which has contrast of its own.
const POSITIVE: [Move; 2] = [
    at(StageId::Print, of("positive", "gamma", By::Value, 0.4)),
    at(StageId::Print, of("positive", "light", By::Value, 4.0)),
];
const COLOUR: [Move; 23] = [
    tint("shadow_tint", "shadow_hue", false),
    tint("shadow_tint", "shadow_hue", true),
    of("split_tone", "shadow_offset", By::Value, 0.03),
    tint("highlight_tint", "highlight_hue", false),
    tint("highlight_tint", "highlight_hue", true),
    of("split_tone", "highlight_offset", By::Value, 0.02),
    of("split_tone", "balance", By::Value, 0.2),
    of("dye_density", "whole", By::Value, 0.25),
    of("dye_density", "red", By::Value, 0.15),
    of("dye_density", "yellow", By::Value, 0.15),
    of("dye_density", "green", By::Value, 0.15),
    of("dye_density", "cyan", By::Value, 0.15),
    of("dye_density", "blue", By::Value, 0.15),
    of("dye_density", "magenta", By::Value, 0.15),
    of("bearings", "turn_1", By::Value, 5.0),
    of("bearings", "purity_1", By::Value, 0.15),
    of("bearings", "turn_2", By::Value, 5.0),
    of("bearings", "purity_2", By::Value, 0.15),
    of("bearings", "turn_3", By::Value, 5.0),
    of("bearings", "purity_3", By::Value, 0.15),
    of("saturation", "saturation", By::Value, 0.2),
    of("saturation", "dark", By::Value, 0.25),
    of("saturation", "light", By::Value, 0.25),
];

/// The moves that act on a look.
pub(super) fn moves_of(look: &Look) -> Vec<Move> {
    let printed = effective_amount(&look.print.positive) > 0.0;
    let shape: &[Move] = if printed { &POSITIVE } else { &CONTRAST };
    [&EXPOSURE, shape, &COLOUR].concat()
}

/// What a move's control is and was, in words.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Named {
    pub(super) step_label: &'static str,
    pub(super) control: &'static Control,
    controls: &'static [Control],
}

impl Named {
    /// Another control of the same step.
    pub(super) fn control_of(&self, id: &str) -> Option<&'static Control> {
        self.controls.iter().find(|c| c.id == id)
    }
}

/// A number's unit, as shown.
pub(super) const fn unit(control: &Control) -> &'static str {
    match control.kind {
        Kind::Number { unit, .. } => unit,
        _ => "",
    }
}

impl Move {
    pub(super) const fn place(&self) -> (StageId, &'static str, &'static str) {
        (self.stage, self.step, self.control)
    }

    /// The hue's control, if this is one of the two axes of a tint.
    pub(super) const fn hue(&self) -> Option<&'static str> {
        match self.by {
            By::Plane { hue, .. } => Some(hue),
            _ => None,
        }
    }

    pub(super) fn named(&self, look: &Look) -> Option<Named> {
        step_of(look, self.stage, self.step).and_then(|step| {
            let spec = step.spec();
            let control = spec.controls.iter().find(|c| c.id == self.control)?;
            Some(Named {
                step_label: spec.label,
                control,
                controls: spec.controls,
            })
        })
    }

    /// The move's number in a look, in units of what looks usually go.
    pub(super) fn get(&self, look: &Look) -> f64 {
        let value = number(look, self.stage, self.step, self.control);
        let counted = match self.by {
            By::Value => value,
            By::Doubling => libm::log2(value),
            By::Mired => 1e6 / value,
            By::Plane { hue, across } => {
                let hue = number(look, self.stage, self.step, hue).to_radians();
                value
                    * if across {
                        libm::sin(hue)
                    } else {
                        libm::cos(hue)
                    }
            }
        };
        counted / self.usual
    }

    /// The ends of its range, in the same units.
    pub(super) fn limits(&self, look: &Look) -> (f64, f64) {
        let Some(Named { control, .. }) = self.named(look) else {
            return (0.0, 0.0);
        };
        let Kind::Number { min, max, .. } = control.kind else {
            return (0.0, 0.0);
        };
        let (low, high) = match self.by {
            By::Value => (min, max),
            By::Doubling => (libm::log2(min), libm::log2(max)),
            By::Mired => (1e6 / max, 1e6 / min),
            By::Plane { .. } => (-max, max),
        };
        (low / self.usual, high / self.usual)
    }

    /// An error of `deviation`, in the control's own unit at what the look has.
    pub(super) fn error(&self, look: &Look, deviation: f64) -> f64 {
        let value = number(look, self.stage, self.step, self.control);
        let counted = deviation * self.usual;
        match self.by {
            By::Value | By::Plane { .. } => counted,
            By::Doubling => counted * value * core::f64::consts::LN_2,
            By::Mired => counted * value * value / 1e6,
        }
    }
}

/// Gives a look these numbers, one for each move.
pub(super) fn set(look: &mut Look, moves: &[Move], numbers: &[f64]) {
    let mut plane = [0.0; 2];
    for (one, number) in moves.iter().zip(numbers) {
        let counted = number * one.usual;
        let (stage, step, control) = one.place();
        match one.by {
            By::Value => put(look, stage, step, control, counted),
            By::Doubling => put(look, stage, step, control, libm::exp2(counted)),
            By::Mired => put(look, stage, step, control, 1e6 / counted.max(1.0)),
            By::Plane { hue, across } => {
                plane[usize::from(across)] = counted;
                let strength = libm::hypot(plane[0], plane[1]);
                if across && strength > 1e-9 {
                    let turned = libm::atan2(plane[1], plane[0]).to_degrees();
                    put(look, stage, step, hue, (turned + 360.0) % 360.0);
                }
                if across {
                    put(look, stage, step, control, strength);
                }
            }
        }
    }
}

/// Rounds the numbers of these moves to what their controls step by.
pub(super) fn round(look: &mut Look, moves: &[Move]) {
    for one in moves {
        let (stage, step, control) = one.place();
        for id in [Some(control), one.hue()].into_iter().flatten() {
            let Some(by) = kind_of(look, stage, step, id).map(|(.., by)| by) else {
                continue;
            };
            let value = number(look, stage, step, id);
            // A rounded multiple may end in a 9 or a 1 far behind the point; a file should not.
            let rounded = libm::round(libm::round(value / by) * by * 1e6) / 1e6;
            put(look, stage, step, id, rounded);
        }
    }
}

/// The same look with every step that a move belongs to on; one that was off does nothing as yet.
pub(super) fn opened(look: &Look, moves: &[Move]) -> Look {
    let mut out = look.clone();
    for one in moves {
        let (stage, step, _) = one.place();
        if step_of(&out, stage, step).is_none_or(|step| effective_amount(step) > 0.0) {
            continue;
        }
        let same = |other: &&Move| (other.stage, other.step) == (stage, step);
        for other in moves.iter().filter(same) {
            if let Some((neutral, ..)) = kind_of(&out, stage, step, other.control) {
                put(&mut out, stage, step, other.control, neutral);
            }
        }
        with_step(&mut out, stage, step, |step| {
            step.set_on(true);
            step.set_amount(1.0);
        });
    }
    out
}

/// Gives steps of which no move was kept back as they are in `from`.
pub(super) fn close(look: &mut Look, from: &Look, moves: &[Move], kept: &[bool]) {
    for one in moves {
        let (stage, step, _) = one.place();
        let used = moves
            .iter()
            .zip(kept)
            .any(|(other, kept)| *kept && (other.stage, other.step) == (stage, step));
        let Some(was) = step_of(from, stage, step).filter(|_| !used) else {
            continue;
        };
        with_step(look, stage, step, |now| {
            now.set_on(was.is_on());
            now.set_amount(was.amount());
            for index in 0..was.spec().controls.len() {
                now.set(index, &was.get(index));
            }
        });
    }
}

/// A control's number; 0 if there is none.
pub(super) fn number(look: &Look, stage: StageId, step: &str, control: &str) -> f64 {
    let value = step_of(look, stage, step).and_then(|step| {
        let controls = step.spec().controls;
        let index = controls.iter().position(|c| c.id == control)?;
        match step.get(index) {
            Value::Number(value) => Some(value),
            _ => None,
        }
    });
    value.unwrap_or(0.0)
}

/// Neutral value, ends and step of a number.
fn kind_of(look: &Look, stage: StageId, step: &str, control: &str) -> Option<(f64, f64, f64, f64)> {
    let controls = step_of(look, stage, step)?.spec().controls;
    match controls.iter().find(|c| c.id == control)?.kind {
        Kind::Number {
            neutral,
            min,
            max,
            step,
            ..
        } => Some((neutral, min, max, step)),
        _ => None,
    }
}

/// Sets a number, held within its limits.
fn put(look: &mut Look, stage: StageId, step: &str, control: &str, value: f64) {
    let Some((_, min, max, _)) = kind_of(look, stage, step, control) else {
        return;
    };
    with_step(look, stage, step, |step| {
        let controls = step.spec().controls;
        if let Some(index) = controls.iter().position(|c| c.id == control) {
            step.set(index, &Value::Number(value.clamp(min, max)));
        }
    });
}

fn step_of<'a>(look: &'a Look, stage: StageId, step: &str) -> Option<&'a dyn Step> {
    let steps = match stage {
        StageId::Lens => look.lens.steps(),
        StageId::Negative => look.negative.steps(),
        StageId::Scan => look.scan.steps(),
        StageId::Print => look.print.steps(),
        StageId::Intake | StageId::Screen => return None,
    };
    steps.into_iter().find(|it| it.spec().id == step)
}

/// Acts on a step of the look, if there is one of that name.
fn with_step(look: &mut Look, stage: StageId, step: &str, act: impl FnOnce(&mut dyn Step)) {
    let steps = match stage {
        StageId::Lens => look.lens.steps_mut(),
        StageId::Negative => look.negative.steps_mut(),
        StageId::Scan => look.scan.steps_mut(),
        StageId::Print => look.print.steps_mut(),
        StageId::Intake | StageId::Screen => return,
    };
    if let Some(found) = steps.into_iter().find(|it| it.spec().id == step) {
        act(found);
    }
}
