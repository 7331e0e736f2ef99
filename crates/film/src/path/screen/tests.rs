//! What a screen shows: the same colour wherever it can, whites where they belong.

use super::*;
use crate::look::{Delivery, Options, Print, WhitePoint};
use crate::path::ScanCode;
use crate::path::print::Straight;
use lookwright_colour::encoding::ScreenId;
use lookwright_colour::space::{Xy, white};

fn screen(id: ScreenId) -> ScreenPoint {
    with_white(id, WhitePoint::D65)
}

fn with_white(id: ScreenId, white: WhitePoint) -> ScreenPoint {
    let mut delivery = Delivery::default();
    delivery.display.screen = id;
    let mut print = Print::default();
    print.white.white = white;
    ScreenPoint::new(&delivery, &print)
}

/// Display light of a Rec.709 code.
fn light_of(code: [f32; 3]) -> DisplayLin {
    Straight::new().apply(ScanCode(Rgb::from_array(code)))
}

#[test]
fn rec709_and_srgb_show_ordinary_colours_in_the_codes_that_they_had() {
    for code in [
        [0.2_f32, 0.5, 0.8],
        [0.7, 0.5, 0.42],
        [0.06, 0.05, 0.04],
        [0.9, 0.93, 0.6],
    ] {
        for id in [ScreenId::Rec709, ScreenId::Srgb] {
            let shown = screen(id).apply(light_of(code)).0.to_array();
            for (shown, code) in shown.into_iter().zip(code) {
                assert!((shown - code).abs() < 3e-6, "{id:?}: {shown} for {code}");
            }
        }
    }
}

/// Codes all over what the reference display has, and beyond.
fn codes() -> impl Iterator<Item = Rgb> {
    const STEPS: i32 = 28;
    let at = |i: i32| (i % STEPS - 4) as f32 / 20.0;
    (0..STEPS.pow(3)).map(move |i| Rgb::new(at(i), at(i / STEPS), at(i / STEPS / STEPS)))
}

#[test]
fn a_code_of_the_reference_display_is_shown_as_its_light_is() {
    let light = |code: Rgb| code.map(|c| Curve::Bt1886.decode(c)).to_array();
    for id in [ScreenId::Rec709, ScreenId::Srgb] {
        let screen = screen(id);
        assert!(screen.is_reference());
        for code in codes() {
            let by_light = screen.apply(light_of(code.to_array())).0;
            let shown = screen.of_code(code).0;
            for (shown, expected) in light(shown).into_iter().zip(light(by_light)) {
                assert!(
                    (shown - expected).abs() < 1e-6,
                    "{id:?}: {shown} for {expected}, {code:?}"
                );
            }
        }
    }
    for id in ScreenId::ALL {
        let is_reference = matches!(id, ScreenId::Rec709 | ScreenId::Srgb);
        assert_eq!(screen(id).is_reference(), is_reference, "{id:?}");
        assert!(!with_white(id, WhitePoint::D60).is_reference());
    }
}

#[test]
fn what_is_moved_is_told_from_the_code_without_missing_any() {
    let roll = screen(ScreenId::Rec709).roll;
    let (mut stay, mut doubted) = (0, 0);
    for code in codes() {
        let light = code.map(display_light);
        // Black is given the least luminance.
        let moved = roll.apply(light).zip(light, |a, b| (a - b).abs());
        if moved.r.max(moved.g).max(moved.b) < 1e-12 {
            stay += 1;
            doubted += i32::from(roll.may_move_code(code));
        } else {
            assert!(roll.may_move_code(code), "{code:?}");
        }
    }
    assert!(stay > 2000 && doubted * 10 < stay, "{doubted} of {stay}");
}

#[test]
fn wider_screens_show_the_same_colour() {
    // BT.709 red in BT.2020 light is 0.627404, 0.069097, 0.016391 (ITU-R BT.2087-0).
    let red = screen(ScreenId::Rec2020).apply(light_of([1.0, 0.0, 0.0])).0;
    let light = red.map(|code| Curve::Bt1886.decode(code)).to_array();
    for (seen, published) in light.into_iter().zip([0.627_404, 0.069_097, 0.016_391]) {
        assert!((seen - published).abs() < 2e-5, "{seen} {published}");
    }
    // The inverse of Display P3 to BT.709: red is 0.822462, 0.033194, 0.017083.
    let red = screen(ScreenId::DisplayP3)
        .apply(light_of([1.0, 0.0, 0.0]))
        .0;
    let light = red.map(|code| Curve::Srgb.decode(code)).to_array();
    for (seen, known) in light.into_iter().zip([0.822_462, 0.033_194, 0.017_083]) {
        assert!((seen - known).abs() < 2e-5, "{seen} {known}");
    }
}

#[test]
fn greys_stay_grey_on_every_screen() {
    for id in ScreenId::ALL {
        let code = screen(id).apply(light_of([0.43; 3])).0;
        let grey = id.signal().uncontained(code);
        // PQ takes a power of 79, which magnifies rounding.
        let near = if id.info().peak.is_none() {
            1e-6
        } else {
            1.2e-5
        };
        assert!((grey.r - grey.g).abs() < near && (grey.b - grey.g).abs() < near);
        if id.info().peak.is_none() {
            assert!((grey.g - 0.43).abs() < 1e-5);
        }
    }
}

/// CIE 15's tabulated whites, on every screen and from shadow to white, by what the screen's own
/// curve makes of the code.
#[test]
fn every_grey_takes_the_chromaticity_of_the_chosen_white() {
    let chosen = [
        (WhitePoint::D50, Xy::new(0.34567, 0.35850)),
        (WhitePoint::D55, Xy::new(0.33242, 0.34743)),
        (WhitePoint::D60, Xy::new(0.32162, 0.33766)),
        (WhitePoint::D65, white::D65),
    ];
    for (choice, aim) in chosen {
        for id in ScreenId::ALL {
            let info = id.info();
            for level in [0.2_f32, 0.5, 0.8, 1.0] {
                let code = with_white(id, choice).apply(light_of([level; 3])).0;
                assert!(code.to_array().iter().all(|c| (0.0..=1.0).contains(c)));
                let light = id.signal().decode(code).to_array().map(f64::from);
                let [x, y, z] = info.gamut.rgb_to_xyz().apply(light);
                let found = Xy::new(x / (x + y + z), y / (x + y + z));
                let apart = (found.x - aim.x).abs().max((found.y - aim.y).abs());
                assert!(apart < 5e-5, "{choice:?} on {id:?} at {level}: {found:?}");
            }
        }
        assert!(WhitePoint::ALL.contains(&choice));
    }
}

#[test]
fn a_white_s_brightest_channel_stays_near_display_white() {
    let white = with_white(ScreenId::Rec709, WhitePoint::D50)
        .apply(light_of([1.0; 3]))
        .0;
    assert!(white.r > 0.98 && white.b < white.g && white.g < white.r);
}

#[test]
fn without_a_look_a_finished_photograph_is_shown_as_it_came() {
    use crate::look::{Before, Frame};
    use crate::path::{FrameCode, intake::IntakePoint};
    use lookwright_colour::encoding::EncodingId;
    for (encoding, id) in [
        (EncodingId::Srgb, ScreenId::Srgb),
        (EncodingId::Srgb, ScreenId::Rec709),
        (EncodingId::Rec709, ScreenId::Rec709),
        (EncodingId::DisplayP3, ScreenId::DisplayP3),
    ] {
        let mut frame = Frame::default();
        frame.source.encoding = encoding;
        let intake = IntakePoint::new(&frame);
        for code in [
            [0.9, 0.3, 0.1],
            [0.02, 0.03, 0.01],
            [1.0, 1.0, 0.0],
            [0.4; 3],
            [1.0; 3],
        ] {
            let light = intake.apply(FrameCode(Rgb::from_array(code)));
            let shown = screen(id).from_scene(light).0.to_array();
            for (shown, code) in shown.into_iter().zip(code) {
                assert!((shown - code).abs() < 1e-3, "{encoding:?} {shown} {code}");
            }
        }
    }
    // Three and a half stops above mid-grey a neutral rendering still rises; a hard clip has ended.
    let at = |before, stops: f64| {
        let mut delivery = Delivery::default();
        delivery.display.before = before;
        let light = (0.18 * libm::exp2(stops)) as f32;
        let screen = ScreenPoint::new(&delivery, &Print::default());
        screen.from_scene(SceneLin(Rgb::grey(light))).0.g
    };
    assert_eq!(at(Before::Hard, 2.6), at(Before::Hard, 3.5));
    assert!(at(Before::Soft, 2.6) + 0.05 < at(Before::Soft, 3.5));
}

/// The same codes as on Rec.709, under a power of 2.6 (SMPTE RP 431-2), on P3's primaries: BT.709's red in P3's light
/// is 0.822462, 0.033194, 0.017083.
#[test]
fn a_theatre_shows_the_codes_of_a_dim_room_under_its_own_gamma() {
    for id in [
        ScreenId::P3D65Theatre,
        ScreenId::P3DciTheatre,
        ScreenId::DcdmXyz,
    ] {
        let red = screen(id).apply(light_of([1.0, 0.0, 0.0])).0;
        let light = id.signal().decode(red).to_array();
        for (seen, known) in light.into_iter().zip([0.822_462, 0.033_194, 0.017_083]) {
            assert!((seen - known).abs() < 2e-5, "{id:?} {seen} {known}");
        }
        let skin = screen(id).apply(light_of([0.7, 0.5, 0.42])).0;
        let light = id.signal().decode(skin).to_array().map(f64::from);
        let expected = rgb_to_rgb(&BT709, &id.info().gamut, Cat::Bradford)
            .apply([0.7, 0.5, 0.42].map(|v| libm::pow(v, 2.6)));
        for (seen, expected) in light.into_iter().zip(expected) {
            assert!((seen - expected).abs() < 2e-5, "{id:?} {seen} {expected}");
        }
    }
}

#[test]
fn without_a_look_a_container_holds_the_codes_of_the_screen_that_it_is_for() {
    for before in [look::Before::Soft, look::Before::Hard] {
        let code = |id| {
            let mut delivery = Delivery::default();
            delivery.display.screen = id;
            delivery.display.before = before;
            let light = SceneLin(Rgb::new(0.4_f32, 0.18, 0.07));
            let code = ScreenPoint::new(&delivery, &Print::default()).from_scene(light);
            id.signal().uncontained(code.0).to_array()
        };
        let plain = code(ScreenId::P3D65Theatre);
        for id in [ScreenId::P3DciTheatre, ScreenId::DcdmXyz] {
            for (found, expected) in code(id).into_iter().zip(plain) {
                assert!((found - expected).abs() < 3e-6, "{id:?} {before:?}");
            }
        }
    }
}

/// BT.709's red in BT.2020's light is 0.627404, 0.069097, 0.016391 (ITU-R BT.2087-0), and in these proportions on every
/// screen of its primaries.
#[test]
fn high_dynamic_range_shows_the_same_hues_brighter() {
    for id in [ScreenId::Pq1000, ScreenId::Hlg1000] {
        let red = screen(id).apply(light_of([0.7, 0.0, 0.0])).0;
        let [r, g, b] = id.signal().decode(red).to_array();
        assert!((g / r - 0.069_097 / 0.627_404).abs() < 1e-3, "{id:?}");
        assert!((b / r - 0.016_391 / 0.627_404).abs() < 1e-3, "{id:?}");
        let white = screen(id).apply(light_of([1.0; 3])).0;
        let light = id.signal().decode(white).g / id.headroom() as f32;
        // What comes to rest at the peak is at 97 % of it where it was to be there.
        assert!((0.95..1.0).contains(&light), "{id:?} {light}");
    }
}

/// What tables are made of and what is done after them is the whole.
#[test]
fn parts_make_the_whole_on_every_screen() {
    for id in ScreenId::ALL {
        for code in [[0.2_f32, 0.5, 0.8], [0.95, 0.9, 1.02], [0.06, 0.05, 0.04]] {
            let stage = screen(id);
            let whole = stage.apply(light_of(code)).0.to_array();
            let parts = stage.limited(stage.unlimited(light_of(code))).0.to_array();
            for (a, b) in whole.into_iter().zip(parts) {
                assert!((a - b).abs() < 5e-5, "{id:?} {a} {b}");
            }
        }
    }
}
