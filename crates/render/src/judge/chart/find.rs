//! The chart in a picture: flat patches that lie in rows and columns and have the chart's colours.
//!
//! The order of the colours settles which way up the chart lies, and that it is one. Colours are compared
//! as logarithms about their mean, so neither exposure nor the light's colour, which multiply, count
//! (von Kries' law), and by correlation (Pearson), so contrast does not either.

use lookwright_film::spatial::Planes;

use super::flat::{Flat, Level};
use super::grid::{Grid, Place};
use super::lattice::{FEWEST, Lattice, distance, lattices, perspective};
use super::published::{COLUMNS, PATCHES, ROWS, scene_lin};
use crate::judge::still::median;

/// Columns of the copies that are searched; each finds charts of about a tenth of it to a third.
const WIDTHS: [usize; 3] = [160, 320, 640];
/// How much a patch may change over two pixels, in stops.
const STILL: [f32; 3] = [0.16, 0.08, 0.32];
/// What is left of the chart's own correlation when it is found. *Chosen*: what is none stays below 0.8.
const LIGHTNESS: f64 = 0.9;
const COLOUR: f64 = 0.9;
/// How often the grid is laid anew through the patches that it meets.
const ROUNDS: usize = 5;
/// A patch whose area is another part of the usual one is not all of a patch. *Chosen.*
const WHOLE_OF_USUAL: core::ops::Range<f64> = 0.55..1.8;
/// No better one is looked for.
const CERTAIN: f64 = 1.96;

/// A chart in a picture.
#[derive(Clone, Copy, Debug)]
pub(super) struct Found {
    /// In pixels of the picture.
    pub(super) grid: Grid,
    /// Seen in a mirror.
    pub(super) mirrored: bool,
    /// Correlation of its lightness, and of its colours.
    pub(super) likeness: [f64; 2],
}

impl Found {
    fn sum(&self) -> f64 {
        self.likeness[0] + self.likeness[1]
    }
}

/// Looks for the chart in scene light.
pub(super) fn find(scene_lin: &Planes) -> Option<Found> {
    let chart = Chart::new();
    let floor = floor(scene_lin);
    let mut best: Option<Found> = None;
    let longer = scene_lin.width.max(scene_lin.height).max(1);
    for long in WIDTHS {
        let width = (scene_lin.width * long.min(longer)).div_ceil(longer).max(1);
        let level = Level::of(scene_lin, width, floor);
        let changes = level.changes();
        let scale = [
            scene_lin.width as f64 / level.width as f64,
            scene_lin.height as f64 / level.height as f64,
        ];
        let flats = STILL.map(|still| level.flats(&changes, still));
        let every = flats.concat();
        for flats in &flats {
            for lattice in lattices(flats) {
                let placed = chart.placed(&level, flats, &lattice);
                let Some(found) = placed.map(|found| chart.settled(&level, &every, found)) else {
                    continue;
                };
                if best.is_none_or(|best| found.sum() > best.sum()) {
                    best = Some(Found {
                        grid: found.grid.scaled(scale),
                        ..found
                    });
                }
            }
            if best.is_some_and(|best| best.sum() > CERTAIN) {
                return best;
            }
        }
    }
    best.filter(|best| best.likeness[0] > LIGHTNESS && best.likeness[1] > COLOUR)
}

/// The grid whose corner patches have these centres, in whichever order around it, so that its patches have
/// the chart's colours as nearly as can be; none if the corners fix no grid within the picture.
pub(super) fn of_marks(scene_lin: &Planes, marks: &[Place; 4]) -> Option<Found> {
    let level = Level::of(scene_lin, scene_lin.width, floor(scene_lin));
    let chart = Chart::new();
    let ways = (0..4).flat_map(|turn| [(turn, false), (turn, true)]);
    ways.filter_map(|(turn, mirrored)| {
        let order = if mirrored { [1, 0, 3, 2] } else { [0, 1, 2, 3] };
        let grid = Grid::of_corners(&order.map(|i: usize| marks[(i + turn) % 4]))?;
        Some(Found {
            grid,
            mirrored,
            likeness: chart.likeness(&level, &grid)?,
        })
    })
    .max_by(|a, b| a.sum().total_cmp(&b.sum()))
}

/// What is hardly light, against the rest of the picture.
fn floor(scene_lin: &Planes) -> f32 {
    let mut sorted = scene_lin.planes[1].clone();
    sorted.sort_unstable_by(f32::total_cmp);
    let at = |share: f64| sorted.get((share * sorted.len() as f64) as usize).copied();
    let (middle, high) = (at(0.5).unwrap_or(0.0), at(0.98).unwrap_or(0.0));
    (0.02 * middle).max(3e-4 * high).max(1e-6)
}

/// The chart's own colours as they are compared.
struct Chart {
    lightness: [f64; PATCHES],
    colour: [[f64; PATCHES]; 2],
}

impl Chart {
    fn new() -> Self {
        Self::of(core::array::from_fn(|i| scene_lin(i).map(libm::log2)))
    }

    /// About their means.
    fn of(stops: [[f64; 3]; PATCHES]) -> Self {
        Self {
            lightness: centred(stops.map(|[r, g, b]| (r + g + b) / 3.0)),
            colour: [
                centred(stops.map(|[r, g, _]| r - g)),
                centred(stops.map(|[_, g, b]| b - g)),
            ],
        }
    }

    /// How the patches of a grid go along with the chart's in lightness and in colour; none if one lies
    /// outside.
    fn likeness(&self, level: &Level, grid: &Grid) -> Option<[f64; 2]> {
        let mut stops = [[0.0; 3]; PATCHES];
        for (i, stops) in stops.iter_mut().enumerate() {
            *stops = level.at(grid.at(place(i)))?;
        }
        let seen = Self::of(stops);
        let [a, b] = [0, 1].map(|i| (&self.colour[i], &seen.colour[i]));
        let along = |(a, b): (&[f64; PATCHES], &[f64; PATCHES])| product(a, b);
        let own = product(a.0, a.0) + product(b.0, b.0);
        let its = product(a.1, a.1) + product(b.1, b.1);
        let lightness = product(&self.lightness, &seen.lightness)
            / root(
                product(&self.lightness, &self.lightness)
                    * product(&seen.lightness, &seen.lightness),
            );
        Some([lightness, (along(a) + along(b)) / root(own * its)])
    }

    /// Where on a lattice the chart lies.
    fn placed(&self, level: &Level, flats: &[Flat], lattice: &Lattice) -> Option<Found> {
        let grid = perspective(flats, lattice)?;
        let span = |axis: usize| {
            let along = lattice.iter().map(move |(at, _)| at[axis]);
            (along.clone().min().unwrap_or(0), along.max().unwrap_or(0))
        };
        let (columns, rows) = (span(0), span(1));
        let mut best: Option<Found> = None;
        for turns in 0..4_usize {
            let (wide, high) = if turns.is_multiple_of(2) {
                (COLUMNS as i32, ROWS as i32)
            } else {
                (ROWS as i32, COLUMNS as i32)
            };
            for left in columns.0 - wide + 1..=columns.1 {
                for top in rows.0 - high + 1..=rows.1 {
                    let inside = |(at, _): &&([i32; 2], usize)| {
                        (left..left + wide).contains(&at[0]) && (top..top + high).contains(&at[1])
                    };
                    if lattice.iter().filter(inside).count() < FEWEST {
                        continue;
                    }
                    for mirrored in [false, true] {
                        let start = start([left, top], [wide, high], turns, mirrored);
                        let grid = grid.counted(turns, mirrored, start);
                        let Some(likeness) = self.likeness(level, &grid) else {
                            continue;
                        };
                        let found = Found {
                            grid,
                            mirrored,
                            likeness,
                        };
                        if best.is_none_or(|best| found.sum() > best.sum()) {
                            best = Some(found);
                        }
                    }
                }
            }
        }
        best
    }

    /// The grid laid through all whole flat patches that lie where it has one.
    fn settled(&self, level: &Level, flats: &[Flat], found: Found) -> Found {
        let mut found = found;
        for round in 0..ROUNDS {
            // The nearer the grid is, the nearer a patch has to lie.
            let limit = if round < 2 { 0.25 } else { 0.12 } * found.grid.pitch();
            let near: Vec<(Place, Flat)> = (0..PATCHES)
                .filter_map(|i| {
                    let expected = found.grid.at(place(i));
                    let here = flats
                        .iter()
                        .filter(|flat| distance(flat.at, expected) < limit);
                    // What is cut off by a shadow or noise has its middle elsewhere.
                    let largest = here.max_by(|a, b| a.area.total_cmp(&b.area))?;
                    Some((place(i), *largest))
                })
                .collect();
            let usual = median(near.iter().map(|(_, flat)| flat.area).collect());
            let pairs: Vec<(Place, Place)> = near
                .iter()
                .filter(|(_, flat)| WHOLE_OF_USUAL.contains(&(flat.area / usual)))
                .map(|(place, flat)| (*place, flat.at))
                .collect();
            let grid = (pairs.len() >= FEWEST)
                .then(|| Grid::fitted(&pairs))
                .flatten();
            let better = grid.and_then(|grid| Some((grid, self.likeness(level, &grid)?)));
            match better {
                Some((grid, likeness)) if likeness[0] + likeness[1] > found.sum() - 0.02 => {
                    found = Found {
                        grid,
                        likeness,
                        ..found
                    };
                }
                _ => break,
            }
        }
        found
    }
}

/// A patch's place on the chart.
pub(super) const fn place(patch: usize) -> Place {
    [(patch % COLUMNS) as f64, (patch / COLUMNS) as f64]
}

/// Where on a lattice the first patch lies if the chart fills `size` from a corner on.
fn start([left, top]: [i32; 2], [wide, high]: [i32; 2], turns: usize, mirrored: bool) -> Place {
    // Whether columns and rows run towards the far side of the lattice's two axes.
    let (columns_back, rows_back) = match turns {
        0 => (false, false),
        1 => (false, true),
        2 => (true, true),
        _ => (true, false),
    };
    let columns_back = columns_back != mirrored;
    let (right, down) = if turns.is_multiple_of(2) {
        (columns_back, rows_back)
    } else {
        (rows_back, columns_back)
    };
    let far = |back: bool, length: i32| if back { length - 1 } else { 0 };
    [
        f64::from(left + far(right, wide)),
        f64::from(top + far(down, high)),
    ]
}

fn centred(values: [f64; PATCHES]) -> [f64; PATCHES] {
    let mean = values.iter().sum::<f64>() / PATCHES as f64;
    values.map(|value| value - mean)
}

fn product(a: &[f64; PATCHES], b: &[f64; PATCHES]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn root(square: f64) -> f64 {
    libm::sqrt(square).max(1e-9)
}
