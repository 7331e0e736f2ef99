//! Chart check: a rendered chart of published reflectances is found, read, and says its exposure and light.
//!
//! Charts are laid over frames of `demo-images` in perspective, with noise (`rendered_chart.rs`).

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

use lookwright_colour::Rgb;
use lookwright_colour::encoding::EncodingId;
use lookwright_film::look::Frame;
use lookwright_film::path::FrameCode;
use lookwright_film::path::intake::IntakePoint;
use lookwright_film::spatial::{Planes, reduce};
use lookwright_picture::{decode, suggest};
use lookwright_tests::rendered_chart::{
    Corners, Noise, check, corners_off, exposure_left, laid, lights, mired_off, scene,
};

const DEMO: [&str; 11] = [
    "dusk-waterfront.png",
    "fish-market-noon.png",
    "market-dog.png",
    "night-ferry.png",
    "parlour-window.png",
    "quay-overcast.png",
    "first.jpg",
    "harbour-cup.jpg",
    "screenshot.jpg",
    "visitor.jpg",
    "window-box.jpg",
];

/// A frame of the demo as code, and how it is read.
fn demo(name: &str) -> (Planes, Frame) {
    let path = format!("{}/../demo-images/{name}", env!("CARGO_MANIFEST_DIR"));
    let bytes = std::fs::read(path).unwrap();
    let decoded = decode(&bytes).unwrap();
    let mut frame = Frame::default();
    frame.source.encoding = suggest(&decoded, name).encoding;
    let (width, height) = (decoded.width as usize, decoded.height as usize);
    let mut code = Planes::filled(width, height, 0.0);
    for i in 0..code.pixels() {
        let pixel = decoded.pixel((i % width) as u32, (i / width) as u32);
        for (plane, value) in code.planes.iter_mut().zip(pixel) {
            plane[i] = value;
        }
    }
    (reduce(&code, 800, 800 * height / width), frame)
}

/// As scene light.
fn light_of((code, frame): (Planes, Frame)) -> Planes {
    let intake = IntakePoint::new(&frame);
    let mut out = code.clone();
    for i in 0..code.pixels() {
        let pixel = Rgb::from_array([0, 1, 2].map(|c| code.planes[c][i]));
        let light = intake.apply(FrameCode(pixel)).0.to_array();
        for (plane, light) in out.planes.iter_mut().zip(light) {
            plane[i] = light;
        }
    }
    out
}

#[test]
fn charts_are_found_in_frames_and_say_exposure_and_light() {
    let lights = lights();
    let backgrounds: Vec<Planes> = DEMO[..6].iter().map(|name| light_of(demo(name))).collect();
    let mut noise = Noise::new(7);
    let (mut found_count, mut missed) = (0, Vec::new());
    let (mut worst_stops, mut worst_mired, mut worst_corner) = (0.0_f64, 0.0_f64, 0.0_f64);
    const CASES: usize = 102;
    for case in 0..CASES {
        let light = &lights[case % lights.len()];
        let background = &backgrounds[(case / 2) % backgrounds.len()];
        let share = libm::pow(0.15, 1.0 - noise.even());
        let degrees = 20.0 * (2.0 * noise.even() - 1.0);
        let slant = [0, 1, 2, 3, 4, 5, 6, 7].map(|_| 0.06 * (2.0 * noise.even() - 1.0));
        let stops = 5.0 * noise.even() - 2.0;
        let grain = 0.06 * noise.even();
        let corners = Corners::within(
            background,
            share,
            degrees,
            slant,
            [noise.even(), noise.even()],
        );
        let chart = laid(
            background,
            &light.patches,
            stops,
            &corners,
            grain,
            &mut noise,
        );
        let said = format!(
            "case {case}: {} {stops:+.1} stops, {:.0} % wide, {degrees:.0} degrees, noise {grain:.3}",
            light.name,
            100.0 * share
        );
        let Ok(found) = check(&chart.picture, &scene()) else {
            missed.push(said);
            continue;
        };
        found_count += 1;
        let corner = corners_off(&found.corners, &chart);
        let off = exposure_left(&found, &light.patches, stops).abs();
        let mired = mired_off(&found, light.kelvin);
        if corner > 0.15 || off > 0.03 || mired > 5.0 {
            println!(
                "{said}: corners {corner:.2}, {off:.3} stops, {mired:.1} mired {:?}",
                found.remarks
            );
        }
        worst_corner = worst_corner.max(corner);
        worst_stops = worst_stops.max(off);
        worst_mired = worst_mired.max(mired);
    }
    println!(
        "{found_count} of {CASES}; at most {worst_stops:.3} stops, {worst_mired:.1} mired, corners {worst_corner:.2}; missed {missed:#?}"
    );
    assert!(found_count * 100 >= CASES * 98, "{missed:#?}");
    assert!(worst_stops <= 0.03 && worst_mired <= 5.0 && worst_corner < 0.2);
}

#[test]
fn no_chart_is_found_where_there_is_none() {
    for name in DEMO {
        let (code, frame) = demo(name);
        let said = check(&code, &frame).unwrap_err();
        assert!(
            said.starts_with("No 24-patch chart was found in this frame"),
            "{name}: {said}"
        );
    }
}

/// `demo-images/chart-24.png`: rendered from ISO 17321-1's reflectances under D55, 5503 K, in LogC4.
#[test]
fn the_chart_of_the_demonstration_reads_as_published() {
    let (code, mut frame) = demo("chart-24.png");
    frame.source.encoding = EncodingId::LogC4;
    let found = check(&code, &frame).unwrap();
    let trim = found.trim.unwrap();
    println!("{trim:?} {:?}", found.remarks);
    for patch in &found.patches {
        println!(
            "{:14} {:+.2} stops, {:?}, dE {:.1?}",
            patch.name, patch.stops, patch.colours, patch.differences
        );
    }
    assert!(
        (1e6 / trim.kelvin - 1e6 / 5503.0).abs() < 5.0 && trim.exposure.abs() <= 0.03,
        "{trim:?}"
    );
    assert!(found.remarks.is_empty(), "{:?}", found.remarks);
}
