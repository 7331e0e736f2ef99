//! What a still asks for, on pictures that are made here.

use super::*;
use lookwright_colour::encoding::EncodingId;
use lookwright_film::path::Points;

fn of(encoding: EncodingId) -> Frame {
    let mut frame = Frame::default();
    frame.source.encoding = encoding;
    frame
}

/// Greys and colours from dark to light.
fn ramp() -> Planes {
    let (width, height) = (12, 9);
    let mut out = Planes::filled(width, height, 0.0);
    for i in 0..out.pixels() {
        let light = 0.1 + 0.8 * (i / width) as f64 / 8.0;
        let turn = (i % width) as f64 * core::f64::consts::TAU / 12.0;
        for (c, plane) in out.planes.iter_mut().enumerate() {
            let to = turn - c as f64 * core::f64::consts::TAU / 3.0;
            plane[i] = (light + 0.1 * libm::cos(to)) as f32;
        }
    }
    out
}

fn through(look: &Look, code: &Planes) -> Planes {
    let mut delivery = Delivery::default();
    delivery.display.screen = ScreenId::Srgb;
    let path = LightPath::new(look, &of(EncodingId::Srgb), &delivery);
    let mut out = code.clone();
    Along(&path, Points::up_to(StageId::Screen)).run(&mut out);
    out
}

fn matched(look: &Look, still: &Planes) -> StillMatch {
    let frame = of(EncodingId::Srgb);
    match_still(&ramp(), &frame, look, still, &frame, 0.0).unwrap()
}

#[test]
fn a_frame_that_looks_so_already_asks_for_nothing() {
    let look = Look::default();
    let found = matched(&look, &through(&look, &ramp()));
    assert_eq!(found.moves, []);
    assert!(found.same_picture && found.distance[1] < 0.1);
    assert_eq!(found.look.canonical(), look.canonical());
}

#[test]
fn one_move_is_found_as_it_was_and_said() {
    let look = Look::default();
    let mut known = look.clone();
    known.scan.contrast.slope = 1.6;
    known.lens.exposure.stops = 0.4;
    let found = matched(&look, &through(&known, &ramp()));
    let of = |step: &str, control: &str| {
        let is = |it: &&MatchedMove| (it.step, it.control) == (step, control);
        found.moves.iter().find(is).unwrap()
    };
    let slope = of("contrast", "slope");
    assert_eq!(slope.labels, ["Contrast", "Slope"]);
    assert_eq!(slope.values[0], 1.93);
    assert!((slope.values[1] - 1.6).abs() < 0.06, "{slope:?}");
    assert!((of("exposure", "stops").values[1] - 0.4).abs() < 0.12);
    assert!(found.distance[1] < 0.5, "{:?}", found.distance);
    assert!(found.sure > 0.9);
}

/// A retouched corner must not pull the rest along, and it is said.
#[test]
fn a_changed_place_is_left_and_told() {
    let look = Look::default();
    let mut still = through(&look, &ramp());
    for i in 0..3 * still.width {
        if i % still.width < 4 {
            still.planes[0][i] = 0.9;
        }
    }
    let found = matched(&look, &still);
    assert!(found.same_picture);
    let worst = found.moves.iter().filter(|it| it.control == "slope");
    assert!(
        worst.clone().all(|it| (it.values[1] - 1.93).abs() < 0.1),
        "{found:?}"
    );
    assert!(
        found
            .left
            .iter()
            .any(|line| line.contains("changed in places")),
        "{:?}",
        found.left
    );
}

#[test]
fn a_still_that_is_no_finished_picture_is_refused() {
    let frame = of(EncodingId::Srgb);
    let log = of(EncodingId::LogC3);
    let refusal = match_still(&ramp(), &frame, &Look::default(), &ramp(), &log, 0.0).unwrap_err();
    assert!(refusal.message().contains("finished picture"), "{refusal}");
}

/// A step that is off goes on doing nothing once its moves are at hand; the others stay as they are.
#[test]
fn what_a_step_does_stays_when_it_is_opened() {
    let mut look = Look::default();
    look.scan.contrast.amount = 0.5;
    look.scan.split_tone.on = false;
    look.scan.split_tone.shadow_tint = 0.7;
    look.scan.saturation.saturation = 0.6;
    look.scan.saturation.amount = 0.0;
    look.lens.light.kelvin = 4200.0;
    look.lens.light.amount = 0.5;
    let opened = moves::opened(&look, &moves::moves_of(&look));
    let apart = rendered(&ramp(), &of(EncodingId::Srgb), &look)
        .iter()
        .zip(rendered(&ramp(), &of(EncodingId::Srgb), &opened))
        .map(|(a, b)| delta_e_2000(*a, b))
        .fold(0.0, f64::max);
    assert!(apart < 1e-6, "{apart}");
    assert_eq!(
        (opened.scan.contrast.amount, opened.scan.saturation.amount),
        (0.5, 1.0)
    );
}

/// A toned black-and-white still of other things: black-and-white film, toned as the still is.
#[test]
fn a_toned_still_puts_the_look_on_black_and_white_film() {
    let frame = of(EncodingId::Srgb);
    let mut still = ramp();
    for i in 0..still.pixels() {
        let grey = 0.1 + 0.08 * (i % still.height) as f32;
        for (c, plane) in still.planes.iter_mut().enumerate() {
            plane[i] = grey * [1.0, 0.9, 0.76][c];
        }
    }
    let still = Planes {
        width: still.height,
        height: still.width,
        ..still
    };
    let found = match_still(&ramp(), &frame, &Look::default(), &still, &frame, 0.5).unwrap();
    assert!(!found.same_picture);
    assert!(
        found.left[0].contains("black-and-white"),
        "{:?}",
        found.left
    );
    let points = rendered(&ramp(), &frame, &found.look);
    let middle = points.iter().filter(|lab| (30.0..70.0).contains(&lab.l));
    assert!(middle.clone().count() > 10);
    assert!(middle.clone().all(|lab| lab.b > 3.0), "{points:?}");
    // A frame in colour is not taken for one.
    let found = match_still(&ramp(), &frame, &Look::default(), &ramp(), &frame, 0.5).unwrap();
    assert!(!found.left[0].contains("black-and-white"));
}
