//! The whole point path: where greys land, how they stay neutral, and that nothing leaves range.

use super::*;
use crate::look::{Balance, Options, StageId, StartingStock};
use lookwright_colour::Rgb;
use lookwright_colour::encoding::Curve;

fn path_under_own_light(stock: StartingStock) -> LightPath {
    let mut look = Look::starting(stock);
    look.negative.stock.scene_light = match stock.balance() {
        Balance::Lamp => 3200.0,
        _ => 5500.0,
    };
    let frame = Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap();
    LightPath::new(&look, &frame, &Delivery::default())
}

fn grey_at(path: &LightPath, stops: f64) -> f32 {
    path.to_screen(Rgb::grey((0.18 * libm::exp2(stops)) as f32))
        .g
}

#[test]
fn a_starting_look_brings_the_scan_to_a_picture() {
    for class in StartingStock::ALL {
        let path = path_under_own_light(*class);
        let grey = grey_at(&path, 0.0);
        let white = path.to_screen(Rgb::grey(0.9_f32)).g;
        let (five, six, low) = (
            grey_at(&path, 5.0),
            grey_at(&path, 6.0),
            grey_at(&path, -5.0),
        );
        println!("{class:?}: grey {grey} white {white} +5 {five} +6 {six} -5 {low}");
        assert!((0.464..=0.466).contains(&grey), "{class:?} grey {grey}");
        assert!((0.80..=0.91).contains(&white), "{class:?} white {white}");
        assert!(
            five < 0.995 && six - five >= 0.0015,
            "{class:?} +5 {five} +6 {six}"
        );
        assert!((0.002..=0.065).contains(&low), "{class:?} -5 {low}");
    }
}

/// A print's diffuse white is bright without being the brightest: 86 to 90 L* (common practice, no
/// source), on either screen's own curve.
#[test]
fn a_new_look_shows_ninety_per_cent_white_brightly_and_neutrally() {
    let frame = Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap();
    let path = LightPath::new(&Look::default(), &frame, &Delivery::default());
    let white = path.to_screen(Rgb::grey(0.9_f32));
    assert!((white.r - white.g).abs() < 1e-3 && (white.b - white.g).abs() < 1e-3);
    for curve in [Curve::Bt1886, Curve::Srgb] {
        let luminance = f64::from(curve.decode(white.g));
        let lightness = 116.0 * libm::cbrt(luminance) - 16.0;
        assert!((86.0..=90.0).contains(&lightness), "{curve:?} {lightness}");
    }
}

#[test]
fn the_scan_alone_meets_the_published_codes() {
    // Gamma 0.6: base 95, 90 % white 685, grey 475 (film-scan conversion, 1993 and 1995).
    let mut look = Look::starting(StartingStock::Overcast);
    look.negative.stock.speed = 250.0;
    look.negative.stock.scene_light = 5500.0;
    look.bypass(StageId::Scan);
    let frame = Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap();
    let path = LightPath::new(&look, &frame, &Delivery::default());
    let code = |light: f32| path.up_to(StageId::Scan, Rgb::grey(light)).g * 1023.0;
    assert!((code(0.0) - 95.0).abs() < 3.5, "{}", code(0.0));
    assert!((code(0.18) - 475.3).abs() < 0.1, "{}", code(0.18));
    assert!((code(0.9) - 685.0).abs() < 0.5, "{}", code(0.9));
}
