//! How screens bring in what they can't show: inside, at the hue that is seen, without folds.
//!
//! Colours and their hues: `reference/roll.json`, CAM16 by colour-science.

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

use lookwright_colour::Rgb;
use lookwright_colour::encoding::ScreenId;
use lookwright_film::path::screen::roll_of;
use lookwright_tests::{cam16_hue, turn};
use serde_json::Value;

const SCREENS: [ScreenId; 3] = [ScreenId::Rec709, ScreenId::DisplayP3, ScreenId::Rec2020];

fn reference() -> Value {
    serde_json::from_str(include_str!("reference/roll.json")).unwrap()
}

fn numbers(value: &Value) -> Vec<f64> {
    let array = value.as_array().unwrap();
    array.iter().map(|v| v.as_f64().unwrap()).collect()
}

fn rolled(screen: ScreenId, light: [f64; 3]) -> [f64; 3] {
    let light = Rgb::from_array(light.map(|x| x as f32));
    roll_of(screen).apply(light).to_array().map(f64::from)
}

#[test]
fn the_hue_here_is_that_of_colour_science() {
    let reference = reference();
    let levels = numbers(&reference["levels"]);
    for screen in SCREENS {
        for colour in reference[screen.id()].as_array().unwrap() {
            let rgb = numbers(&colour["rgb"]);
            for (level, theirs) in levels.iter().zip(numbers(&colour["hue"])) {
                let light = [0, 1, 2].map(|i| rgb[i] * level);
                let apart = turn(theirs, cam16_hue(light, &screen.info().primaries)).abs();
                assert!(apart < 0.01, "{} {rgb:?}: {apart}", screen.id());
            }
        }
    }
}

#[test]
fn what_a_screen_cannot_show_keeps_its_hue_and_ends_inside() {
    let reference = reference();
    let levels = numbers(&reference["levels"]);
    for screen in SCREENS {
        for (k, level) in levels.iter().enumerate() {
            let (mut worst, mut squares, mut count) = (0.0_f64, 0.0, 0.0);
            for colour in reference[screen.id()].as_array().unwrap() {
                let rgb = numbers(&colour["rgb"]);
                let out = rolled(screen, [0, 1, 2].map(|i| rgb[i] * level));
                for x in out {
                    assert!(
                        (-1e-6..=1.0).contains(&x),
                        "{} {rgb:?}: {out:?}",
                        screen.id()
                    );
                }
                let source = colour["hue"][k].as_f64().unwrap();
                let apart = turn(source, cam16_hue(out, &screen.info().primaries)).abs();
                worst = worst.max(apart);
                squares += apart * apart;
                count += 1.0;
            }
            let rms = libm::sqrt(squares / count);
            println!(
                "{} at {level}: {worst:.1} degrees at most, {rms:.1} rms",
                screen.id()
            );
            let limit = if *level > 1.0 { 10.0 } else { 6.0 };
            assert!(worst < limit, "{} at {level}: {worst}", screen.id());
        }
    }
}

#[test]
fn greys_stay_and_keep_rising() {
    for screen in SCREENS {
        let mut last = -1.0;
        for i in 0..=4000 {
            let x = f64::from(i) / 1000.0;
            let [r, g, b] = rolled(screen, [x; 3]);
            assert!((r - g).abs() < 1e-6 && (b - g).abs() < 1e-6);
            assert!(g > last && g < 1.0, "{} at {x}", screen.id());
            if x < 0.92 {
                assert!(
                    (g - f64::from(x as f32)).abs() < 1e-12,
                    "{} at {x}",
                    screen.id()
                );
            }
            last = g;
        }
    }
}

#[test]
fn it_has_no_kink_and_is_the_same_at_any_brightness() {
    // Ways from grey out of the gamut, in steps of one part in 2000: a kink leaves a second
    // difference of its jump in slope times the step, a bend of width 0.02 a tenth of that.
    for screen in SCREENS {
        for direction in [
            [1.0, -0.4, -0.3],
            [-0.6, 1.0, -0.3],
            [-0.3, -0.3, 1.0],
            [1.0, 0.3, -0.8],
        ] {
            let at = |t: f64| rolled(screen, direction.map(|d: f64| 0.3 + 0.35 * t * d));
            let step = 1e-3;
            for i in 1..1000 {
                let t = f64::from(i) * step;
                let (before, here, after) = (at(t - step), at(t), at(t + step));
                for c in 0..3 {
                    let second = (after[c] - 2.0 * here[c] + before[c]).abs();
                    assert!(second < 6e-5, "{} {direction:?} {t}: {second}", screen.id());
                }
                let dark = rolled(screen, direction.map(|d| (0.3 + 0.35 * t * d) * 0.01));
                for c in 0..3 {
                    assert!((dark[c] - here[c] * 0.01).abs() < 2e-3 * 0.01 || here[c] > 0.6);
                }
            }
        }
    }
}

#[test]
fn extremes_stay_finite() {
    for screen in SCREENS {
        for light in [
            [1e30, -1e30, 0.0],
            [-1.0; 3],
            [1e-30, -1e-30, 0.0],
            [-1e9, 1e9, 1e9],
        ] {
            assert!(
                rolled(screen, light).iter().all(|x| x.is_finite()),
                "{light:?}"
            );
        }
    }
}
