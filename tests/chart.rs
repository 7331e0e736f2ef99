//! The 24-patch chart through every stock's starting look, under the stock's own light.
//!
//! Patches: colour-science 0.4.7, `ColorChecker24 - After November 2014` (in
//! `reference/encodings.json`). A look may make colours darker, denser, purer; what it must not do
//! is turn skin or greys. Hue is CIELAB's hue angle of the picture on a Rec.709 display, against
//! the same light shown without a look. How far a hue may turn: common practice, no source.
//!
//! Run with `--nocapture` for the table of differences.

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

use lookwright_colour::space::{Lab, delta_e_2000, primaries::BT709, white::D65};
use lookwright_colour::{Mat3, Rgb};
use lookwright_film::look::{Delivery, Frame, Look, Options, PositiveClass, StartingStock};
use lookwright_film::path::LightPath;
use lookwright_film::path::negative::own_kelvin;
use lookwright_tests::turn;
use serde_json::Value;

const SKINS: [&str; 2] = ["dark skin", "light skin"];
const COLOURS: usize = 18;
const COLOUR_STOCKS: [StartingStock; 3] = [
    StartingStock::Evening,
    StartingStock::Overcast,
    StartingStock::Noon,
];

struct Patch {
    name: String,
    scene_lin: Rgb,
}

fn patches() -> Vec<Patch> {
    let reference: Value = serde_json::from_str(include_str!("reference/encodings.json")).unwrap();
    let chart = reference["chart"].as_array().unwrap();
    assert_eq!(chart.len(), 24);
    chart
        .iter()
        .map(|entry| {
            let ap1 = [0, 1, 2].map(|i| entry["ap1"][i].as_f64().unwrap() as f32);
            Patch {
                name: entry["name"].as_str().unwrap().to_owned(),
                scene_lin: Rgb::from_array(ap1),
            }
        })
        .collect()
}

/// A stock under the light that it is balanced for.
fn path_of(stock: StartingStock) -> LightPath {
    path_through(&mut Look::starting(stock), stock)
}

fn path_through(look: &mut Look, stock: StartingStock) -> LightPath {
    look.negative.stock.scene_light = own_kelvin(stock.balance());
    let frame = Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap();
    // Beside it the light itself, not a camera's rendering of it.
    let delivery = Delivery::read(r#"{"display":{"before":"hard"}}"#).unwrap();
    LightPath::new(look, &frame, &delivery)
}

/// The colour that a Rec.709 display (BT.1886, black at 0) shows for a code.
fn lab(code: Rgb) -> Lab {
    let light = code.to_array().map(|c| libm::pow(f64::from(c), 2.4));
    Lab::from_xyz(BT709.rgb_to_xyz().apply(light), D65)
}

/// How far the hue turned, in degrees, the short way round.
fn turned(from: Lab, to: Lab) -> f64 {
    turn(from.hue_degrees(), to.hue_degrees())
}

fn grey_of(colour: Lab) -> Lab {
    Lab {
        a: 0.0,
        b: 0.0,
        ..colour
    }
}

/// Largest turns of the skins and of the other colours, in degrees.
const fn limits(stock: StartingStock) -> (f64, f64) {
    match stock {
        StartingStock::Evening | StartingStock::Overcast => (4.0, 10.0),
        StartingStock::Noon => (4.0, 14.0),
        StartingStock::AllGrey | StartingStock::RedBlind => (f64::INFINITY, f64::INFINITY),
    }
}

#[test]
fn skins_and_colours_keep_their_hue_through_every_colour_stock() {
    let mut failures = Vec::new();
    for class in StartingStock::ALL {
        let path = path_of(*class);
        let (skin_limit, colour_limit) = limits(*class);
        println!(
            "\n{class:?}\n{:16} {:>6} {:>6} {:>6} {:>6} {:>6}",
            "patch", "dE", "hue", "L", "C", "turn"
        );
        for (i, patch) in patches().iter().enumerate() {
            let plain = lab(path.unstyled(patch.scene_lin));
            let styled = lab(path.to_screen(patch.scene_lin));
            let difference = delta_e_2000(plain, styled);
            let turn = turned(plain, styled);
            println!(
                "{:16} {difference:6.1} {:6.1} {:+6.1} {:+6.1} {turn:+6.1}",
                patch.name,
                plain.hue_degrees(),
                styled.l - plain.l,
                styled.chroma() - plain.chroma(),
            );
            let skin = SKINS.contains(&patch.name.as_str());
            let limit = if skin { skin_limit } else { colour_limit };
            if i < COLOURS && turn.abs() > limit {
                failures.push(format!("{class:?} {}: {turn:+.1} degrees", patch.name));
            }
        }
    }
    assert!(failures.is_empty(), "{failures:#?}");
}

/// Lightness, chroma and hue in degrees of a code in OKLab (B. Ottosson, 2020), whose hue stays where
/// colours get darker.
fn oklab(code: Rgb) -> [f64; 3] {
    const TO_CONES: [[f64; 3]; 3] = [
        [0.818_933_010_1, 0.361_866_742_4, -0.128_859_713_7],
        [0.032_984_543_6, 0.929_311_871_5, 0.036_145_638_7],
        [0.048_200_301_8, 0.264_366_269_1, 0.633_851_707_0],
    ];
    const TO_LAB: [[f64; 3]; 3] = [
        [0.210_454_255_3, 0.793_617_785_0, -0.004_072_046_8],
        [1.977_998_495_1, -2.428_592_205_0, 0.450_593_709_9],
        [0.025_904_037_1, 0.782_771_766_2, -0.808_675_766_0],
    ];
    let light = code.to_array().map(|c| libm::pow(f64::from(c), 2.4));
    let xyz = BT709.rgb_to_xyz().apply(light);
    let cones = Mat3(TO_CONES).apply(xyz).map(libm::cbrt);
    let [l, a, b] = Mat3(TO_LAB).apply(cones);
    [l, libm::hypot(a, b), libm::atan2(b, a).to_degrees()]
}

fn seen_hue(code: Rgb) -> f64 {
    let [_, _, hue] = oklab(code);
    hue
}

#[test]
fn a_negative_exposed_less_or_more_keeps_its_hues() {
    for stock in COLOUR_STOCKS {
        let path = path_of(stock);
        let (mut skins, mut all) = (0.0_f64, 0.0_f64);
        for patch in &patches()[..COLOURS] {
            let hue = |stops: f64| {
                let gain = libm::exp2(stops) as f32;
                seen_hue(path.to_screen(patch.scene_lin.map(|x| x * gain)))
            };
            for stops in [-3.0, -2.0, -1.0, 1.0] {
                let turned = turn(hue(0.0), hue(stops)).abs();
                all = all.max(turned);
                if SKINS.contains(&patch.name.as_str()) {
                    skins = skins.max(turned);
                }
            }
        }
        println!("{stock:?}, -3 to +1 stops: skins {skins:.1}, all {all:.1}");
        // The most vivid stock may turn its most vivid colours further.
        let limit = if stock == StartingStock::Noon {
            14.0
        } else {
            10.0
        };
        assert!(skins <= 5.0, "{stock:?}: {skins}");
        assert!(all <= limit, "{stock:?}: {all}");
    }
}

/// A neutral rendering makes a picture lighter and darker and keeps the ratios of its light, and so
/// keeps chroma over lightness in OKLab. Bound: common practice, no source.
#[test]
fn shadows_are_hardly_more_colourful_than_a_neutral_rendering_has_them() {
    for stock in COLOUR_STOCKS {
        let path = path_of(stock);
        for stops in [-3.0, -2.0, -1.0, 0.0] {
            let gain = libm::exp2(stops) as f32;
            let (mut film, mut plain) = (0.0, 0.0);
            for patch in &patches()[..COLOURS] {
                let vivid = |[l, chroma, _]: [f64; 3]| chroma / l;
                film += vivid(oklab(path.to_screen(patch.scene_lin.map(|x| x * gain))));
                plain += vivid(oklab(path.unstyled(patch.scene_lin)));
            }
            println!("{stock:?} at {stops}: {:.2} times", film / plain);
            assert!(
                film / plain <= 1.3,
                "{stock:?} at {stops}: {}",
                film / plain
            );
        }
    }
}

/// How far a print's hues may lie from a frame's without a look: common practice, no source.
#[test]
fn prints_keep_skins_and_hues() {
    for stock in COLOUR_STOCKS {
        for class in PositiveClass::ALL {
            let mut look = Look::starting(stock);
            look.print.positive.on = true;
            look.print.positive.class = *class;
            let path = path_through(&mut look, stock);
            let turns: Vec<f64> = patches()[..COLOURS]
                .iter()
                .map(|patch| {
                    let plain = seen_hue(path.unstyled(patch.scene_lin));
                    turn(plain, seen_hue(path.to_screen(patch.scene_lin)))
                })
                .collect();
            let most = |turns: &[f64]| {
                turns
                    .iter()
                    .fold(0.0_f64, |most, turn| most.max(turn.abs()))
            };
            let (skins, all) = (most(&turns[..2]), most(&turns));
            println!("{stock:?} on {class:?}: skins {skins:.1}, all {all:.1}");
            assert!(
                skins <= 3.5 && all <= 15.0,
                "{stock:?} {class:?}: {skins} {all}"
            );
        }
    }
}

#[test]
fn colour_stocks_are_apart() {
    let shown = |stock| {
        let path = path_of(stock);
        patches()
            .iter()
            .map(|patch| lab(path.to_screen(patch.scene_lin)))
            .collect::<Vec<_>>()
    };
    for (i, one) in COLOUR_STOCKS.into_iter().enumerate() {
        for other in COLOUR_STOCKS.into_iter().skip(i + 1) {
            let pairs = shown(one).into_iter().zip(shown(other));
            let apart = pairs.map(|(a, b)| delta_e_2000(a, b)).sum::<f64>() / 24.0;
            println!("{one:?} and {other:?}: {apart:.2} dE2000");
            assert!(apart >= 4.0, "{one:?} and {other:?}: {apart}");
        }
    }
}

#[test]
fn greys_stay_neutral_through_every_stock() {
    for class in StartingStock::ALL {
        let path = path_of(*class);
        for quarter_stop in -28..=28 {
            let scene_lin = 0.18 * libm::exp2(f64::from(quarter_stop) / 4.0);
            let styled = lab(path.to_screen(Rgb::grey(scene_lin as f32)));
            let cast = delta_e_2000(styled, grey_of(styled));
            assert!(
                cast < 2.0,
                "{class:?} at {quarter_stop} quarter stops: {cast}"
            );
        }
    }
}

#[test]
fn black_and_white_film_has_no_colour() {
    for stock in [StartingStock::AllGrey, StartingStock::RedBlind] {
        let path = path_of(stock);
        for patch in patches() {
            let styled = lab(path.to_screen(patch.scene_lin));
            assert!(styled.chroma() < 0.1, "{}: {}", patch.name, styled.chroma());
        }
    }
}
