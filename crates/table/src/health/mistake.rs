//! What is wrong with the whole of a table by a slip when it was written, named as itself: then the other
//! checks only tell of its consequences.

use super::Grid3;
use super::finding::{Check, Finding, Severity};

/// Whole numbers that codes are written in, and how many bits they have.
const FULL_SCALES: [(f32, u32); 5] = [
    (255.0, 8),
    (1023.0, 10),
    (4095.0, 12),
    (16383.0, 14),
    (65535.0, 16),
];
/// Most that any code of 0 to 1 comes to, with room for light above white.
const FAR_ABOVE_ONE: f32 = 24.0;
/// Least share of full scale that codes reach, and that the middle of greys has: linear light, which may
/// go as high, has next to nothing there (in cameras' log codes, about 1 % of the most or less).
const REACHED: f32 = 0.6;
const MIDDLE: f32 = 0.06;
/// Two values are one below this.
const SAME: f32 = 1e-4;
/// How much a spike stands out, of what is white, and how much more than its surroundings vary.
const SPIKE: f32 = 0.15;
/// How many times more a channel follows another axis than its own where axes were exchanged.
const FOLLOWS: f64 = 2.0;

/// The slip, if there is one: the first of those that explain the most.
pub(super) fn finding(grid: &Grid3) -> Option<Finding> {
    let nodes = Nodes::of(grid);
    scaled(&nodes)
        .or_else(|| constant(&nodes))
        .or_else(|| spike(&nodes))
        .or_else(|| flat_channel(&nodes))
        .or_else(|| doubled_channel(&nodes))
        .or_else(|| axes(&nodes))
}

fn serious(what: &str, place: String, measure: String, advice: &str) -> Finding {
    Finding {
        check: Check::Mistake,
        severity: Severity::Serious,
        what: what.to_owned(),
        place,
        measure,
        advice: advice.to_owned(),
    }
}

struct Nodes<'a> {
    grid: &'a Grid3,
    low: [f32; 3],
    high: [f32; 3],
}

impl<'a> Nodes<'a> {
    fn of(grid: &'a Grid3) -> Self {
        let mut it = Self {
            grid,
            low: [f32::MAX; 3],
            high: [f32::MIN; 3],
        };
        for place in it.places() {
            for (c, value) in grid.node(place).into_iter().enumerate() {
                it.low[c] = it.low[c].min(value);
                it.high[c] = it.high[c].max(value);
            }
        }
        it
    }

    fn places(&self) -> impl Iterator<Item = [usize; 3]> + use<> {
        let size = self.grid.size();
        (0..size * size * size).map(move |i| [i % size, i / size % size, i / (size * size)])
    }

    fn varies(&self, channel: usize) -> bool {
        self.high[channel] - self.low[channel] > SAME
    }
}

/// Codes of 8 bits, say, where 0 to 1 is meant.
fn scaled(nodes: &Nodes<'_>) -> Option<Finding> {
    let most = nodes.high.into_iter().fold(f32::MIN, f32::max);
    if most <= FAR_ABOVE_ONE {
        return None;
    }
    let [_, middle, _] = nodes.grid.node([nodes.grid.size() / 2; 3]);
    let (full, bits) = FULL_SCALES
        .into_iter()
        .find(|(full, _)| most <= full * 1.01 && most >= full * REACHED)
        .filter(|(full, _)| middle >= full * MIDDLE)?;
    Some(serious(
        &format!("The values are codes of {bits} bits, not of 0 to 1."),
        String::new(),
        format!("largest value {most}"),
        &format!("Divide every value by {full}."),
    ))
}

fn constant(nodes: &Nodes<'_>) -> Option<Finding> {
    let flat = (0..3).all(|c| !nodes.varies(c));
    let [r, g, b] = nodes.low;
    flat.then(|| {
        serious(
            "Every colour comes out as one and the same.",
            String::new(),
            format!("{r} {g} {b} everywhere"),
            "Write the table again from what it was to hold.",
        )
    })
}

const NAMES: [&str; 3] = ["red", "green", "blue"];

fn flat_channel(nodes: &Nodes<'_>) -> Option<Finding> {
    let channel = (0..3).find(|&c| !nodes.varies(c))?;
    let name = NAMES[channel];
    Some(serious(
        &format!("The {name} channel is the same everywhere."),
        String::new(),
        format!("{name} is {} everywhere", nodes.low[channel]),
        "Write the table again: a channel was lost.",
    ))
}

/// Two channels alike beside a third that differs; three alike are black and white.
fn doubled_channel(nodes: &Nodes<'_>) -> Option<Finding> {
    let alike = |a: usize, b: usize| {
        nodes.places().all(|place| {
            let node = nodes.grid.node(place);
            (node[a] - node[b]).abs() <= SAME
        })
    };
    let pairs = [(0, 1), (0, 2), (1, 2)];
    let same = pairs.map(|(a, b)| alike(a, b));
    if same.iter().filter(|it| **it).count() != 1 {
        return None;
    }
    let (a, b) = pairs.into_iter().zip(same).find(|(_, same)| *same)?.0;
    let (a, b) = (NAMES[a], NAMES[b]);
    Some(serious(
        &format!("The {a} and {b} channels are the same everywhere."),
        String::new(),
        String::new(),
        "Right for a look of two colours; else write the table again: one channel was written twice.",
    ))
}

/// How far each channel goes along each axis, from one end of the lattice to the other, on average.
fn along(nodes: &Nodes<'_>) -> [[f64; 3]; 3] {
    let last = nodes.grid.size() - 1;
    let mut sums = [[0.0_f64; 3]; 3];
    for place in nodes.places() {
        for axis in 0..3 {
            let sign = match place[axis] {
                0 => -1.0,
                at if at == last => 1.0,
                _ => continue,
            };
            for (c, value) in nodes.grid.node(place).into_iter().enumerate() {
                sums[c][axis] += sign * f64::from(value);
            }
        }
    }
    let each = (nodes.grid.size() * nodes.grid.size()) as f64;
    sums.map(|row| row.map(|sum| sum / each))
}

/// Axes exchanged, or a table upside down.
fn axes(nodes: &Nodes<'_>) -> Option<Finding> {
    let along = along(nodes);
    let falls = along
        .iter()
        .all(|channel| channel.iter().sum::<f64>() < -0.2);
    if falls {
        return Some(serious(
            "The table is upside down: more light comes out darker in every channel.",
            String::new(),
            String::new(),
            "Right for a negative; else write its values in the opposite order.",
        ));
    }
    let exchanged = |a: usize, b: usize| {
        let follows = |c: usize, other: usize| along[c][other] > FOLLOWS * along[c][c].abs() + 0.1;
        follows(a, b) && follows(b, a)
    };
    let (a, b) = [(0, 2), (0, 1), (1, 2)]
        .into_iter()
        .find(|&(a, b)| exchanged(a, b))?;
    let (a, b) = (NAMES[a], NAMES[b]);
    Some(serious(
        &format!("The {a} and {b} axes are exchanged: each comes out as the other."),
        String::new(),
        String::new(),
        "Write the table again with red changing fastest, as .cube has it, or exchange its channels.",
    ))
}

/// One node inside that has nothing to do with those around it, while these agree. Where more than one stands
/// out, that is how the table is.
fn spike(nodes: &Nodes<'_>) -> Option<Finding> {
    let size = nodes.grid.size();
    let range = (0..3).map(|c| nodes.high[c] - nodes.low[c]);
    let white = range.fold(0.0, f32::max).min(1.0);
    let inner = |at: usize| at > 0 && at + 1 < size;
    let mut found: Option<([usize; 3], f32)> = None;
    for place in nodes
        .places()
        .filter(|place| place.iter().all(|&at| inner(at)))
    {
        for (c, value) in nodes.grid.node(place).into_iter().enumerate() {
            let beside = |axis: usize, by: usize| {
                let mut there = place;
                there[axis] = there[axis] + by - 1;
                nodes.grid.node(there)[c]
            };
            // Along each axis: how far it stands off the middle of its neighbours, and how far these are apart.
            let off = [0, 1, 2].map(|axis| value - (beside(axis, 0) + beside(axis, 2)) / 2.0);
            let apart = [0, 1, 2].map(|axis| (beside(axis, 2) - beside(axis, 0)).abs() / 2.0);
            let most_apart = apart.into_iter().fold(0.0, f32::max);
            let least_off = off.map(f32::abs).into_iter().fold(f32::MAX, f32::min);
            let one_way = off.iter().all(|it| *it > 0.0) || off.iter().all(|it| *it < 0.0);
            let stands_out = one_way && least_off > SPIKE * white && least_off > 1.5 * most_apart;
            match found {
                Some((first, _)) if stands_out && first != place => return None,
                Some((_, off)) if off >= least_off => {}
                _ if stands_out => found = Some((place, least_off)),
                _ => {}
            }
        }
    }
    let ([r, g, b], off) = found?;
    Some(serious(
        "One node has nothing to do with those around it.",
        format!("node {r} {g} {b} of {size}"),
        format!("off by {off:.3}"),
        "Get the file again, or set this node to the middle of its neighbours.",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

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
        assert_eq!(finding(&dotted.unwrap()), None);
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
            ("red and blue axes are exchanged", |grid| {
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
        (base == "black and white" && fault.starts_with("red and blue"))
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
                    let said = finding(&grid).map(|found| found.what);
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
                let found = finding(&grid);
                assert!(found.is_none(), "{name}, {size}: {found:?}");
            }
        }
    }
}
