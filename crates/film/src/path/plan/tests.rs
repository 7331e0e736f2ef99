//! A plan has what changes the picture, and its keys tell all that matters apart.

use super::*;
use crate::look::{Options, Stage, StartingStock};
use lookwright_colour::Rgb;

fn plan(look: &Look, stage: StageId) -> Plan {
    Plan::of(look, &Frame::default(), &Delivery::default(), stage)
}

#[test]
fn every_texture_step_of_the_look_has_a_node_in_its_stage_and_order() {
    let mut look = Look::starting(StartingStock::Evening);
    look.for_each_step(|step| step.set_on(true));
    let plan = plan(&look, StageId::Screen);
    let steps = |stage: Vec<&dyn crate::look::Step>| -> Vec<&str> {
        let texture = stage.into_iter().map(|s| s.spec()).filter(|s| s.texture);
        texture.map(|s| s.id).collect()
    };
    let mut listed = steps(look.lens.steps());
    listed.extend(steps(look.negative.steps()));
    let acting = plan.nodes().iter().filter(|node| !node.is_point());
    let planned: Vec<&str> = acting.map(|node| node.step).collect();
    assert_eq!(planned, listed);
    let stages: Vec<usize> = plan.nodes().iter().map(|n| n.stage as usize).collect();
    assert!(stages.is_sorted());
    for stage in StageId::ALL {
        let part = Plan::of(&look, &Frame::default(), &Delivery::default(), *stage);
        assert!(
            part.nodes()
                .iter()
                .all(|n| n.stage as usize <= *stage as usize)
        );
    }
}

#[test]
fn what_is_off_has_no_node_and_no_key() {
    let mut look = Look::starting(StartingStock::Evening);
    look.for_each_step(|step| step.set_on(true));
    look.negative.grain.on = false;
    let keys = |look: &Look| -> Vec<u64> {
        let plan = plan(look, StageId::Screen);
        plan.nodes().iter().map(Node::key).collect()
    };
    let before = keys(&look);
    look.negative.grain.size = 2.0;
    assert_eq!(keys(&look), before);
    look.negative.grain.on = true;
    assert_eq!(keys(&look).len(), before.len() + 1);
}

#[test]
fn light_reaches_as_far_as_all_steps_together_and_without_texture_nowhere() {
    let window = Window::whole(4000, 3000);
    let mut look = Look::starting(StartingStock::Overcast);
    look.for_each_step(|step| step.set_on(true));
    let all = plan(&look, StageId::Screen).reach_px(&window);
    look.lens.diffusion.on = false;
    look.negative.softness.on = false;
    let halation = plan(&look, StageId::Screen).reach_px(&window);
    assert!(halation > 0.0 && all > halation);
    look = look.without_texture();
    assert_eq!(plan(&look, StageId::Screen).reach_px(&window), 0.0);
}

#[test]
fn a_pass_ends_with_what_is_not_point_by_point_and_with_the_developed_film() {
    let mut look = Look::default().without_texture();
    let count = |look: &Look| plan(look, StageId::Screen).passes().len();
    assert_eq!(count(&look), 2);
    look.lens.diffusion.on = true;
    assert_eq!(count(&look), 3);
    let plan = plan(&look, StageId::Screen);
    let passes = plan.passes();
    let all = passes
        .iter()
        .fold(Points::NONE, |all, pass| all.with(pass.points));
    assert_eq!(all, Points::up_to(StageId::Screen));
    assert_eq!(passes[0].nodes.len(), 1);
}

#[test]
fn a_look_whose_steps_are_all_off_is_as_the_camera_saw_it() {
    let mut look = Look::starting(StartingStock::Overcast);
    let (frame, delivery) = (Frame::default(), Delivery::default());
    let stages = [
        StageId::Lens,
        StageId::Negative,
        StageId::Scan,
        StageId::Print,
    ];
    let screen = StageId::Screen;
    for stage in stages {
        assert!(Plan::of(&look, &frame, &delivery, screen).nodes().len() > 2);
        look.bypass(stage);
    }
    let keys = |plan: &Plan| plan.nodes().iter().map(Node::key).collect::<Vec<_>>();
    let unstyled = Plan::unstyled(&frame, &delivery);
    assert_eq!(
        keys(&Plan::of(&look, &frame, &delivery, screen)),
        keys(&unstyled)
    );
    // And so are the numbers that tables and the pixel trace are made of.
    let code = Rgb::new(0.2_f32, 0.5, 0.9);
    let shown = unstyled.path().along(Points::UNSTYLED, code);
    assert_eq!(
        LightPath::new(&look, &frame, &delivery).up_to(screen, code),
        shown
    );
}

#[test]
fn a_film_scan_comes_in_behind_the_negative() {
    let mut look = Look::starting(StartingStock::Evening);
    look.for_each_step(|step| step.set_on(true));
    let mut frame = Frame::default();
    frame.source.encoding = lookwright_colour::encoding::EncodingId::Adx10;
    let delivery = Delivery::default();
    let code = Rgb::from_array([0.4_f32, 0.5, 0.45]);
    for stage in StageId::ALL {
        let plan = Plan::of(&look, &frame, &delivery, *stage);
        let names: Vec<&str> = plan.nodes().iter().map(|node| node.step).collect();
        let expected: &[&str] = match stage {
            StageId::Intake | StageId::Lens => &["intake"],
            StageId::Negative => &["enter"],
            StageId::Scan => &["enter", "scan"],
            StageId::Print => &["enter", "scan", "print"],
            StageId::Screen => &["enter", "scan", "print", "screen"],
        };
        assert_eq!(names, expected);
        assert_eq!(plan.finish().is_some(), expected.len() > 1);
        let points = plan
            .passes()
            .iter()
            .fold(Points::NONE, |all, pass| all.with(pass.points));
        let path = plan.path();
        assert_eq!(path.along(points, code), path.up_to(*stage, code));
    }
    // What stands before the scan in the look changes nothing.
    let keys = |look: &Look| -> Vec<u64> {
        let plan = Plan::of(look, &frame, &delivery, StageId::Screen);
        plan.nodes().iter().map(Node::key).collect()
    };
    let before = keys(&look);
    look.lens.exposure.stops = 2.0;
    look.negative.grain.size = 2.0;
    look.negative.halation.amount = 0.3;
    assert_eq!(keys(&look), before);
}
