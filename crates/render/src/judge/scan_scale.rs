//! Scan codes in other words: stops of scene light from mid-grey, and what is seen on the screen.
//!
//! Both for a grey on a timed scan: stops as the published film-scan code counts them, the screen
//! by the same functions that pixels go through.

use lookwright_colour::Rgb;
use lookwright_film::look::{CodeRange, Delivery, Look, Scan, effective_amount};
use lookwright_film::path::ScanCode;
use lookwright_film::path::print::{PrintPoint, scan_for};
use lookwright_film::path::scan::code::{CODE_MAX, codes_per_stop, grey_code};
use lookwright_film::path::scan::{Contrast, ScanPoint};
use lookwright_film::path::screen::ScreenPoint;

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
        stops: even(samples).map(stops).collect(),
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
    ScanScale {
        stops: arriving.into_iter().map(stops).collect(),
        screen: screen(look, &scan, delivery, samples),
    }
}

fn even(samples: usize) -> impl Iterator<Item = f32> {
    let last = samples.saturating_sub(1).max(1) as f32;
    (0..samples).map(move |i| i as f32 / last)
}

/// Code of 1 to stops from mid-grey.
fn stops(code: f32) -> f32 {
    ((f64::from(code * CODE_MAX) - grey_code()) / codes_per_stop()) as f32
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
    let scan = ScanPoint::new(scan, [0.0; 3]);
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
    use lookwright_film::look::{Frame, StockClass};
    use lookwright_film::path::LightPath;

    const CODES: usize = 1024;

    fn look() -> Look {
        Look::starting(StockClass::Daylight250)
    }

    /// The published film-scan code (H-387, 1993): a stop at gamma 0.6 is 90.3 codes, mid-grey is 475.
    #[test]
    fn stops_are_those_of_the_published_code() {
        let scale = pivot_scale(&look(), &Delivery::default(), CODES);
        assert!(scale.stops[475].abs() < 0.005, "{}", scale.stops[475]);
        for (code, expected) in [(685, 2.32), (385, -1.0), (95, -4.21)] {
            assert!(
                (scale.stops[code] - expected).abs() < 0.01,
                "{code}: {}",
                scale.stops[code]
            );
        }
    }

    #[test]
    fn the_screen_shows_what_the_light_path_shows() {
        let look = look();
        let delivery = Delivery::default();
        let frame = Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap();
        let path = LightPath::new(&look, &frame, &delivery);
        let mut flat = look.clone();
        flat.bypass(lookwright_film::look::StageId::Scan);
        let scanned = LightPath::new(&flat, &frame, &delivery);
        let scale = pivot_scale(&look, &delivery, CODES);
        for light in [0.02_f32, 0.18, 0.9] {
            let grey = Rgb::grey(light);
            let code = scanned.up_to(lookwright_film::look::StageId::Scan, grey).g * CODE_MAX;
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
        assert_eq!(plain.stops, pivot_scale(&look, &delivery, CODES).stops);
    }
}
