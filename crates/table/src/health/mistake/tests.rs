//! Each mistake is made in a good table and named as itself; good tables have none.

use super::*;
use crate::health::Setting;

fn found(grid: &Grid3) -> Option<Finding> {
    finding(grid, &Judge::new(Setting::default()).unwrap()).unwrap()
}

const SIZES: [usize; 3] = [9, 17, 33];

type Made = fn([f32; 3]) -> [f32; 3];

/// Tables without a fault, by name.
fn good() -> Vec<(&'static str, Made)> {
    vec![
        ("identity", |rgb| rgb),
        ("lighter", |rgb| {
            rgb.map(|v| libm::pow(f64::from(v), 0.45) as f32)
        }),
        ("darker", |rgb| {
            rgb.map(|v| libm::pow(f64::from(v), 2.4) as f32)
        }),
        ("steep about the middle", |rgb| {
            rgb.map(|v| (1.0 / (1.0 + libm::exp(-12.0 * (f64::from(v) - 0.5)))) as f32)
        }),
        ("hard clip", |rgb| {
            rgb.map(|v| (3.0 * v - 1.0).clamp(0.0, 1.0))
        }),
        ("light above white", |rgb| rgb.map(|v| 16.0 * v * v)),
        // Log code as linear light, white and most: ARRI LogC3 at EI 800 comes to 55, LogC4 to 469.
        ("log to light, up to 55", |rgb| rgb.map(|v| linear(v, 55.0))),
        ("log to light, up to 469", |rgb| {
            rgb.map(|v| linear(v, 469.0))
        }),
        ("log to light, up to 65504", |rgb| {
            rgb.map(|v| linear(v, 65504.0))
        }),
        ("paler", |[r, g, b]| {
            let grey = (r + g + b) / 3.0;
            [r, g, b].map(|v| grey + 0.4 * (v - grey))
        }),
        ("black and white", |[r, g, b]| {
            [0.2126 * r + 0.7152 * g + 0.0722 * b; 3]
        }),
        ("stronger", |[r, g, b]| {
            let grey = (r + g + b) / 3.0;
            [r, g, b].map(|v| grey + 1.8 * (v - grey))
        }),
    ]
}

/// Straight in log light, 0.18 at code 0.4.
fn linear(code: f32, most: f64) -> f32 {
    (most * libm::pow(0.18 / most, (1.0 - f64::from(code)) / 0.6)) as f32
}

/// Nodes here and there stand out: no stray one.
#[test]
fn a_pattern_of_spikes_is_no_stray_node() {
    let mut at = 0;
    let grid = Grid3::sample_codes(17, |rgb| rgb).unwrap();
    let dotted = grid.map_nodes(|[r, g, b]| {
        at += 1;
        [r, if at % 400 == 0 { g + 0.7 } else { g }, b]
    });
    assert_eq!(found(&dotted.unwrap()), None);
}

/// A node that is off is told by those around it, though others stand out as much far from it, as where a gamut is
/// cut.
#[test]
fn a_node_off_alone_is_told_beside_others_that_stand_out() {
    let mut at = 0;
    let identity = Grid3::sample_codes(17, |rgb| rgb).unwrap();
    let grid = identity.map_nodes(|[r, g, b]| {
        let corner = [r, g, b].into_iter().all(|v| v > 0.7);
        at += 1;
        [r, if corner && at % 2 == 0 { g + 0.15 } else { g }, b]
    });
    let grid = grid.unwrap();
    assert_eq!(found(&grid), None);
    let stray = [5.0, 6.0, 7.0].map(|v| v / 16.0);
    let spoiled = grid.map_nodes(|[r, g, b]| [r, if [r, g, b] == stray { g + 0.2 } else { g }, b]);
    let found = found(&spoiled.unwrap()).unwrap();
    assert_eq!(found.check.diagnosis(), Some(Diagnosis::StrayNodes));
    assert_eq!(found.place, "node 5 6 7 of 17");
}

type Fault = fn(&Grid3) -> Grid3;

fn each(grid: &Grid3, change: impl Fn([f32; 3]) -> [f32; 3]) -> Grid3 {
    grid.map_nodes(change).unwrap()
}

fn faults() -> Vec<(&'static str, Fault)> {
    vec![
        ("codes of 8 bits", |grid| {
            each(grid, |n| n.map(|v| (v * 255.0).clamp(0.0, 255.0)))
        }),
        ("codes of 10 bits", |grid| {
            each(grid, |n| n.map(|v| (v * 1023.0).clamp(0.0, 1023.0)))
        }),
        ("codes of 16 bits", |grid| {
            each(grid, |n| n.map(|v| (v * 65535.0).clamp(0.0, 65535.0)))
        }),
        ("one and the same", |grid| each(grid, |_| [0.3, 0.2, 0.1])),
        ("green channel is the same", |grid| {
            each(grid, |[r, _, b]| [r, 0.0, b])
        }),
        ("red and blue channels", |grid| {
            each(grid, |[r, g, _]| [r, g, r])
        }),
        ("Red and blue are exchanged", |grid| {
            each(grid, |[r, g, b]| [b, g, r])
        }),
        ("upside down", |grid| each(grid, |n| n.map(|v| 1.0 - v))),
        ("One node", |grid| {
            let (size, mut at) = (grid.size(), 0);
            let middle = size / 2 * (1 + size + size * size);
            let most = grid.node([size - 1; 3])[1];
            let spike = |n: [f32; 3]| {
                at += 1;
                if at - 1 == middle {
                    [n[0], n[1] + 0.7 * most, n[2]]
                } else {
                    n
                }
            };
            grid.map_nodes(spike).unwrap()
        }),
    ]
}

/// What may be meant: of black and white no channel can be told from another. Linear light is not
/// written in codes, nor turned over about 1.
fn is_left_out(base: &str, fault: &str) -> bool {
    let light = base.starts_with("log to light");
    (base == "black and white" && fault.to_lowercase().starts_with("red and blue"))
        || (light && (fault.starts_with("codes") || fault == "One node"))
}

/// Stated faults on tables that have none: each is named as itself.
#[test]
fn each_fault_is_named_as_itself() {
    let mut missed = Vec::new();
    let mut all = 0;
    for (base, f) in good() {
        for (fault, change) in faults() {
            if is_left_out(base, fault) {
                continue;
            }
            for size in SIZES {
                let grid = change(&Grid3::sample_codes(size, f).unwrap());
                let said = found(&grid).map(|found| found.what);
                let named = said.as_ref().is_some_and(|what| what.contains(fault));
                all += 1;
                if !named {
                    missed.push(format!("{base}, {fault}, grid {size}: {said:?}"));
                }
            }
        }
    }
    assert!(missed.is_empty(), "{} of {all}: {missed:#?}", missed.len());
}

#[test]
fn good_tables_have_none() {
    for (name, f) in good() {
        for size in SIZES {
            let grid = Grid3::sample_codes(size, f).unwrap();
            let found = found(&grid);
            assert!(found.is_none(), "{name}, {size}: {found:?}");
        }
    }
}
