//! The print against the spectral integration, the laboratory's aims and its own promises.

use super::spectral::{Bench, numbers};
use super::*;
use crate::look::Options;
use lookwright_colour::Rgb;
use lookwright_colour::space::{Cat, Lab, delta_e_2000, primaries::AP1, white::D55};
use proptest::prelude::*;

fn positive(change: impl FnOnce(&mut look::Positive)) -> Positive {
    let mut settings = look::Positive::default();
    change(&mut settings);
    Positive::new(&settings, 1.0)
}

fn printed(step: &Positive, code_10bit: [f64; 3]) -> [f64; 3] {
    let code = code_10bit.map(|c| (c / 1023.0) as f32);
    step.apply(ScanCode(Rgb::from_array(code)))
        .0
        .to_array()
        .map(f64::from)
}

fn density(step: &Positive, code_10bit: f64) -> f64 {
    -libm::log10(printed(step, [code_10bit; 3])[1])
}

fn lightness(light: f64) -> f64 {
    Lab::from_xyz(D55.to_xyz().map(|v| v * light), D55).l
}

/// Display light as XYZ in the projector's D55.
fn xyz_of(ap1: [f64; 3]) -> [f64; 3] {
    Cat::Bradford
        .xyz(AP1.white(), D55)
        .after(&AP1.rgb_to_xyz())
        .apply(ap1)
}

#[test]
fn the_aim_reads_what_laboratories_aim_for_through_status_a() {
    // 1.09, 1.06, 1.03 is visual neutral 1.00 (Kodak H-61 family; Pytlak and Fleischer, SMPTE J.,
    // October 1976); responses: ANSI/ISO 5-3 as carried by colormath 3.0.0.
    let bench = Bench::new();
    let read = bench.status_a(bench.neutral(1.0));
    for (read, aim) in read.into_iter().zip([1.09, 1.06, 1.03]) {
        assert!((read - aim).abs() < 0.02, "{read} for {aim}");
    }
}

/// `tests/reference/positive.json` was made by another program over the same spectra.
#[test]
fn the_closed_form_is_the_spectral_integration() {
    let bench = Bench::new();
    let dyes = Dyes::new(0.0);
    let white = bench.xyz([0.0; 3]);
    let relative = |xyz: [f64; 3]| {
        let d55 = D55.to_xyz();
        [0, 1, 2].map(|i| xyz[i] / white[i] * d55[i])
    };
    let (mut sum, mut worst) = (0.0, 0.0_f64);
    let patches = bench.reference["patches"].as_array().unwrap();
    for patch in patches {
        let density: [f64; 3] = numbers(&patch["density"]).try_into().unwrap();
        let theirs: [f64; 3] = numbers(&patch["xyz"]).try_into().unwrap();
        let ours = bench.xyz(bench.amounts(density));
        for (ours, theirs) in ours.into_iter().zip(theirs) {
            assert!(
                (ours - theirs).abs() < 2e-5 + 2e-3 * theirs,
                "{ours} {theirs}"
            );
        }
        let closed = dyes.light(Rgb::from_array(density.map(|d| d as f32)), 0.0);
        let closed = xyz_of(closed.to_array().map(f64::from));
        let apart = delta_e_2000(
            Lab::from_xyz(relative(theirs), D55),
            Lab::from_xyz(closed, D55),
        );
        sum += apart;
        worst = worst.max(apart);
    }
    let mean = sum / patches.len() as f64;
    println!("closed form: mean {mean:.2}, worst {worst:.2}");
    assert!(mean < 0.35 && worst < 2.0, "{mean} {worst}");
}

#[test]
fn greys_are_neutral_and_have_their_density_exactly() {
    let step = positive(|_| {});
    for code in [95.0, 300.0, 445.0, 685.0, 900.0] {
        let [r, g, b] = printed(&step, [code; 3]);
        assert!(
            (r / g - 1.0).abs() < 2e-5 && (b / g - 1.0).abs() < 2e-5,
            "{code}"
        );
    }
}

#[test]
fn the_laboratory_aim_prints_to_density_one_in_every_class() {
    // Visual neutral density 1.00 (Kodak H-61 family) from code 445 (Kodak H-387).
    for class in PositiveClass::ALL {
        for (gamma, dmax, silver) in [(1.8, 2.0, 0.0), (3.2, 3.6, 0.5), (3.8, 4.5, 1.0)] {
            let step = positive(|s| {
                s.class = *class;
                s.gamma = gamma;
                s.dmax = dmax;
                s.silver = silver;
            });
            assert!((density(&step, 445.0) - 1.0).abs() < 1e-4, "{class:?}");
        }
    }
}

#[test]
fn black_is_black_and_white_is_white() {
    for class in PositiveClass::ALL {
        let step = positive(|s| s.class = *class);
        let (black, white) = (
            lightness(printed(&step, [95.0; 3])[1]),
            lightness(printed(&step, [685.0; 3])[1]),
        );
        println!("{class:?}: base {black:.2}, 90 % white {white:.1}");
        let darkest = if *class == PositiveClass::Soft {
            1.35
        } else {
            1.0
        };
        assert!(black <= darkest, "{class:?}: {black}");
        assert!((86.0..=90.0).contains(&white), "{class:?}: {white}");
        let compensated = positive(|s| {
            s.class = *class;
            s.black_point = true;
        });
        assert!(printed(&compensated, [95.0; 3])[1].abs() < 1e-6);
    }
}

#[test]
fn greatest_density_is_heard_over_its_range() {
    let mut last = [100.0; 2];
    for dmax in [2.0, 2.4, 2.8, 3.2, 3.6, 4.0, 4.5] {
        let step = positive(|s| s.dmax = dmax);
        let [black, shadow] = [95.0, 250.0].map(|code| lightness(printed(&step, [code; 3])[1]));
        println!("greatest density {dmax}: base L* {black:.2}, a deep shadow {shadow:.2}");
        assert!(black < 0.8 * last[0], "{dmax}: {black} after {last:?}");
        assert!(shadow < last[1] - 0.3, "{dmax}: {shadow} after {last:?}");
        last = [black, shadow];
    }
}

#[test]
fn a_point_of_light_darkens_by_gamma_times_its_exposure() {
    // 0.025 log10 exposure times a slope of 3 is 0.075 density where the curve is straightest; the
    // bends take a little off.
    let at = |light| {
        positive(|s| {
            s.gamma = 3.0;
            s.light = light;
        })
    };
    let step = density(&at(1.0), 330.0) - density(&at(0.0), 330.0);
    assert!((0.067..=0.075).contains(&step), "{step}");
}

#[test]
fn silver_takes_colour_and_adds_contrast() {
    let chroma = |silver| {
        let step = positive(|s| s.silver = silver);
        let xyz = xyz_of(printed(&step, [520.0, 430.0, 400.0]));
        let lab = Lab::from_xyz(xyz, D55);
        lab.chroma() / lab.l
    };
    assert!(chroma(1.0) < 0.93 * chroma(0.0));
    let slope = |silver| {
        let step = positive(|s| s.silver = silver);
        density(&step, 395.0) - density(&step, 495.0)
    };
    assert!(slope(1.0) > 1.1 * slope(0.0));
}

proptest! {
    #[test]
    fn rises_without_a_kink_at_any_setting(
        gamma in 1.8..=3.8, dmax in 2.0..=4.5, light in -12.0..=12.0, silver in 0.0..=1.0,
        amount in 0.01..=2.0, class in 0..3_usize,
    ) {
        let settings = look::Positive {
            on: true, amount, gamma, dmax, light, silver,
            class: PositiveClass::ALL[class], ..look::Positive::default()
        };
        let step = Positive::new(&settings, amount);
        let at = |i: i32| density(&step, f64::from(i));
        for i in -400..=1500 {
            let (before, here, after) = (at(i - 8), at(i), at(i + 8));
            prop_assert!(here.is_finite() && after <= here + 1e-6, "rises at {}", i);
            // Slope times the sharper bend's curvature, 1 / (2 width); film that gets very dense is
            // steeper before it.
            let steeper = 1.0 + 2.0 * (dmax * (1.0 + 0.3 * amount) - 3.6).clamp(0.0, 0.9);
            let steep = gamma * 1.125 * 1.3 * 1.4 * 0.016 * steeper;
            prop_assert!((after - 2.0 * here + before).abs() < 1.2 * steep * steep + 2e-5, "kink at {}", i);
        }
    }

    #[test]
    fn any_code_gives_light(code in [-4.0..5.0, -4.0..5.0, -4.0..5.0]) {
        let step = positive(|_| {});
        let light = printed(&step, code.map(|c: f64| c * 1023.0));
        prop_assert!(light.iter().all(|l| l.is_finite()), "{:?}", light);
    }
}
