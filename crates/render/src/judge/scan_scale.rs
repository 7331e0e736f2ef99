//! Scan codes in other words: stops of scene light from mid-grey, and what is seen on the screen.
//!
//! Both for a grey on a timed scan, in the stock's own light, and both by the functions that pixels
//! go through: so the stops lie closer where the film's curve bends, and end where it ends.

use lookwright_colour::Rgb;
use lookwright_film::look::{CodeRange, Delivery, Look, Scan, effective_amount};
use lookwright_film::path::negative::{GREY_SCENE_LIN, NegativePoint, Record, own_kelvin};
use lookwright_film::path::print::{PrintPoint, scan_for};
use lookwright_film::path::scan::code::to_code;
use lookwright_film::path::scan::{Contrast, ScanPoint};
use lookwright_film::path::screen::ScreenPoint;
use lookwright_film::path::{ScanCode, SceneLin};

/// What evenly spaced codes over 0 ... 1 mean at one place of the scan stage.
#[derive(Clone, Debug, PartialEq)]
pub struct ScanScale {
    /// Stops from mid-grey of the light that arrives there as that code; NaN where none does.
    pub stops: Vec<f32>,
    /// What that code becomes on the screen, as a share of its full range.
    pub screen: Vec<f32>,
}

/// Codes as they go into the contrast step, where its pivot lies.
pub fn pivot_scale(look: &Look, delivery: &Delivery, samples: usize) -> ScanScale {
    let mut scan = scan_for(&look.print, &look.scan);
    scan.points.on = false;
    ScanScale {
        stops: {
            let light = Light::of(look);
            even(samples).map(|code| light.stops(code)).collect()
        },
        screen: screen(look, &scan, delivery, samples),
    }
}

/// Codes about the curves step: light is that of a code going in, the screen that of one coming
/// out.
pub fn curve_scale(look: &Look, delivery: &Delivery, samples: usize) -> ScanScale {
    let mut scan = scan_for(&look.print, &look.scan);
    scan.points.on = false;
    let contrast = Contrast::new(&scan.contrast, effective_amount(&scan.contrast));
    scan.contrast.on = false;
    scan.curves.on = false;
    let arriving: Vec<f32> = match &contrast {
        Some(contrast) => {
            let shaped: Vec<f32> = even(samples).map(|code| contrast.curve(code)).collect();
            even(samples).map(|code| place(&shaped, code)).collect()
        }
        None => even(samples).collect(),
    };
    let light = Light::of(look);
    ScanScale {
        stops: arriving.into_iter().map(|code| light.stops(code)).collect(),
        screen: screen(look, &scan, delivery, samples),
    }
}

fn even(samples: usize) -> impl Iterator<Item = f32> {
    let last = samples.saturating_sub(1).max(1) as f32;
    (0..samples).map(move |i| i as f32 / last)
}

/// The codes that greys of evenly spaced light have.
struct Light(Vec<f32>);

impl Light {
    /// The darkest and the brightest light asked for, in stops from mid-grey, and steps a stop.
    const LOW: f32 = -14.0;
    const HIGH: f32 = 14.0;
    const STEPS: f32 = 32.0;

    fn of(look: &Look) -> Self {
        let mut negative = look.negative.clone();
        negative.stock.scene_light = own_kelvin(negative.stock.balance);
        let negative = NegativePoint::new(&negative);
        let steps = ((Self::HIGH - Self::LOW) * Self::STEPS) as usize;
        let code = |step: usize| {
            let stops = f64::from(Self::LOW) + step as f64 / f64::from(Self::STEPS);
            let grey = SceneLin(Rgb::grey((GREY_SCENE_LIN * libm::exp2(stops)) as f32));
            let density = negative.develop(negative.expose(grey));
            to_code(density.0, negative.record().timing).g
        };
        Self((0..=steps).map(code).collect())
    }

    /// Stops from mid-grey of the grey that has this code; NaN if none has.
    fn stops(&self, code: f32) -> f32 {
        place(&self.0, code) * (Self::HIGH - Self::LOW) + Self::LOW
    }
}

/// Where evenly spaced values that rise reach `value`, 0 ... 1; NaN if they don't.
fn place(rising: &[f32], value: f32) -> f32 {
    let after = rising.partition_point(|it| *it < value);
    let last = rising.len().saturating_sub(1).max(1) as f32;
    match (after.checked_sub(1).map(|i| rising[i]), rising.get(after)) {
        (_, None) => f32::NAN,
        (None, Some(&first)) if first == value => 0.0,
        (None, Some(_)) => f32::NAN,
        (Some(low), Some(&high)) => (after as f32 - 1.0 + (value - low) / (high - low)) / last,
    }
}

fn screen(look: &Look, scan: &Scan, delivery: &Delivery, samples: usize) -> Vec<f32> {
    let mut delivery = delivery.clone();
    delivery.display.range = CodeRange::Full;
    let scan = ScanPoint::new(scan, &Record::default());
    let (print, screen) = (
        PrintPoint::new(&look.print),
        ScreenPoint::new(&delivery, &look.print),
    );
    even(samples)
        .map(|code| {
            let graded = scan.grade(ScanCode(Rgb::grey(code)));
            screen.apply(print.apply(graded)).0.g
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_film::look::{Frame, StageId, StartingStock};
    use lookwright_film::path::LightPath;
    use lookwright_film::path::scan::code::grey_code;

    const CODES: usize = 1024;
    const CODE_MAX: f32 = 1023.0;

    fn look() -> Look {
        Look::starting(StartingStock::Overcast)
    }

    /// A grey's way along the light path, told apart from the scale's own.
    #[test]
    fn stops_are_those_of_the_film_right_to_the_ends() {
        let mut look = look();
        for push in [0.0, 1.0] {
            look.negative.development.push = push;
            look.negative.stock.scene_light = 5500.0;
            let mut flat = look.clone();
            flat.bypass(StageId::Scan);
            let frame = Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap();
            let path = LightPath::new(&flat, &frame, &Delivery::default());
            let scale = pivot_scale(&look, &Delivery::default(), CODES);
            for tenths in -70..=60 {
                let stops = tenths as f32 / 10.0;
                let grey = Rgb::grey(0.18 * libm::exp2f(stops));
                let code = path.up_to(StageId::Scan, grey).g * CODE_MAX;
                let (low, share) = (code as usize, code.fract());
                if low + 1 >= CODES {
                    break;
                }
                let told = scale.stops[low] * (1.0 - share) + scale.stops[low + 1] * share;
                assert!((told - stops).abs() < 0.1, "{stops} stops: {told}");
            }
            // Below the base there is no light.
            assert!(scale.stops[40].is_nan());
        }
    }

    /// The published film-scan code (H-387, 1993): 90 % white at gamma 0.6 is 685, mid-grey 475.
    #[test]
    fn the_published_codes_are_where_they_should_be() {
        let mut look = look();
        look.negative.stock.speed = 250.0;
        let scale = pivot_scale(&look, &Delivery::default(), CODES);
        assert!(scale.stops[475].abs() < 0.01, "{}", scale.stops[475]);
        assert!(
            (scale.stops[685] - 2.32).abs() < 0.02,
            "{}",
            scale.stops[685]
        );
    }

    #[test]
    fn the_screen_shows_what_the_light_path_shows() {
        let look = look();
        let delivery = Delivery::default();
        let frame = Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap();
        let path = LightPath::new(&look, &frame, &delivery);
        let mut flat = look.clone();
        flat.bypass(StageId::Scan);
        let scanned = LightPath::new(&flat, &frame, &delivery);
        let scale = pivot_scale(&look, &delivery, CODES);
        for light in [0.02_f32, 0.18, 0.9] {
            let grey = Rgb::grey(light);
            let code = scanned.up_to(StageId::Scan, grey).g * CODE_MAX;
            let (low, share) = (code as usize, code.fract());
            let told = scale.screen[low] * (1.0 - share) + scale.screen[low + 1] * share;
            let seen = path.to_screen(grey).g;
            assert!((told - seen).abs() < 2e-3, "{light}: {told} for {seen}");
        }
    }

    #[test]
    fn before_the_curves_light_is_counted_back_through_the_contrast() {
        let mut look = look();
        let delivery = Delivery::default();
        let contrast = Contrast::new(&look.scan.contrast, 1.0).unwrap();
        let scale = curve_scale(&look, &delivery, CODES);
        let grey = contrast.curve((grey_code() / 1023.0) as f32) * CODE_MAX;
        assert!(scale.stops[grey.round() as usize].abs() < 0.01);
        let whitest = contrast.curve(1.0_f32) * CODE_MAX;
        assert!(whitest < 1022.0 && scale.stops[1023].is_nan(), "{whitest}");
        look.scan.contrast.on = false;
        let plain = curve_scale(&look, &delivery, CODES);
        let bits = |stops: &[f32]| -> Vec<u32> { stops.iter().map(|s| s.to_bits()).collect() };
        let pivot = pivot_scale(&look, &delivery, CODES);
        assert_eq!(bits(&plain.stops), bits(&pivot.stops));
    }
}
