//! What is seen at full size against the whole picture.

use super::*;
use crate::reference::render;
use crate::strips::tests::night;
use lookwright_film::look::{
    Delivery, Frame, HalationMethod, Look, Options, StageId, StartingStock,
};

fn job(look: Look, size: (usize, usize)) -> Job {
    Job {
        look,
        frame: Frame::read(r#"{"source":{"encoding":"logc3"}}"#).unwrap(),
        delivery: Delivery::default(),
        stage: StageId::Screen,
        window: Window::whole(size.0, size.1),
        frame_number: 5,
    }
}

fn all_on() -> Look {
    let mut look = Look::starting(StartingStock::Evening);
    look.for_each_step(|step| step.set_on(true));
    look
}

fn prepared(source: &Planes, job: &Job, before: Option<Detail>) -> (Detail, usize) {
    let size = (source.width, source.height);
    let mut detail = Detail::new(size, job, job.plan());
    if let Some(before) = before {
        detail.take_over(before);
    }
    let mut strips = 0;
    while !detail.is_ready() {
        detail.prepare(source);
        strips += 1;
        assert!(strips < 100);
    }
    (detail, strips)
}

/// Places of all kinds: corners, edges, odd columns, single pixels, the whole.
fn areas((width, height): (usize, usize)) -> Vec<(Range<usize>, Range<usize>)> {
    vec![
        (0..40, 0..30),
        (width - 33..width, height - 21..height),
        (31..32, 50..51),
        (57..120, 20..77),
        (0..width, 0..height),
        (0..1, height - 1..height),
    ]
}

#[test]
fn a_part_is_that_of_the_whole_picture_bit_by_bit() {
    for size in [(301, 159), (160, 90)] {
        let source = night(size.0, size.1);
        for method in HalationMethod::ALL {
            let mut look = all_on();
            look.negative.halation.method = *method;
            let job = job(look, size);
            let whole = render(source.clone(), &job);
            let (mut detail, _) = prepared(&source, &job, None);
            for (columns, rows) in areas(size) {
                let wanted = Area {
                    columns: columns.clone(),
                    rows: rows.clone(),
                };
                let all = whole_rows(size.0, 0..size.1);
                let part = detail.part(&source, columns, rows).unwrap();
                assert!(part == wanted.cut(&whole, &all), "{method:?} {wanted:?}");
            }
        }
    }
}

#[test]
fn the_widest_diffusion_and_halation_are_seen_as_they_are_saved() {
    // Diffusion over the whole diagonal, a veil over the whole film: no margin holds them.
    let size = (640, 400);
    let source = night(size.0, size.1);
    let mut look = Look::starting(StartingStock::Overcast);
    look.lens.diffusion.on = true;
    look.lens.diffusion.strength = 1.0;
    look.lens.diffusion.reach = 10.0;
    look.negative.halation.method = HalationMethod::Veil;
    look.negative.halation.strength = 1.0;
    look.negative.halation.reach = 1000.0;
    let job = job(look, size);
    let whole = render(source.clone(), &job);
    let (mut detail, _) = prepared(&source, &job, None);
    let (columns, rows) = (301..341, 180..220);
    let part = detail.part(&source, columns.clone(), rows.clone()).unwrap();
    let cut = Area { columns, rows }.cut(&whole, &whole_rows(size.0, 0..size.1));
    assert!(part == cut);
}

#[test]
fn what_comes_after_the_wide_steps_is_not_gathered_again() {
    let size = (120, 90);
    let source = night(size.0, size.1);
    let mut job = job(all_on(), size);
    let (mut detail, strips) = prepared(&source, &job, None);
    assert!(strips > 0);
    let before = detail.part(&source, 10..60, 10..60).unwrap();
    job.look.scan.contrast.slope += 0.3;
    job.look.negative.grain.strength *= 0.5;
    let (mut detail, strips) = prepared(&source, &job, Some(detail));
    assert_eq!(strips, 0);
    let after = detail.part(&source, 10..60, 10..60).unwrap();
    assert!(after != before);
    let whole = whole_rows(size.0, 0..size.1);
    let area = Area {
        columns: 10..60,
        rows: 10..60,
    };
    assert!(after == area.cut(&render(source.clone(), &job), &whole));
    job.look.lens.exposure.stops = 1.0;
    let (_, strips) = prepared(&source, &job, Some(detail));
    assert!(strips > 0);
}

#[test]
fn there_is_no_part_outside_or_before_it_is_prepared() {
    let size = (60, 50);
    let source = night(size.0, size.1);
    let job = job(all_on(), size);
    let mut unprepared = Detail::new(size, &job, job.plan());
    assert!(unprepared.part(&source, 0..5, 0..5).is_none());
    let (mut detail, _) = prepared(&source, &job, None);
    assert!(detail.part(&source, 0..61, 0..5).is_none());
    assert!(detail.part(&source, 5..5, 0..5).is_none());
    assert!(detail.part(&source, 0..60, 0..50).is_some());
}
