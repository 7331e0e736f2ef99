//! Layer exposures against direct spectral integration, and what follows from standards.
//!
//! `reference/film.json` is made by `reference/film/make.py` with colour-science 0.4.7 (24 patches,
//! lights of ISO 7589 and CIE, narrow bands) and OpenColorIO 2.6.0 (ADX10 to ACES, whose inverse gives
//! the chart's printing densities on the film of ST 2065-2). The chart is not among the spectra that
//! the closed form was fitted to.

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

use lookwright_colour::Rgb;
use lookwright_film::look::{Balance, Delivery, Frame, Look, Options, StageId, StockChoice};
use lookwright_film::path::negative::own_kelvin;
use lookwright_film::path::{LightPath, SceneLin};
use serde_json::Value;

fn reference() -> Value {
    serde_json::from_str(include_str!("reference/film.json")).unwrap()
}

fn path_of(balance: Balance, speed: f64) -> LightPath {
    let mut look = Look::starting(StockChoice { balance, speed });
    look.negative.stock.scene_light = own_kelvin(balance);
    let frame = Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap();
    LightPath::new(&look, &frame, &Delivery::default())
}

fn triples(value: &Value) -> Vec<[f64; 3]> {
    let row = |row: &Value| [0, 1, 2].map(|i| row[i].as_f64().unwrap());
    value.as_array().unwrap().iter().map(row).collect()
}

/// Stops by which the film's exposures differ from the integrated ones, by colour and layer.
fn stops_off(path: &LightPath, ap1: &[[f64; 3]], exposure: &[[f64; 3]]) -> Vec<[f64; 3]> {
    let off = |(light, exact): (&[f64; 3], &[f64; 3])| {
        let light = SceneLin(Rgb::from_array(light.map(|c| c as f32)));
        let seen = path.expose(light).0.to_array();
        [0, 1, 2].map(|i| libm::log2(f64::from(seen[i]) / exact[i]))
    };
    ap1.iter().zip(exposure).map(off).collect()
}

fn rms(off: &[[f64; 3]]) -> [f64; 3] {
    [0, 1, 2].map(|i| {
        let sum: f64 = off.iter().map(|o| o[i] * o[i]).sum();
        libm::sqrt(sum / off.len() as f64)
    })
}

#[test]
fn the_chart_exposes_the_layers_as_integration_says() {
    for set in reference()["sets"].as_array().unwrap() {
        let balance = Balance::from_id(set["balance"].as_str().unwrap()).unwrap();
        let speed = set["speed"].as_f64().unwrap();
        let off = stops_off(
            &path_of(balance, speed),
            &triples(&set["chart_ap1"]),
            &triples(&set["chart_exposure"]),
        );
        let rms = rms(&off);
        println!("{balance:?} {speed}: chart {rms:.3?}");
        assert!(
            rms.iter().all(|r| *r <= 0.10),
            "{balance:?} {speed}: {rms:?}"
        );
    }
}

#[test]
fn narrow_bands_expose_the_layers_as_integration_says() {
    for set in reference()["sets"].as_array().unwrap() {
        let balance = Balance::from_id(set["balance"].as_str().unwrap()).unwrap();
        let speed = set["speed"].as_f64().unwrap();
        let path = path_of(balance, speed);
        let ap1 = triples(&set["led_ap1"]);
        let off = stops_off(&path, &ap1, &triples(&set["led_exposure"]));
        let place = |nm: f64| {
            let all = set["led_nm"].as_array().unwrap();
            all.iter().position(|it| it.as_f64() == Some(nm)).unwrap()
        };
        println!("{balance:?} {speed}: bands {:.2?}", rms(&off));
        let amber = off[place(590.0)];
        assert!(amber.iter().all(|o| o.abs() <= 0.5), "590 nm: {amber:?}");
        // Blue light of 455 nm hardly reaches the red layer: 8 stops below the blue one at least.
        let blue = ap1[place(455.0)].map(|c| c as f32);
        let seen = path.expose(SceneLin(Rgb::from_array(blue))).0;
        let below = libm::log2f(seen.r / seen.b);
        assert!(below <= -8.0, "455 nm: {below}");
    }
}

#[test]
fn lamp_film_in_daylight_takes_the_cast_of_the_standard_lights() {
    // ISO 7589: photographic daylight on film balanced for studio tungsten.
    let integrated = reference()["iso_7589_blue_over_red_stops"]
        .as_f64()
        .unwrap();
    assert!((integrated - 1.9).abs() <= 0.15, "{integrated}");
    let mut look = Look::starting(StockChoice {
        balance: Balance::Lamp,
        speed: 500.0,
    });
    look.negative.stock.scene_light = 5500.0;
    let frame = Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap();
    let path = LightPath::new(&look, &frame, &Delivery::default());
    let grey = path.expose(SceneLin(Rgb::grey(0.18))).0;
    let stops = f64::from(libm::log2f(grey.b / grey.r));
    assert!((stops - integrated).abs() < 0.1, "{stops} {integrated}");
}

#[test]
fn the_chart_has_the_printing_densities_of_the_standard_film() {
    let reference = reference();
    let adx = triples(&reference["adx10"]);
    let sets = reference["sets"].as_array().unwrap();
    let set = sets
        .iter()
        .find(|set| set["balance"] == "day" && set["speed"] == 250)
        .unwrap();
    let mut flat = Look::starting(StockChoice {
        balance: Balance::Day,
        speed: 250.0,
    });
    flat.negative.stock.scene_light = 5500.0;
    flat.bypass(StageId::Scan);
    let frame = Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap();
    let scan = LightPath::new(&flat, &frame, &Delivery::default());
    let ours: Vec<[f64; 3]> = triples(&set["chart_ap1"])
        .iter()
        .map(|light| {
            let light = Rgb::from_array(light.map(|c| c as f32));
            let code = scan.up_to(StageId::Scan, light).to_array();
            code.map(|c| f64::from(c) * 1023.0)
        })
        .collect();
    // The grey scale: its slope over the standard film's, both in code of green.
    let mean = |codes: &[[f64; 3]]| codes[18..].iter().map(|c| c[1]).sum::<f64>() / 6.0;
    let (their_mean, our_mean) = (mean(&adx), mean(&ours));
    let (mut along, mut size) = (0.0, 0.0);
    for (theirs, ours) in adx[18..].iter().zip(&ours[18..]) {
        along += (theirs[1] - their_mean) * (ours[1] - our_mean);
        size += (theirs[1] - their_mean) * (theirs[1] - their_mean);
    }
    println!("grey scale: slope {:.3}", along / size);
    assert!((along / size - 1.0).abs() <= 0.15, "{}", along / size);
    for (name, from) in [("red over green", 0), ("blue over green", 2)] {
        let apart = |codes: &[[f64; 3]]| -> Vec<f64> {
            codes[..18].iter().map(|c| c[from] - c[1]).collect()
        };
        let (standard, film) = (apart(&adx), apart(&ours));
        let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
        let slope = dot(&standard, &film) / dot(&standard, &standard);
        let likeness =
            dot(&standard, &film) / libm::sqrt(dot(&standard, &standard) * dot(&film, &film));
        println!("{name}: slope {slope:.3}, likeness {likeness:.3}");
        assert!((slope - 1.0).abs() <= 0.15, "{name}: {slope}");
        assert!(likeness > 0.97, "{name}: {likeness}");
        // Red, the fifteenth patch: as the standard's film has it, in sign too.
        assert!(standard[14].signum() == film[14].signum(), "{name} of red");
    }
}
