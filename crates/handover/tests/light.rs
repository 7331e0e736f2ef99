//! Tables of scene light: lamps with components below zero, and ordinary colours.
//!
//! `cargo test --release -p lookwright-handover --test light -- --ignored --nocapture` prints what
//! "Lamps in light" of `TABLES.md` is the mean of.

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

mod common;
mod off;

use common::looks;
use lookwright_colour::encoding::EncodingId;
use off::{baked, codes, inputs_at};

/// Looks of five kinds: night, hard sun, a print, a faded reel, black and white.
const SHOWN: [&str; 5] = [
    "night-ferry",
    "fish-market",
    "matinee",
    "net-loft",
    "storm-warning",
];
const ENCODINGS: [EncodingId; 4] = [
    EncodingId::AcesCg,
    EncodingId::Ap0Linear,
    EncodingId::Rec2020Linear,
    EncodingId::SrgbLinear,
];
/// Grey light that a lamp stands over, so that nothing is without light.
const DIM_GREY: f64 = 0.005;

/// Bands of 20 nm from 440 to 660 nm (colour-science 0.4.7, in AP1, the largest channel 1) over a dim
/// grey, mid-grey being 0.18: from four stops less than that to eight more, in an encoding.
fn lamps(encoding: EncodingId) -> Vec<[f32; 3]> {
    let reference = include_str!("../../../tests/reference/film.json");
    let reference: serde_json::Value = serde_json::from_str(reference).unwrap();
    let bands = reference["sets"][0]["led_ap1"].as_array().unwrap();
    let (from_ap1, _) = encoding.from_scene();
    let mut lamps = Vec::new();
    for band in bands {
        let band = [0, 1, 2].map(|c| band[c].as_f64().unwrap());
        for half_stops in -8..=16 {
            let strength = 0.18 * libm::exp2(f64::from(half_stops) / 2.0);
            let ap1 = band.map(|v| v * strength + DIM_GREY);
            lamps.push(from_ap1.apply(ap1).map(|v| v as f32));
        }
    }
    lamps
}

/// With a shaper that ends at black this look is 38.6 codes off these lamps on average, whatever the
/// grid.
#[test]
fn lamps_with_light_below_zero_are_followed() {
    for (id, look) in looks() {
        if id == "net-loft" {
            let mean = |grid| {
                codes(
                    &baked(&look, EncodingId::AcesCg, grid),
                    &lamps(EncodingId::AcesCg),
                )[0]
            };
            let (coarse, fine) = (mean(17), mean(33));
            assert!(fine < 26.0 && fine < 0.7 * coarse, "{coarse} {fine}");
            return;
        }
    }
    panic!("the look is not in the library");
}

#[test]
#[ignore = "prints a table of TABLES.md; see the head of this file"]
fn print_lamps() {
    println!(
        "| look | encoding | grid | lamps: codes mean | 99 | largest | ordinary: codes mean | 99 | largest |"
    );
    println!("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
    for encoding in ENCODINGS {
        for grid in [33, 65] {
            for (id, look) in looks() {
                if !SHOWN.contains(&id.as_str()) {
                    continue;
                }
                let table = baked(&look, encoding, grid);
                let ordinary = inputs_at(&table, &table.ordinary(4000).unwrap());
                let cells: Vec<String> =
                    [codes(&table, &lamps(encoding)), codes(&table, &ordinary)]
                        .iter()
                        .flatten()
                        .map(|v| format!("{v:.2}"))
                        .collect();
                println!(
                    "| {id} | {} | {grid} | {} |",
                    encoding.id(),
                    cells.join(" | ")
                );
            }
        }
    }
}
