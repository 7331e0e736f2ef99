//! A clip's frames against the picture at rest.

use super::*;
use crate::reference::{render, unstyled};
use lookwright_film::look::{Delivery, Frame, Look, StartingStock};
use lookwright_film::spatial::Window;

const SIZE: (usize, usize) = (400, 225);

/// All colours at all brightnesses, slowly, with a few lamps: RGBA, 8 bits.
fn frame() -> Vec<u8> {
    let (width, height) = SIZE;
    let code = |i: usize, channel: usize| {
        let (x, y) = (i % width, i / width);
        if x % 97 < 5 && y % 61 < 5 {
            return 255;
        }
        let light = 0.02 + 0.9 * x as f32 / width as f32;
        let turn = y as f32 / height as f32 + channel as f32 / 3.0;
        let tinted = light + 0.25 * light * libm::sinf(core::f32::consts::TAU * turn);
        (tinted.clamp(0.0, 1.0) * 255.0) as u8
    };
    (0..width * height)
        .flat_map(|i| [code(i, 0), code(i, 1), code(i, 2), 255])
        .collect()
}

fn job(look: Look) -> Job {
    Job {
        look,
        frame: Frame::read(r#"{"source":{"encoding":"srgb"}}"#).unwrap(),
        delivery: Delivery::default(),
        stage: StageId::Screen,
        window: Window::whole(SIZE.0, SIZE.1),
        frame_number: 0,
    }
}

/// A look with all texture but grain, which a clip draws otherwise.
fn without_grain(class: StartingStock) -> Look {
    let mut look = Look::starting(class);
    look.lens.diffusion.on = true;
    look.lens.diffusion.strength = 0.1;
    look.negative.halation.on = true;
    look.negative.grain.on = false;
    look
}

fn exact(job: &Job) -> Vec<u8> {
    let mut picture = Planes::filled(SIZE.0, SIZE.1, 0.0);
    read(
        &frame(),
        &mut picture.planes.each_mut().map(Vec::as_mut_slice),
    );
    let out = if job.stage == StageId::Intake {
        unstyled(picture, job)
    } else {
        render(picture, job)
    };
    crate::to_rgba8(&out)
}

fn played(job: &Job, number: u32) -> Vec<u8> {
    let mut rgba = frame();
    let mut renderer = ClipRenderer::new(job, SIZE.0, SIZE.1, None).unwrap();
    renderer.render(&mut rgba, number);
    rgba
}

/// How far the codes are apart, sorted.
fn apart(a: &[u8], b: &[u8]) -> Vec<u8> {
    let mut apart: Vec<u8> = a.iter().zip(b).map(|(a, b)| a.abs_diff(*b)).collect();
    apart.sort_unstable();
    apart
}

fn share(apart: &[u8], of: f64) -> u8 {
    apart[((apart.len() - 1) as f64 * of) as usize]
}

#[test]
fn a_played_frame_is_near_the_exact_one() {
    for class in [
        StartingStock::Evening,
        StartingStock::Noon,
        StartingStock::AllGrey,
    ] {
        for stage in [StageId::Screen, StageId::Scan, StageId::Intake] {
            let job = Job {
                stage,
                ..job(without_grain(class))
            };
            let apart = apart(&played(&job, 4), &exact(&job));
            let (half, most, nearly) =
                (share(&apart, 0.5), share(&apart, 0.9), share(&apart, 0.99));
            assert!(
                half == 0 && most <= 1 && nearly <= 2,
                "{class:?} {stage:?}: {half} {most} {nearly}"
            );
        }
    }
}

/// A film scan has no film to be exposed: all of its way is one table in motion, and what follows its
/// densities is one while a control moves.
#[test]
fn a_film_scan_is_near_the_exact_one() {
    for encoding in ["film-scan", "adx10"] {
        for stage in [StageId::Screen, StageId::Scan] {
            let mut job = Job {
                stage,
                ..job(without_grain(StartingStock::Noon))
            };
            let frame_text = format!(r#"{{"source":{{"encoding":"{encoding}"}}}}"#);
            job.frame = Frame::read(&frame_text).unwrap();
            let exact = exact(&job);
            let mut picture = Planes::filled(SIZE.0, SIZE.1, 0.0);
            let planes = &mut picture.planes.each_mut().map(Vec::as_mut_slice);
            read(&frame(), planes);
            let quick = crate::Renderer::new(picture).render_quickly(&job);
            for quick in [played(&job, 4), crate::to_rgba8(&quick)] {
                let apart = apart(&quick, &exact);
                let (half, most, nearly) =
                    (share(&apart, 0.5), share(&apart, 0.9), share(&apart, 0.99));
                assert!(
                    half == 0 && most <= 1 && nearly <= 2,
                    "{encoding} {stage:?}: {half} {most} {nearly}"
                );
            }
        }
    }
}

#[test]
fn the_look_matters_and_grain_and_dust_follow_the_frame() {
    let mut look = without_grain(StartingStock::Evening);
    let clean = played(&job(look.clone()), 1);
    look.negative.grain.on = true;
    look.negative.grain.strength = 3.0;
    let grained = played(&job(look.clone()), 1);
    assert!(share(&apart(&clean, &grained), 0.5) >= 1);
    assert_eq!(grained, played(&job(look.clone()), 1));
    assert_ne!(grained, played(&job(look.clone()), 2));
    look.negative.grain.on = false;
    look.negative.dust.on = true;
    look.negative.dust.rate = 300.0;
    let dusty = played(&job(look.clone()), 1);
    assert_ne!(dusty, clean);
    assert_eq!(dusty, played(&job(look.clone()), 1));
    assert_ne!(dusty, played(&job(look), 2));
}

#[test]
fn weave_fringe_and_flicker_are_those_of_the_frame() {
    let mut look = without_grain(StartingStock::Overcast);
    look.lens.fringe.on = true;
    look.lens.weave.on = true;
    (look.lens.weave.sideways, look.lens.weave.upright) = (40.0, 40.0);
    look.negative.flicker.on = true;
    look.negative.flicker.density = 0.05;
    let mut job = job(look);
    job.frame_number = 4;
    let frame = played(&job, 4);
    let near = apart(&frame, &exact(&job));
    assert!(share(&near, 0.9) <= 1 && share(&near, 0.99) <= 3);
    assert!(share(&apart(&frame, &played(&job, 5)), 0.5) > 2);
}

#[test]
fn a_renderer_suits_its_job_whatever_the_frame() {
    let now = job(without_grain(StartingStock::Overcast));
    let renderer = ClipRenderer::new(&now, SIZE.0, SIZE.1, None).unwrap();
    let later = Job {
        frame_number: 9,
        ..now.clone()
    };
    assert!(renderer.suits(&later, SIZE.0, SIZE.1));
    assert!(!renderer.suits(&now, SIZE.0 / 2, SIZE.1));
    let mut other = now;
    other.look.scan.contrast.slope += 0.1;
    assert!(!renderer.suits(&other, SIZE.0, SIZE.1));
}
