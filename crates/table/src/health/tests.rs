//! The whole examination, on tables whose faults are known.

use super::*;
use lookwright_colour::encoding::EncodingId;
use lookwright_colour::rgb::Rgb;
use lookwright_film::look::{Delivery, Frame, Look, Options, StartingStock};
use lookwright_film::path::LightPath;

fn path(stock: StartingStock, encoding: EncodingId) -> LightPath {
    let mut frame = Frame::default();
    frame.source.encoding = encoding;
    LightPath::new(&Look::starting(stock), &frame, &Delivery::default())
}

fn to_screen(path: &LightPath) -> impl Fn([f32; 3]) -> [f32; 3] + '_ {
    |code| path.to_screen(Rgb::from_array(code)).to_array()
}

#[test]
fn an_identity_is_told_to_be_one() {
    let grid = Grid3::sample_codes(17, |rgb| rgb).unwrap();
    let health = examine(&grid, Setting::default(), None).unwrap();
    assert_eq!(health.findings.len(), 10);
    assert_eq!(bad(&health), []);
    assert_eq!(health.to_json()["worst"], "info");
}

fn bad(health: &Health) -> Vec<Check> {
    let findings = health.findings.iter();
    let bad = findings.filter(|found| found.severity > Severity::Info);
    bad.map(|found| found.check).collect()
}

/// A table that ends half way to white cuts what rises on; one that is at white there cuts nothing that
/// could be shown.
#[test]
fn what_ends_while_it_rises_is_cut() {
    let grid = Grid3::sample_codes(17, |rgb| rgb.map(|code| code * 0.5)).unwrap();
    let health = examine(&grid, Setting::default(), None).unwrap();
    assert!(bad(&health).contains(&Check::OutsideDomain));
    assert_eq!(health.worst(), Severity::Minor);
    assert_eq!(health.to_json()["worst"], "minor");
}

#[test]
fn a_finer_grid_is_closer_and_the_smallest_good_one_is_named() {
    let path = path(StartingStock::Overcast, EncodingId::LogC3);
    let exact = to_screen(&path);
    let inputs = halton(3000);
    let domain = ([0.0; 3], [1.0; 3]);
    let found = recommend(&[9, 17, 33], domain, Setting::default(), &exact, &inputs).unwrap();
    let p99: Vec<f64> = found.tried.iter().map(|(_, e)| e.p99).collect();
    assert!(p99[0] > p99[1] && p99[1] > p99[2], "{p99:?}");
    let first_good = found.tried.iter().find(|(_, e)| e.p99 <= GOOD_P99);
    assert_eq!(found.good, first_good.is_some());
    if let Some((size, _)) = first_good {
        assert_eq!(found.size, *size);
    }
}

#[test]
fn no_starting_look_folds_ordinary_colours() {
    use EncodingId::{AcesCct, LogC3, Rec709, SLog3SGamut3Cine, Srgb, VLog};
    for &stock in StartingStock::ALL {
        for encoding in [LogC3, SLog3SGamut3Cine, VLog, AcesCct, Rec709, Srgb] {
            let path = path(stock, encoding);
            for size in [17, 33, 65] {
                let grid = Grid3::sample_codes(size, to_screen(&path)).unwrap();
                let found = slopes(&grid, Setting::default()).unwrap();
                let which = format!("{stock:?} {encoding:?} {size} {found:?}");
                assert_eq!(found.folded_ordinary, 0.0, "{which}");
                // The most vivid stock takes light off a layer where its neighbours gain much; film
                // that is blind to red is told by red how little there is of the rest.
                let limit = if stock == StartingStock::RedBlind {
                    0.5
                } else {
                    0.02
                };
                assert!(found.reversed_ordinary < limit, "{which}");
                assert!(found.grey_fall < 1.0 / 1023.0, "{which}");
                // Lights that no camera records: beyond the spectral locus film has no answer.
                assert!(found.folded < 0.15, "{which}");
            }
        }
    }
}
