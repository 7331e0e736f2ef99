//! Grey ramps of 4096 steps through random scans and prints to a screen: finite, smooth, never
//! falling. The print itself hands on light without limits; the screen brings it in.

use lookwright_colour::Rgb;
use lookwright_film::look::{AMOUNT_MAX, Control, Delivery, Kind, Print, Scan, Stage, Step, Value};
use lookwright_film::path::Density;
use lookwright_film::path::negative::Record;
use lookwright_film::path::print::PrintPoint;
use lookwright_film::path::scan::{LUMA, ScanPoint};
use lookwright_film::path::screen::ScreenPoint;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

const STEPS: i32 = 4096;

/// A setting for a control from a number in 0 ... 1: all of the range, ends included.
fn value(control: &Control, place: f64) -> Option<Value> {
    match control.kind {
        Kind::Number { min, max, .. } => Some(Value::Number(min + (max - min) * place)),
        Kind::Choice { options, .. } => {
            let index = ((options.len() as f64 * place) as usize).min(options.len() - 1);
            Some(Value::Choice(options[index].id))
        }
        Kind::Switch { .. } => Some(Value::Switch(place < 0.5)),
        Kind::Curve { .. } => None,
    }
}

fn randomise(step: &mut dyn Step, places: &mut impl Iterator<Item = f64>, amount_max: f64) {
    let mut next = || places.next().unwrap_or(0.5);
    step.set_on(next() < 0.8);
    step.set_amount(next() * amount_max);
    for (index, control) in step.spec().controls.iter().enumerate() {
        if let Some(value) = value(control, next()) {
            step.set(index, &value);
        }
    }
}

fn places() -> impl Strategy<Value = Vec<f64>> {
    proptest::collection::vec(
        prop_oneof![8 => 0.0..=1.0, 1 => Just(0.0), 1 => Just(1.0)],
        80,
    )
}

fn any_points() -> impl Strategy<Value = Vec<[f64; 2]>> {
    proptest::collection::vec([0.0..=1.0, 0.0..=1.0], 0..=16)
}

/// The same cases each time: what is told from a kink below is a matter of resolution.
fn settings() -> ProptestConfig {
    ProptestConfig {
        cases: 200,
        rng_seed: RngSeed::Fixed(20_240_501),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// Under coloured printer lights a grey ramp would be none.
fn without_coloured_lights(scan: &mut Scan) {
    let lights = &mut scan.points;
    (lights.red, lights.green, lights.blue) = (0.0, 0.0, 0.0);
    (lights.warmth, lights.tint) = (0.0, 0.0);
}

/// Density above base along the ramp: from nothing to code 1023.
fn density(i: i32) -> Rgb {
    Rgb::grey(1.9 * i as f32 / STEPS as f32)
}

/// Density to the default screen's code of 1 through a scan and a print.
fn to_screen(scan: &Scan, print: &Print) -> impl Fn(Rgb) -> Rgb {
    let screen = ScreenPoint::new(&Delivery::default(), print);
    let (scan, print) = (
        ScanPoint::new(scan, &Record::default()),
        PrintPoint::new(print),
    );
    move |density| screen.apply(print.apply(scan.apply(Density(density)))).0
}

fn luminance(code: Rgb) -> f64 {
    let weighted = code.to_array().into_iter().zip(LUMA);
    weighted
        .map(|(c, w)| libm::pow(f64::from(c), 2.4) * f64::from(w))
        .sum()
}

proptest! {
    #![proptest_config(settings())]

    #[test]
    fn anything_at_once_stays_finite_and_inside(
        places in places(), master in any_points(), red in any_points(),
    ) {
        let (mut scan, mut print) = (Scan::default(), Print::default());
        let mut places = places.into_iter();
        for step in scan.steps_mut().into_iter().chain(print.steps_mut()) {
            randomise(step, &mut places, AMOUNT_MAX);
        }
        scan.curves.master = master;
        scan.curves.red = red;
        let code = to_screen(&scan, &print);
        for r in [-1.0_f32, 0.0, 0.4, 1.0, 4.0] {
            for g in [-1.0, 0.0, 0.7, 4.0] {
                for b in [-1.0, 0.0, 1.3, 4.0] {
                    let code = code(Rgb::new(r, g, b));
                    for c in code.to_array() {
                        prop_assert!((0.0..=1.0).contains(&c), "{r} {g} {b}: {code:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn a_grey_ramp_never_gets_darker(places in places(), master in any_points()) {
        let (mut scan, mut print) = (Scan::default(), Print::default());
        let mut places = places.into_iter();
        for step in scan.steps_mut().into_iter().chain(print.steps_mut()) {
            randomise(step, &mut places, 1.0);
        }
        scan.curves.master = master;
        without_coloured_lights(&mut scan);
        // Nor a coloured base, which weighs the channels of a split tone anew.
        print.base.on = false;
        // Nor more colour towards white: what it adds to tinted lights leaves the screen, and some
        // light is lost in bringing it in.
        scan.saturation.light = scan.saturation.light.min(1.0);
        let code = to_screen(&scan, &print);
        let mut last = -1.0;
        for i in 0..=STEPS {
            let here = luminance(code(density(i)));
            prop_assert!(here >= last - 2e-6, "falls at {i}: {last} to {here}");
            last = here;
        }
    }

    #[test]
    fn a_grey_ramp_has_no_kink(places in places()) {
        let (mut scan, mut print) = (Scan::default(), Print::default());
        let mut places = places.into_iter();
        for step in scan.steps_mut().into_iter().chain(print.steps_mut()) {
            randomise(step, &mut places, 1.0);
        }
        without_coloured_lights(&mut scan);
        let code = to_screen(&scan, &print);
        let codes: Vec<[f64; 3]> = (0..=STEPS)
            .map(|i| code(density(i)).to_array().map(f64::from))
            .collect();
        // The gamut's tips at black and white are too narrow for a bend to be told from a kink at
        // this resolution, and are left out.
        let inside = |code: &[f64; 3]| code.iter().all(|c| (0.05..=0.93).contains(c));
        for channel in 0..3 {
            let rise = |w: &[[f64; 3]]| w[2][channel] - w[0][channel];
            let steepest = codes.windows(3).map(rise).fold(0.0_f64, f64::max);
            for (i, w) in codes.windows(5).enumerate() {
                let jump = (rise(&w[2..]) - rise(&w[..3])).abs();
                prop_assert!(
                    !w.iter().all(inside) || jump < 0.25 * steepest + 2e-5,
                    "slope jumps by {} of {} at {}", jump, steepest, i
                );
            }
        }
    }
}
