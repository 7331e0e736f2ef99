//! Development of other kinds, as a grey card and what lies about it on the scan.

use super::*;
use crate::look::Look;

/// Codes of a grey in the scene, this many stops from mid-grey.
fn scanned(look: &Look, stops: f64) -> [f32; 3] {
    let negative = NegativePoint::new(&look.negative);
    let light = Rgb::grey((GREY_SCENE_LIN * libm::exp2(stops)) as f32);
    let density = negative.develop_light(SceneLin(light));
    code::to_code(density.0, negative.record().timing).to_array()
}

#[test]
fn silver_steepens_greys_about_the_card_and_leaves_what_sets_colours_apart() {
    let plain = Look::default();
    let mut kept = Look::default();
    kept.negative.development.silver = 1.0;
    let (card, same) = (scanned(&plain, 0.0), scanned(&kept, 0.0));
    assert!((card[1] - same[1]).abs() < 1e-4, "{card:?} {same:?}");
    let rise = |look: &Look| scanned(look, 1.5)[1] - scanned(look, -0.5)[1];
    assert!(
        (rise(&kept) / rise(&plain) - 1.5).abs() < 0.02,
        "{}",
        rise(&kept) / rise(&plain)
    );
    let apart = |look: &Look| {
        let red = SceneLin(Rgb::new(0.3_f32, 0.15, 0.1));
        let density = NegativePoint::new(&look.negative).develop_light(red).0;
        density.r - density.b
    };
    assert!((apart(&kept) - apart(&plain)).abs() < 1e-5);
}

#[test]
fn the_wrong_kind_crosses_darks_and_lights_and_keeps_the_card_and_the_order() {
    let mut crossed = Look::default();
    crossed.negative.development.wrong_kind = 1.0;
    let card = scanned(&crossed, 0.0);
    assert!(
        (card[0] - card[1]).abs() < 2e-3 && (card[2] - card[1]).abs() < 2e-3,
        "{card:?}"
    );
    let [dark, light] = [-2.5, 2.5].map(|stops| scanned(&crossed, stops));
    assert!(
        light[1] > light[2] + 0.02 && dark[2] > dark[1] + 0.02,
        "{dark:?} {light:?}"
    );
    let mut last = [-1.0; 3];
    for step in -40..=40 {
        let here = scanned(&crossed, f64::from(step) / 5.0);
        assert!(
            here.iter()
                .zip(last)
                .all(|(here, last)| *here > last - 1e-6),
            "{step}"
        );
        last = here;
    }
}
