//! Plates laid over a picture, and where they lie.

use super::super::SampleFrame;
use super::super::tests::{files, frame_of, zip_of};
use super::*;
use lookwright_film::look::{Delivery, Look, StageId, StartingStock};
use lookwright_film::spatial::{Planes, Window};
use lookwright_render::{Job, Renderer};
use std::io::Cursor;

use lookwright_colour::encoding::EncodingId;
use lookwright_render::PictureRows;

/// A frame of LogC3 codes, dark to the left of an edge and bright to the right.
fn edge() -> SampleFrame {
    frame_of("Edge", |x| if x < 60 { 20_000 } else { 60_000 })
}

fn pack() -> Pack {
    let mut look = Look::starting(StartingStock::Overcast);
    look.negative.dust.on = true;
    let mut pack = Pack::new(vec![look], vec![EncodingId::LogC3]);
    pack.grid = 3;
    pack.frames = vec![edge()];
    pack.plates = Some(Plates {
        width: 120,
        height: 80,
        frames: 2,
    });
    pack
}

fn planes(files: &[(String, Vec<u8>)], ending: &str) -> [Vec<f32>; 3] {
    let found = files.iter().find(|(path, _)| path.ends_with(ending));
    let (_, bytes) = found.unwrap_or_else(|| panic!("{ending}"));
    lookwright_picture::decode(bytes).unwrap().to_planes()
}

#[test]
fn a_halation_plate_laid_as_the_note_says_gives_the_picture_with_halation() {
    let pack = pack();
    let files = files(zip_of(&pack));
    let plate = planes(&files, "_halation_on-rec709-full_1-edge.png");
    let rendered = |look: Look| {
        let picture = &pack.frames[0].picture;
        let (width, height) = picture.size();
        let job = Job {
            look,
            frame: pack.frames[0].frame.clone(),
            delivery: pack.delivery(pack.out_ranges[0]),
            stage: StageId::Screen,
            window: Window::whole(width, height),
            frame_number: 0,
        };
        let code = Planes {
            width,
            height,
            planes: picture.to_planes(),
        };
        Renderer::new(code).render(&job).planes
    };
    let plain = rendered(pack.looks[0].without_texture());
    let mut halation = pack.looks[0].clone();
    halation.for_each_step(|step| {
        if step.spec().texture && step.spec().id != "halation" {
            step.set_on(false);
        }
    });
    let wanted = rendered(halation);
    let mut most = 0.0_f32;
    for channel in 0..3 {
        for (i, plate) in plate[channel].iter().enumerate() {
            let laid = plain[channel][i] + 2.0 * plate - 1.0;
            let apart = (laid - wanted[channel][i]).abs();
            assert!(apart < 3.0 / 65535.0, "{apart}");
            most = most.max((wanted[channel][i] - plain[channel][i]).abs());
        }
    }
    assert!(most > 0.005, "{most}");
}

#[test]
fn grain_lies_around_the_middle_dust_is_light_and_frames_differ() {
    let pack = pack();
    let files = files(zip_of(&pack));
    let [one, two] = [1, 2].map(|number| {
        let [_, green, _] = planes(&files, &format!("_grain_on-rec709-full.000{number}.png"));
        green
    });
    let mean = one.iter().sum::<f32>() / one.len() as f32;
    assert_eq!(one.len(), 120 * 80);
    assert!((mean - 0.5).abs() < 0.01, "{mean}");
    assert!(one != two);
    let dust = planes(&files, "_dust_on-rec709-full.0001.png");
    assert!(dust.iter().flatten().all(|v| *v > 0.4999));
}

#[test]
fn where_the_scan_can_be_reached_plates_lie_there() {
    let mut pack = pack();
    pack.splits = vec![Split::CameraToScan, Split::ScanToScreen];
    let files = files(zip_of(&pack));
    let is_there = |(path, _): &(String, Vec<u8>)| path.ends_with("_grain_on-film-scan.0002.png");
    assert!(files.iter().any(is_there));
}

/// One meaning of a plate: in a pack, by itself, and in a program that reads the gain's table.
#[test]
fn the_same_question_gets_the_same_bytes() {
    let pack = pack();
    let files = files(zip_of(&pack));
    let recipe = PlateRecipe {
        look: pack.looks[0].clone(),
        kind: PlateKind::Grain,
        on: PlateOn::Picture,
        delivery: Delivery::default(),
    };
    let alone = OverGrey::new(&recipe, (120, 80)).unwrap();
    let gain = alone.gain_cube().unwrap();
    for (ending, bytes) in [
        ("_grain_on-rec709-full.0002.png", &alone.plate(2).unwrap()),
        ("_grain_on-rec709-full_gain.cube", &gain),
        (
            "_grain_on-rec709-full_blend.txt",
            &alone.note().into_bytes(),
        ),
    ] {
        let found = files.iter().find(|(path, _)| path.ends_with(ending));
        assert!(found.unwrap().1 == *bytes, "{ending}");
    }
    let table = lookwright_table::cube::read(&gain).unwrap();
    for code in [[0.0, 0.05, 0.1], [0.3, 0.5, 0.7], [0.9, 0.97, 1.0]] {
        let read = table.curve.as_ref().unwrap().apply(code);
        let told = alone.gain().apply(code);
        assert!((0..3).all(|c| (read[c] - told[c]).abs() < 1e-5), "{code:?}");
    }
}

#[test]
fn no_frames_are_no_plates() {
    let mut pack = pack();
    pack.plates = Some(Plates {
        frames: 0,
        ..Plates::default()
    });
    let refusal = pack.write(Cursor::new(Vec::new()), |_| true).unwrap_err();
    assert!(refusal.message().contains("1 to 10000 plates"), "{refusal}");
}
