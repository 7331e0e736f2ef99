//! Fold-overs, reversals and whether a table can be undone, from the slopes in each cell.
//!
//! Between the nodes a table is linear in each of six tetrahedra, so its Jacobian there is a
//! constant matrix of differences between nodes. Where its determinant is below zero, colour space
//! is turned over on itself: two different colours come out in exchanged order. Where it is zero,
//! colours fall together and cannot be undone.

use super::finding::{Check, Finding, Severity};
use super::judge::{Judge, Setting};
use super::ordinary::ordinary_nodes;
use crate::Grid3;
use lookwright_colour::error::Result;

/// Determinants below this are folds, those nearer to zero are rounding and flat ends: slopes of a
/// tenth of the identity's, turned over; at 33 nodes that is less than a code of 8 bits.
pub(crate) const FOLD: f64 = -1e-3;
/// Determinants of a smaller size are flat: as of slopes of 0.01 in all three directions.
const FLAT: f64 = 1e-6;
/// Share of the table that may fold at the edges of colour space before it counts as minor.
/// Common practice, no source.
const EDGE_FOLDS_MINOR: f64 = 0.005;
/// Fall of a channel along the greys that shows: two steps of a display of 8 bits. Chosen.
const GREY_FALL: f32 = 2.0 / 255.0;
/// Fall of a channel between two nodes that is not yet a reversal: one code of 10 bits.
pub(crate) const FALL: f32 = 1.0 / 1023.0;

/// The six orders in which a tetrahedron goes along the axes.
pub(crate) const ORDERS: [[usize; 3]; 6] = [
    [0, 1, 2],
    [0, 2, 1],
    [1, 0, 2],
    [1, 2, 0],
    [2, 0, 1],
    [2, 1, 0],
];

/// What the slopes of a table's cells say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Slopes {
    /// Share of tetrahedra that are turned over: of all, or of those of colours that things have, where what
    /// goes in is known.
    pub folded: f64,
    /// Share of the tetrahedra of ordinary colours that are turned over.
    pub folded_ordinary: f64,
    /// The node whose cell is turned over most, and its determinant.
    pub worst_fold: Option<([usize; 3], f64)>,
    /// Share of tetrahedra that are flat.
    pub flat: f64,
    /// Share of steps along a channel's own axis where that channel falls.
    pub reversed: f64,
    /// The same for ordinary colours.
    pub reversed_ordinary: f64,
    /// The farthest that a channel falls while grey gets lighter.
    pub grey_fall: f32,
    /// The node, channel and size of the largest fall.
    pub worst_reversal: Option<([usize; 3], usize, f32)>,
}

/// Measures every cell of `grid`. An ordinary colour has on the screen no more chroma than 30 and a
/// lightness of 4.5 to 92, and the same before the table where what goes in is known; else codes no
/// further than 0.1 apart.
///
/// # Errors
/// If the setting cannot be judged.
pub fn slopes(grid: &Grid3, setting: Setting) -> Result<Slopes> {
    let judge = Judge::new(setting)?;
    let marked = ordinary_nodes(grid, &judge);
    let ordinary = |node| marked[place(grid, node)];
    let possible = |node| {
        let source = judge.source.as_ref();
        source.is_none_or(|source| source.is_possible(grid.input_of(node)))
    };
    let mut found = Slopes::default();
    let mut cells = Counts::default();
    let mut steps = Counts::default();
    let last = grid.size() - 1;
    for b in 0..=last {
        for g in 0..=last {
            for r in 0..=last {
                let node = [r, g, b];
                let counts = possible(node);
                fall(grid, &ordinary, node, counts, &mut steps, &mut found);
                if r < last && g < last && b < last {
                    for order in ORDERS {
                        let nodes = tetrahedron(node, order);
                        let det = determinant(nodes.map(|n| grid.node(n)), order, last as f64);
                        let folded = det < FOLD;
                        cells.add(folded, counts, nodes.into_iter().all(&ordinary));
                        found.flat += f64::from(u8::from(det.abs() < FLAT));
                        if folded && found.worst_fold.is_none_or(|(_, worst)| det < worst) {
                            found.worst_fold = Some((node, det));
                        }
                    }
                }
            }
        }
    }
    found.grey_fall = grey_fall(grid);
    found.flat /= (ORDERS.len() * last * last * last) as f64;
    (found.folded, found.folded_ordinary) = cells.shares();
    (found.reversed, found.reversed_ordinary) = steps.shares();
    Ok(found)
}

#[derive(Default)]
struct Counts {
    all: f64,
    ordinary: f64,
    bad: f64,
    bad_ordinary: f64,
}

impl Counts {
    fn add(&mut self, bad: bool, counts: bool, ordinary: bool) {
        let one = |yes: bool| f64::from(u8::from(yes));
        self.all += one(counts);
        self.ordinary += one(ordinary);
        self.bad += one(bad && counts);
        self.bad_ordinary += one(bad && ordinary);
    }

    fn shares(&self) -> (f64, f64) {
        (
            self.bad / self.all.max(1.0),
            self.bad_ordinary / self.ordinary.max(1.0),
        )
    }
}

fn place(grid: &Grid3, [r, g, b]: [usize; 3]) -> usize {
    r + grid.size() * (g + grid.size() * b)
}

/// Each channel along its own axis from `node` to the next.
fn fall(
    grid: &Grid3,
    ordinary: &impl Fn([usize; 3]) -> bool,
    node: [usize; 3],
    counts: bool,
    steps: &mut Counts,
    found: &mut Slopes,
) {
    for channel in 0..3 {
        if node[channel] + 1 < grid.size() {
            let next = moved(node, channel);
            let fall = grid.node(node)[channel] - grid.node(next)[channel];
            steps.add(fall > FALL, counts, ordinary(node) && ordinary(next));
            if fall > FALL && found.worst_reversal.is_none_or(|(.., worst)| fall > worst) {
                found.worst_reversal = Some((node, channel, fall));
            }
        }
    }
}

/// The farthest any channel comes down from the most that it had on the grey axis before.
fn grey_fall(grid: &Grid3) -> f32 {
    let mut most = [f32::MIN; 3];
    let mut farthest = 0.0_f32;
    for i in 0..grid.size() {
        for (most, value) in most.iter_mut().zip(grid.node([i; 3])) {
            *most = most.max(value);
            farthest = farthest.max(*most - value);
        }
    }
    farthest
}

fn moved(mut node: [usize; 3], axis: usize) -> [usize; 3] {
    node[axis] += 1;
    node
}

/// The nodes of one tetrahedron of the cell that begins at `first`.
fn tetrahedron(first: [usize; 3], order: [usize; 3]) -> [[usize; 3]; 4] {
    let mut nodes = [first; 4];
    for (i, axis) in order.into_iter().enumerate() {
        nodes[i + 1] = moved(nodes[i], axis);
    }
    nodes
}

/// Determinant of the slopes in a tetrahedron with these `values` at its nodes, the axes in the
/// `order` in which it goes along them, input in units of the whole domain, which is `steps` cells
/// long.
pub(crate) fn determinant(values: [[f32; 3]; 4], order: [usize; 3], steps: f64) -> f64 {
    let mut column = [[0.0; 3]; 3];
    for (i, axis) in order.into_iter().enumerate() {
        let (a, b) = (values[i], values[i + 1]);
        column[axis] = core::array::from_fn(|c| (f64::from(b[c]) - f64::from(a[c])) * steps);
    }
    let [x, y, z] = column;
    x[0] * (y[1] * z[2] - y[2] * z[1]) - x[1] * (y[0] * z[2] - y[2] * z[0])
        + x[2] * (y[0] * z[1] - y[1] * z[0])
}

fn at_code(node: [usize; 3], size: usize) -> String {
    let [r, g, b] = node.map(|i| i as f64 / (size - 1) as f64);
    format!("{r:.3} {g:.3} {b:.3}")
}

fn percent(share: f64) -> String {
    format!("{:.2} %", share * 100.0)
}

pub(super) fn fold_finding(found: &Slopes, size: usize) -> Finding {
    let severity = if found.folded_ordinary > 0.0 {
        Severity::Serious
    } else {
        Severity::of(found.folded, EDGE_FOLDS_MINOR, f64::INFINITY)
    };
    Finding {
        check: Check::FoldOvers,
        severity,
        what: match (severity, found.worst_fold) {
            (_, None) => "Colours keep their order everywhere.",
            (Severity::Serious, _) => "Ordinary colours come out in exchanged order.",
            _ => "Some very strong colours come out in exchanged order.",
        }
        .to_owned(),
        place: found.worst_fold.map_or_else(String::new, |(node, _)| {
            format!("worst beside code {}", at_code(node, size))
        }),
        measure: format!(
            "{} of the table is turned over, of ordinary colours {}",
            percent(found.folded),
            percent(found.folded_ordinary)
        ),
        advice: match severity {
            Severity::Info => String::new(),
            _ => "Soften what pushes colours past each other: saturation, dye density, steep \
                  curves, hard gamut clips."
                .to_owned(),
        },
    }
}

pub(super) fn reversal_finding(found: &Slopes, size: usize) -> Finding {
    // A channel that falls where colours keep their order turns the colour and does not undo it:
    // more colour comes out denser, or a filter darkens it.
    let severity =
        if found.grey_fall > GREY_FALL || found.reversed_ordinary * found.folded_ordinary > 0.0 {
            Severity::Serious
        } else if found.reversed_ordinary > 0.0 || found.grey_fall > FALL {
            Severity::Minor
        } else {
            Severity::of(found.reversed, EDGE_FOLDS_MINOR, f64::INFINITY)
        };
    Finding {
        check: Check::Reversals,
        severity,
        what: match (severity, found.worst_reversal) {
            (_, None) => "More light never comes out darker.",
            (Severity::Serious, _) => "In ordinary colours a channel falls while its light rises.",
            _ if found.reversed_ordinary > 0.0 => {
                "Some colours get darker as they get stronger, but keep their order."
            }
            _ => "In very strong colours a channel falls while its light rises.",
        }
        .to_owned(),
        place: found
            .worst_reversal
            .map_or_else(String::new, |(node, channel, _)| {
                format!(
                    "worst in {} above code {}",
                    ["red", "green", "blue"][channel],
                    at_code(node, size)
                )
            }),
        measure: format!(
            "{} of all steps, of ordinary colours {}, largest fall {:.1} codes of 10 bits, of greys {:.1}",
            percent(found.reversed),
            percent(found.reversed_ordinary),
            found.worst_reversal.map_or(0.0, |(.., fall)| fall * 1023.0),
            found.grey_fall * 1023.0
        ),
        advice: match severity {
            Severity::Info => String::new(),
            _ => "Look for a curve that bends back, or for white roll and black drop set too hard."
                .to_owned(),
        },
    }
}

pub(super) fn inverse_finding(found: &Slopes) -> Finding {
    let lost = found.flat + found.folded;
    // A hundredth of colour space at the edges is lost to any rendering for a screen.
    let nearly = lost <= 0.01 && found.folded_ordinary == 0.0;
    Finding {
        check: Check::Invertibility,
        severity: Severity::Info,
        what: if nearly {
            "The table can be undone almost everywhere."
        } else {
            "The table cannot be undone everywhere; keep the original pictures."
        }
        .to_owned(),
        place: String::new(),
        measure: format!(
            "{} of the table is flat (colours fall together), {} turned over",
            percent(found.flat),
            percent(found.folded)
        ),
        advice: String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn measured(grid: &Grid3) -> Slopes {
        slopes(grid, Setting::default()).unwrap()
    }

    #[test]
    fn an_identity_has_no_fault() {
        let found = measured(&Grid3::sample_codes(9, |rgb| rgb).unwrap());
        assert_eq!(found, Slopes::default());
    }

    #[test]
    fn exchanging_two_channels_turns_everything_over() {
        let found = measured(&Grid3::sample_codes(17, |[r, g, b]| [g, r, b]).unwrap());
        assert_eq!((found.folded, found.folded_ordinary), (1.0, 1.0));
        assert_eq!(fold_finding(&found, 17).severity, Severity::Serious);
        let turned = measured(&Grid3::sample_codes(5, |[r, g, b]| [g, b, r]).unwrap());
        assert_eq!(turned.folded, 0.0);
    }

    /// Determinant of a linear map: the same in every tetrahedron.
    #[test]
    fn the_determinant_is_that_of_the_matrix() {
        let grid = Grid3::sample_codes(4, |[r, g, b]| {
            [0.5 * r + 0.25 * g, 0.75 * g - 0.25 * b, 0.5 * b + 0.125 * r]
        })
        .unwrap();
        for order in ORDERS {
            let nodes = tetrahedron([1, 2, 0], order);
            let det = determinant(nodes.map(|n| grid.node(n)), order, 3.0);
            // 0.5 (0.75 * 0.5) + 0.25 (-0.25 * 0.125), expanded along the first row by hand.
            assert!((det - (0.1875 - 0.007_812_5)).abs() < 1e-6);
        }
    }

    #[test]
    fn a_dip_is_found_where_it_is() {
        let dip = |v: f32| if v > 0.55 && v < 0.7 { v - 0.2 } else { v };
        let grid = Grid3::sample_codes(33, |[r, g, b]| [r, dip(g), b]).unwrap();
        let found = measured(&grid);
        let (node, channel, fall) = found.worst_reversal.unwrap();
        assert_eq!((node[1], channel), (17, 1));
        assert!((fall - (0.2 - 1.0 / 32.0)).abs() < 1e-6);
        assert_eq!(reversal_finding(&found, 33).severity, Severity::Serious);
        assert!(found.folded > 0.0);
    }

    #[test]
    fn a_clipped_table_cannot_be_undone() {
        let grid = Grid3::sample_codes(9, |rgb| rgb.map(|v| (1.5 * v).min(1.0))).unwrap();
        let found = measured(&grid);
        // Flat wherever a channel is above 2/3: 1 - (6/8)^3 of the cells, and none folded. The
        // sixth cell is still cut by the clip, so it has a slope.
        assert!(
            (found.flat - (1.0 - 0.75_f64.powi(3))).abs() < 1e-9,
            "{}",
            found.flat
        );
        assert!(inverse_finding(&found).what.contains("cannot be undone"));
    }
}
