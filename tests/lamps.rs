//! Lamps of narrow bands through daylight film on a Rec.709 screen: red ones go red, orange and
//! yellow as they get brighter and never pink, blue ones stay blue and get paler.
//!
//! Bands of 20 nm (`reference/film.json`, spectra and AP1 by colour-science 0.4.7) over a dim grey, as
//! light that holds 0.18 in its largest channel, from two stops less to eight more. Hue: CAM16
//! (Li et al. 2017). How far a hue may go: common practice, no source.

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

use lookwright_colour::Rgb;
use lookwright_colour::space::primaries::BT709;
use lookwright_film::look::{Balance, Delivery, Frame, Look, Options, StockChoice};
use lookwright_film::path::LightPath;
use lookwright_tests::cam16_hue;
use serde_json::Value;

const DIM_GREY: f64 = 0.005;

/// The film's starting look, and its bands: wavelength and AP1 light, largest channel 1.
fn film() -> (LightPath, Vec<(f64, [f64; 3])>) {
    let reference: Value = serde_json::from_str(include_str!("reference/film.json")).unwrap();
    let (balance, speed) = (Balance::Day, 250.0);
    let sets = reference["sets"].as_array().unwrap();
    let set = sets
        .iter()
        .find(|set| set["balance"] == balance.id() && set["speed"] == speed)
        .unwrap();
    let wavelengths = set["led_nm"].as_array().unwrap().iter();
    let lights = set["led_ap1"].as_array().unwrap().iter();
    let bands = wavelengths.zip(lights).map(|(nm, light)| {
        let ap1 = [0, 1, 2].map(|i| light[i].as_f64().unwrap());
        (nm.as_f64().unwrap(), ap1)
    });
    let mut look = Look::starting(StockChoice { balance, speed });
    look.negative.stock.scene_light = 5500.0;
    let frame = Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap();
    (
        LightPath::new(&look, &frame, &Delivery::default()),
        bands.collect(),
    )
}

/// From -2 to +8 stops: CAM16 hue, and the least of the three channels' light over the largest, which
/// is how pale a colour is.
fn ramp(path: &LightPath, band: [f64; 3]) -> Vec<(f64, f64)> {
    (-2..=8)
        .map(|stops| {
            let strength = 0.18 * libm::exp2(f64::from(stops));
            let light = band.map(|x| (x * strength + DIM_GREY) as f32);
            let code = path.to_screen(Rgb::from_array(light)).to_array();
            let shown = code.map(|c| libm::pow(f64::from(c), 2.4));
            let paleness =
                shown.into_iter().fold(1.0, f64::min) / shown.into_iter().fold(1e-9, f64::max);
            (cam16_hue(shown, &BT709), paleness)
        })
        .collect()
}

#[test]
fn red_lamps_go_red_orange_yellow_and_never_pink() {
    let (path, bands) = film();
    for (nm, band) in bands {
        if !(620.0..=660.0).contains(&nm) {
            continue;
        }
        let ramp = ramp(&path, band);
        let hues: Vec<f64> = ramp.iter().map(|(hue, _)| *hue).collect();
        println!("{nm}: {hues:.0?}");
        assert!(
            hues.iter().all(|hue| (15.0..110.0).contains(hue)),
            "{nm}: {hues:?}"
        );
        // Red up to three stops over, orange on the way, yellow at the end.
        assert!(hues[..6].iter().all(|hue| *hue < 35.0), "{nm}: {hues:?}");
        assert!(
            (30.0..75.0).contains(&hues[8]) && hues[10] > 65.0,
            "{nm}: {hues:?}"
        );
        assert!(hues[5..].is_sorted(), "{nm}: {hues:?}");
    }
}

#[test]
fn blue_lamps_stay_blue_and_go_pale() {
    let (path, bands) = film();
    for (nm, band) in bands {
        if !(445.0..=470.0).contains(&nm) {
            continue;
        }
        let ramp = ramp(&path, band);
        println!("{nm}: {ramp:.3?}");
        // Lavender lies beyond 300, cyan below 220.
        for (hue, _) in &ramp {
            assert!((230.0..300.0).contains(hue), "{nm}: {ramp:?}");
        }
        let (at_three, at_eight) = (ramp[5].1, ramp[10].1);
        assert!(at_eight > at_three, "{nm}: {ramp:?}");
    }
}
