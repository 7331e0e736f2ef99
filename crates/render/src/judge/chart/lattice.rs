//! Flat patches that lie in rows and columns.
//!
//! From a patch and two of its neighbours as the sides of a mesh, it is gone on from patch to patch to where
//! the next should lie, each with the mesh that it was reached by, so perspective may narrow it on the way.

use super::flat::Flat;
use super::grid::{Grid, Place};

/// As few patches as can be told for a part of the chart.
pub(super) const FEWEST: usize = 7;
/// Neighbours that are looked at.
const NEAR: usize = 12;
/// How far neighbours lie apart at most, in sides of a patch whose border is taken off.
const FAR: f64 = 3.3;
/// How far from where it should be a patch may lie, in sides of the mesh.
const OFF: f64 = 0.25;
/// Times that one patch may be larger than its neighbour.
const LARGER: f64 = 3.0;
/// The chart has at most so many patches to one side of another.
const REACH: i32 = 6;

/// Patches by column and row.
pub(super) type Lattice = Vec<([i32; 2], usize)>;

/// Every lattice of [`FEWEST`] patches or more.
pub(super) fn lattices(flats: &[Flat]) -> Vec<Lattice> {
    let near: Vec<Vec<usize>> = (0..flats.len()).map(|i| neighbours(flats, i)).collect();
    let mut taken = vec![false; flats.len()];
    let mut out: Vec<Lattice> = Vec::new();
    for seed in 0..flats.len() {
        if taken[seed] {
            continue;
        }
        let mut best = Lattice::new();
        for (across, down) in meshes(flats, &near, seed) {
            let grown = grown(flats, &near, seed, [across, down]);
            if grown.len() > best.len() {
                best = grown;
            }
        }
        if best.len() >= FEWEST {
            for (_, flat) in &best {
                taken[*flat] = true;
            }
            out.push(best);
        }
    }
    out.sort_by_key(|lattice| core::cmp::Reverse(lattice.len()));
    out
}

/// The perspective of a lattice, without the patches that don't fit into it.
pub(super) fn perspective(flats: &[Flat], lattice: &Lattice) -> Option<Grid> {
    let mut pairs: Vec<(Place, Place)> = lattice
        .iter()
        .map(|([u, v], flat)| ([f64::from(*u), f64::from(*v)], flats[*flat].at))
        .collect();
    for _ in 0..2 {
        let grid = Grid::fitted(&pairs)?;
        let limit = OFF * grid.pitch();
        pairs.retain(|(chart, seen)| distance(grid.at(*chart), *seen) < limit);
        if pairs.len() < FEWEST {
            return None;
        }
    }
    Grid::fitted(&pairs)
}

fn neighbours(flats: &[Flat], of: usize) -> Vec<usize> {
    let side = libm::sqrt(flats[of].area);
    let mut found: Vec<(f64, usize)> = (0..flats.len())
        .filter(|i| *i != of && alike(flats[*i].area, flats[of].area))
        .map(|i| (distance(flats[i].at, flats[of].at), i))
        .filter(|(far, _)| *far < FAR * side)
        .collect();
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found.into_iter().take(NEAR).map(|(_, i)| i).collect()
}

/// Pairs of sides from a patch to neighbours: the first to the right, the second a quarter further on.
fn meshes(flats: &[Flat], near: &[Vec<usize>], seed: usize) -> Vec<(Place, Place)> {
    let side = |i: &usize| minus(flats[*i].at, flats[seed].at);
    let sides: Vec<Place> = near[seed].iter().map(side).collect();
    let mut out = Vec::new();
    for across in &sides {
        if across[0] < across[1].abs() {
            continue;
        }
        for down in &sides {
            let cross = across[0] * down[1] - across[1] * down[0];
            let lengths = length(*across) * length(*down);
            let ratio = length(*across) / length(*down);
            if cross > 0.75 * lengths && (0.5..2.0).contains(&ratio) {
                out.push((*across, *down));
            }
        }
    }
    out
}

fn grown(flats: &[Flat], near: &[Vec<usize>], seed: usize, mesh: [Place; 2]) -> Lattice {
    let mut out: Vec<([i32; 2], usize)> = vec![([0, 0], seed)];
    let mut meshes = vec![mesh];
    let mut next = 0;
    while next < out.len() {
        let (([u, v], here), mesh) = (out[next], meshes[next]);
        next += 1;
        for (axis, step) in [(0, 1), (0, -1), (1, 1), (1, -1)] {
            let mut to = [u, v];
            to[axis] += step;
            if to[axis].abs() >= REACH || out.iter().any(|(at, _)| *at == to) {
                continue;
            }
            let sign = f64::from(step);
            let side = mesh[axis];
            let expected = [0, 1].map(|i| flats[here].at[i] + sign * side[i]);
            let Some((far, found)) = near[here]
                .iter()
                .map(|i| (distance(flats[*i].at, expected), *i))
                .min_by(|a, b| a.0.total_cmp(&b.0))
            else {
                continue;
            };
            if far > OFF * length(side) || out.iter().any(|(_, flat)| *flat == found) {
                continue;
            }
            let went = minus(flats[found].at, flats[here].at).map(|d| sign * d);
            let mut narrowed = mesh;
            narrowed[axis] = [0, 1].map(|i| 0.5 * (side[i] + went[i]));
            out.push((to, found));
            meshes.push(narrowed);
        }
    }
    out
}

fn alike(a: f64, b: f64) -> bool {
    a < LARGER * b && b < LARGER * a
}

fn minus(a: Place, b: Place) -> Place {
    [a[0] - b[0], a[1] - b[1]]
}

fn length(side: Place) -> f64 {
    libm::hypot(side[0], side[1])
}

pub(super) fn distance(a: Place, b: Place) -> f64 {
    length(minus(a, b))
}
