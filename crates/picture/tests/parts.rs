//! A picture developed in parts, by workers with no memory in common, has the bytes of one that is
//! developed in one go.

#![allow(clippy::unwrap_used, reason = "a helper of tests may panic")]

use lookwright_film::look::{Delivery, Frame, Look, StageId, StartingStock};
use lookwright_film::spatial::Window;
use lookwright_picture::{Camera, Carried, ColourHint, Decoded, Kind, OutFormat, Part, Samples};
use lookwright_picture::{Stamp, Version, develop, develop_in_sequence};
use lookwright_render::{HaloPlane, Job};

fn picture(width: u32, height: u32, bits: u8) -> Decoded {
    let code = |i: u32| (i.wrapping_mul(2_654_435_761) >> 16) as u16 % 65_000;
    let codes = (0..3 * width * height).map(code);
    let samples = match bits {
        8 => Samples::U8(codes.map(|code| (code >> 8) as u8).collect()),
        16 => Samples::U16(codes.collect()),
        _ => Samples::F32(codes.map(|code| f32::from(code) / 65_535.0).collect()),
    };
    Decoded {
        width,
        height,
        samples,
        kind: Kind::Tiff,
        file_bits: bits,
        colour: ColourHint::Untagged,
        legal_range: false,
        camera: Camera::default(),
        notes: Vec::new(),
        shown: None,
        carried: Carried::default(),
    }
}

fn job(width: u32, height: u32) -> Job {
    let mut look = Look::starting(StartingStock::Evening);
    look.for_each_step(|step| step.set_on(true));
    Job {
        look,
        frame: Frame::default(),
        delivery: Delivery::default(),
        stage: StageId::Screen,
        window: Window::whole(width as usize, height as usize),
        frame_number: 0,
    }
}

/// A few rows at a time, as workers do.
fn tell_each_other(parts: &mut [Part], layer: usize) {
    for plane in [1, 2].map(|level| HaloPlane { layer, level }) {
        let ranges: Vec<_> = parts
            .iter_mut()
            .map(|p| p.halo_ranges(plane).unwrap())
            .collect();
        for from in 0..parts.len() {
            for to in (0..parts.len()).filter(|to| *to != from) {
                let (own, wanted) = (&ranges[from].own, &ranges[to].wanted);
                let mut rows = own.start.max(wanted.start)..own.end.min(wanted.end);
                while !rows.is_empty() {
                    let some = rows.start..rows.end.min(rows.start + 5);
                    rows.start = some.end;
                    let told = parts[from].read_halo(plane, some.clone()).unwrap();
                    assert_eq!(told.len(), ranges[from].columns * some.len());
                    parts[to].write_halo(plane, some.start, &told).unwrap();
                }
            }
        }
    }
    for part in parts {
        part.close_halo(layer).unwrap();
    }
}

/// In three parts, where the format has them; everything that goes between them is bytes and numbers.
fn in_parts(picture: &Decoded, job: &Job, version: Version, format: OutFormat) -> Vec<u8> {
    let size = (picture.width, picture.height);
    let rows = Part::divide(size.1, format, 3);
    let mut parts: Vec<Part> = rows
        .into_iter()
        .map(|rows| Part::new(size, job, version, format, rows).unwrap())
        .collect();
    let mut files = vec![Vec::new(); parts.len()];
    loop {
        for (part, file) in parts.iter_mut().zip(&mut files) {
            let mut done = part.done();
            for rows in part.needs() {
                let bytes = picture.row_bytes(rows).unwrap().to_vec();
                let samples = Samples::from_bytes(picture.samples.bits(), bytes);
                part.step(samples.unwrap()).unwrap();
                assert!(part.done() > done);
                done = part.done();
                file.extend(part.written());
            }
        }
        if parts[0].gathers() {
            for layer in 0..3 {
                tell_each_other(&mut parts, layer);
            }
        }
        if !parts.iter_mut().fold(true, |_, part| part.next_round()) {
            break;
        }
    }
    for (part, file) in parts.into_iter().zip(&mut files) {
        assert!((part.done() - 1.0).abs() < 1e-9);
        file.extend(part.finish().unwrap());
    }
    files.concat()
}

#[test]
fn parts_give_the_bytes_of_the_whole() {
    let (width, height) = (70, 117);
    let job = job(width, height);
    let formats = [
        OutFormat::Jpeg { quality: 92 },
        OutFormat::Jpeg { quality: 70 },
        OutFormat::Png8,
        OutFormat::Png16,
        OutFormat::Tiff16,
    ];
    for bits in [8, 16, 32] {
        let picture = picture(width, height, bits);
        for format in formats {
            for version in [Version::Styled, Version::Unstyled] {
                let whole = develop(&picture, &job, version, format).unwrap();
                let stamp = match version {
                    Version::Styled => Stamp::of(&job.look, job.frame_number),
                    Version::Unstyled => Stamp::default(),
                };
                let following = develop_in_sequence(&picture, &job, version, (format, &stamp));
                assert!(following.unwrap() == whole, "{bits} bits, {format:?}");
                let parts = in_parts(&picture, &job, version, format);
                assert!(parts == whole, "{bits} bits, {format:?}, {version:?}");
            }
        }
    }
}

#[test]
fn a_picture_is_divided_evenly_and_wholly() {
    let jpeg = OutFormat::Jpeg { quality: 90 };
    for height in [1, 16, 17, 33, 3000, 65_535] {
        for count in [0, 1, 2, 3] {
            let parts = Part::divide(height, jpeg, count);
            assert!(parts.len() <= count.max(1) as usize);
            assert_eq!((parts[0].start, parts.last().unwrap().end), (0, height));
            assert!(parts.windows(2).all(|pair| pair[0].end == pair[1].start));
            let long = |p: &std::ops::Range<u32>| (p.end - p.start).div_ceil(16);
            let (least, most) = (parts.iter().map(long).min(), parts.iter().map(long).max());
            assert!(least.unwrap() + 1 >= most.unwrap(), "{parts:?}");
        }
    }
    assert_eq!(Part::divide(100, OutFormat::Png8, 2).len(), 1);
}

#[test]
fn wrong_parts_and_wrong_rows_have_their_sentence() {
    let jpeg = OutFormat::Jpeg { quality: 90 };
    let job = job(20, 40);
    let new = |rows| Part::new((20, 40), &job, Version::Styled, jpeg, rows);
    for rows in [0..0, 0..41, 8..40, 0..17] {
        let Err(error) = new(rows) else {
            panic!("no such part")
        };
        assert!(error.message().contains("no part of a picture of 20 x 40"));
    }
    let mut part = new(0..16).unwrap();
    let short = part.step(Samples::U8(vec![0; 59])).unwrap_err();
    assert!(short.message().contains("59 samples"), "{short}");
    assert!(picture(20, 40, 8).row_bytes(30..41).is_err());
    let plane = |layer, level| HaloPlane { layer, level };
    for none in [plane(3, 1), plane(0, 0), plane(0, 3)] {
        assert!(part.halo_ranges(none).is_err());
        assert!(part.read_halo(none, 0..1).is_err());
        assert!(part.write_halo(none, 0, &[0.0]).is_err());
    }
    assert!(part.close_halo(3).is_err());
    assert!(
        part.read_halo(plane(0, 1), 0..1).is_err(),
        "nothing is gathered"
    );
    assert!(part.write_halo(plane(0, 1), 0, &[0.0]).is_err());
    assert!(Samples::from_bytes(12, vec![0; 12]).is_err());
}
