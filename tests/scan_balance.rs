//! Early and late white balance, density and saturation, and very saturated lights, through the
//! whole light path.

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

use lookwright_colour::Rgb;
use lookwright_colour::space::primaries::{AP1, BT709};
use lookwright_colour::space::white::{ACES, D65};
use lookwright_colour::space::{Cat, Lab, adaptation, rgb_to_rgb, white_of};
use lookwright_film::look::{Delivery, Frame, Look, StageId, StartingStock};
use lookwright_film::path::scan::luma;
use lookwright_film::path::{FrameCode, LightPath};

fn frame() -> Frame {
    Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap()
}

fn path_of(look: &Look) -> LightPath {
    LightPath::new(look, &frame(), &Delivery::default())
}

fn lab(code: Rgb) -> Lab {
    let light = code.to_array().map(|c| libm::pow(f64::from(c), 2.4));
    Lab::from_xyz(BT709.rgb_to_xyz().apply(light), D65)
}

/// A grey card of this reflectance under a lamp of this colour temperature, as a camera balanced
/// for daylight (5500 K, by Bradford) records it: AP1 light.
fn card_under_lamp(kelvin: f64, reflectance: f64) -> Rgb {
    let camera = adaptation(&AP1, white_of(5500.0, 0.0), ACES, Cat::Bradford);
    let lamp = AP1.xyz_to_rgb().apply(white_of(kelvin, 0.0).to_xyz());
    Rgb::from_array(camera.apply(lamp).map(|v| (v * reflectance) as f32))
}

fn daylight_look() -> Look {
    let mut look = Look::starting(StartingStock::Overcast);
    look.name.clear();
    look
}

#[test]
fn light_balance_neutralises_every_level_and_printer_points_only_one() {
    const LAMP_KELVIN: f64 = 3200.0;
    /// Six stops under mid-grey, mid-grey, six over.
    const LEVELS: [f64; 3] = [0.18 / 64.0, 0.18, 0.18 * 64.0];

    let mut early = daylight_look();
    early.lens.light.kelvin = LAMP_KELVIN;
    let early = path_of(&early);
    for level in LEVELS {
        let code = FrameCode(card_under_lamp(LAMP_KELVIN, level));
        let light = early.lens(early.intake(code)).0;
        let spread = light.r.max(light.g).max(light.b) - light.r.min(light.g).min(light.b);
        // The adaptation is Bradford's, exact for the lamp's white itself at any brightness.
        let grey_of_daylight = card_under_lamp(5500.0, level);
        assert!(
            f64::from(spread) < 2e-3 * level,
            "{level}: {light:?} {grey_of_daylight:?}"
        );
        let seen = lab(early.to_screen(card_under_lamp(LAMP_KELVIN, level)));
        assert!(seen.chroma() < 0.5, "{level}: chroma {}", seen.chroma());
    }

    // The late balance: lights set so that the middle card is neutral on the flat scan. The
    // film's straight line turns a ratio of lights into one step of density, so the points hold
    // along it; where toe and shoulder bend it, they no longer do.
    let mut late = daylight_look();
    late.bypass(StageId::Scan);
    late.scan.points.on = true;
    let spread = |look: &Look, level: f64| {
        let code = path_of(look).up_to(StageId::Scan, card_under_lamp(LAMP_KELVIN, level));
        [code.r - code.g, code.b - code.g].map(|way| f64::from(way) * 1023.0)
    };
    // 12.5 codes of 1023 to a point.
    let [red, blue] = spread(&late, 0.18).map(|codes| -codes / 12.5);
    late.scan.points.red = red;
    late.scan.points.blue = blue;
    let spreads = LEVELS.map(|level| {
        let [red, blue] = spread(&late, level);
        red.abs().max(blue.abs())
    });
    assert!(spreads[1] < 0.1, "the middle is neutral: {spreads:?} codes");
    assert!(spreads[0] > 5.0, "the shadows are not: {spreads:?} codes");
    assert!(spreads[2] > 5.0, "nor the lights: {spreads:?} codes");
}

#[test]
fn density_up_and_saturation_down_makes_colour_darker_but_not_brighter() {
    let plain = daylight_look();
    let mut dense = plain.clone();
    dense.scan.dye_density.whole = 0.4;
    dense.scan.saturation.saturation = 0.85;
    let (plain, dense) = (path_of(&plain), path_of(&dense));
    // A deep red, a blue, a green in AP1 light, and a grey.
    for colour in [[0.35, 0.05, 0.03], [0.03, 0.05, 0.25], [0.06, 0.25, 0.05]] {
        let colour = Rgb::from_array(colour);
        let (before, after) = (lab(plain.to_screen(colour)), lab(dense.to_screen(colour)));
        assert!(after.l < before.l - 2.0, "{before:?} {after:?}");
        assert!(after.chroma() < before.chroma(), "{before:?} {after:?}");
        // What counts as density: chroma for its lightness is kept within a tenth.
        let kept = (after.chroma() / after.l) / (before.chroma() / before.l);
        assert!(kept > 0.9, "{kept}");
    }
    let grey = Rgb::grey(0.18_f32);
    assert!((lab(plain.to_screen(grey)).l - lab(dense.to_screen(grey)).l).abs() < 0.01);
}

/// Lights of LEDs: Rec.2020 primaries of growing strength over a dim grey, as AP1 light.
fn led(primary: [f64; 3], strength: f64) -> Rgb {
    use lookwright_colour::space::primaries::BT2020;
    let ap1 = rgb_to_rgb(&BT2020, &AP1, Cat::Bradford).apply(primary.map(|v| v * strength));
    Rgb::from_array(ap1.map(|v| (v + 0.02) as f32))
}

#[test]
fn saturated_leds_end_in_gradients_not_in_blobs() {
    let mut pushed = daylight_look();
    pushed.scan.dye_density.whole = -0.2;
    pushed.scan.saturation.saturation = 1.5;
    for (name, look) in [("starting look", daylight_look()), ("pushed", pushed)] {
        let path = path_of(&look);
        for (colour, primary) in [("blue", [0.0, 0.0, 1.0]), ("red", [1.0, 0.0, 0.0])] {
            // From a glimmer to six stops over mid-grey, in eighths of a stop.
            let mut last_luma = -1.0;
            for eighth in 0..=64 {
                let strength = 0.18 * libm::exp2(f64::from(eighth) / 8.0 - 2.0);
                let code = path.to_screen(led(primary, strength));
                for c in code.to_array() {
                    assert!((0.0..=1.0).contains(&c));
                }
                let own = luma(code);
                assert!(
                    own > last_luma + 2e-5,
                    "{name}, {colour}: flat at {eighth}: {own} after {last_luma}"
                );
                last_luma = own;
            }
            // Purer light of one strength gives purer colour, all the way to the primary; pushed
            // as far as the screen goes, it comes to rest along the screen's edge, whose chroma
            // falls a little.
            let least = if name == "pushed" { -1.0 } else { 0.5 };
            let mut last_chroma = -1.0;
            let mut first_chroma = None;
            for tenth in 0..=10 {
                let pure = primary
                    .map(|v| 0.1 * f64::from(tenth) * v + (1.0 - 0.1 * f64::from(tenth)) * 0.33);
                let chroma = lab(path.to_screen(led(pure, 0.5))).chroma();
                assert!(
                    chroma > last_chroma + least,
                    "{name}, {colour}: {tenth}: {chroma}"
                );
                first_chroma.get_or_insert(chroma);
                last_chroma = chroma;
            }
            let rise = last_chroma - first_chroma.unwrap_or(last_chroma);
            assert!(rise > 10.0, "{name}, {colour}: {rise}");
        }
    }
}
