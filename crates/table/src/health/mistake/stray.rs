//! Nodes that have nothing to do with those around them.

use super::nodes::Nodes;
use super::{Diagnosis, Found};

/// How much a stray node stands out, of what is white.
const STANDS_OUT: f32 = 0.08;
/// The same on a side of the lattice, where gamuts are cut and only two axes tell.
const STANDS_OUT_SIDE: f32 = 0.25;
/// How many times more than its neighbours and their slopes differ, and than the next node that does.
const ABOVE_NEIGHBOURS: f32 = 1.5;
const ABOVE_OTHERS: f32 = 4.0;
/// How many times more than any node within two of it a lone one is off the middle of its neighbours, where
/// others stand out farther away; and on a side. A node that is off by itself comes to 6 and 4. Chosen on
/// both halves of the scored tables: output transforms of ACES reach 1.6 and 2.8.
const ABOVE_AROUND: f32 = 2.2;
const ABOVE_AROUND_SIDE: f32 = 3.0;
const SMALLEST: usize = 7;
/// Most stray nodes: where more stand out, that is how the table is.
const STRAYS_MAX: usize = 6;

/// One node, or a few, that stand out while those around them agree.
pub(super) fn stray_nodes(nodes: &Nodes<'_>) -> Option<Found> {
    let mut out: Vec<(f32, [usize; 3])> = nodes
        .places()
        .filter_map(|place| {
            let off = (0..3).filter_map(|c| stands_out(nodes, place, c));
            let off = off.fold(0.0, f32::max);
            (off > 0.0).then_some((off, place))
        })
        .collect();
    out.sort_by(|a, b| b.0.total_cmp(&a.0));
    let last = nodes.size() - 1;
    let on_side = |place: &[usize; 3]| place.iter().any(|&at| at == 0 || at == last);
    let (sides, inside): (Vec<_>, Vec<_>) = out.into_iter().partition(|(_, place)| on_side(place));
    let far = STANDS_OUT * nodes.white();
    let none_inside = inside.first().is_none_or(|it| it.0 <= far);
    let on_sides = || none_inside.then(|| few(sides, STANDS_OUT_SIDE * nodes.white()))?;
    let out = few(inside, far).or_else(on_sides).or_else(|| lone(nodes))?;
    let count = out.len();
    let (off, [r, g, b]) = out[0];
    let (what, all) = match count {
        1 => (
            "One node has nothing to do with those around it.".to_owned(),
            "node".to_owned(),
        ),
        _ => (
            format!("{count} nodes have nothing to do with those around them."),
            "first of them node".to_owned(),
        ),
    };
    let mut found = Found::serious(
        Diagnosis::StrayNodes,
        what,
        format!("off by {off:.3}"),
        "Get the file again, or set each to the middle of its neighbours.".to_owned(),
    );
    found.place = format!("{all} {r} {g} {b} of {}", nodes.size());
    Some(found)
}

/// The first ones of `out`, farthest first, if they are few, far off, and far more so than the next.
fn few(mut out: Vec<(f32, [usize; 3])>, far: f32) -> Option<Vec<(f32, [usize; 3])>> {
    let count = (1..=STRAYS_MAX.min(out.len())).find(|&count| {
        let (last, next) = (out[count - 1].0, out.get(count).map_or(0.0, |it| it.0));
        last > far && last > ABOVE_OTHERS * next
    })?;
    out.truncate(count);
    Some(out)
}

/// How far a node is off its neighbours' middle along every axis, if it is so one way, by more than these are
/// apart and by more than the slope on its one side differs from that on its other.
fn stands_out(nodes: &Nodes<'_>, place: [usize; 3], c: usize) -> Option<f32> {
    let value = nodes.grid.node(place)[c];
    let last = nodes.size() - 1;
    let (mut least, mut most_apart, mut axes) = (f32::MAX, 0.0_f32, 0);
    let mut sign = 0.0;
    for axis in (0..3).filter(|&axis| place[axis] > 0 && place[axis] < last) {
        let at = |by: usize| {
            let mut there = place;
            there[axis] = (there[axis] + by).saturating_sub(2).min(last);
            nodes.grid.node(there)[c]
        };
        let (before, after) = (at(1), at(3));
        let off = value - (before + after) / 2.0;
        if off == 0.0 || off * sign < 0.0 {
            return None;
        }
        sign = off;
        axes += 1;
        least = least.min(off.abs());
        let bend = (at(4) - after) - (before - at(0));
        most_apart = most_apart.max((after - before).abs() / 2.0).max(bend.abs());
    }
    (axes >= 2 && least > ABOVE_NEIGHBOURS * most_apart).then_some(least)
}

/// Those that are off alone, farthest first, if they are few. In a small lattice too few are around to tell.
fn lone(nodes: &Nodes<'_>) -> Option<Vec<(f32, [usize; 3])>> {
    if nodes.size() < SMALLEST {
        return None;
    }
    let alone = nodes.places().filter_map(|place| {
        let off = (0..3).filter_map(|c| off_alone(nodes, place, c));
        Some((off.reduce(f32::max)?, place))
    });
    let mut alone: Vec<_> = alone.take(STRAYS_MAX + 1).collect();
    alone.sort_by(|a, b| b.0.total_cmp(&a.0));
    (1..=STRAYS_MAX).contains(&alone.len()).then_some(alone)
}

/// How far a node is off the middle of its neighbours, if those near it are off much less.
fn off_alone(nodes: &Nodes<'_>, place: [usize; 3], c: usize) -> Option<f32> {
    let last = nodes.size() - 1;
    let between = |at: usize| at > 0 && at < last;
    let axes: Vec<usize> = (0..3).filter(|&axis| between(place[axis])).collect();
    let (far, above) = match axes.len() {
        3 => (STANDS_OUT, ABOVE_AROUND),
        2 => (STANDS_OUT_SIDE, ABOVE_AROUND_SIDE),
        _ => return None,
    };
    let off = |place: [usize; 3]| {
        let value = |place: [usize; 3]| nodes.grid.node(place)[c];
        let middles = axes.iter().map(|&axis| {
            let (mut before, mut after) = (place, place);
            before[axis] -= 1;
            after[axis] += 1;
            (value(before) + value(after)) / 2.0
        });
        (value(place) - middles.sum::<f32>() / axes.len() as f32).abs()
    };
    let here = off(place);
    if here <= far * nodes.white() {
        return None;
    }
    let near = |axis: usize| match axes.contains(&axis) {
        true => place[axis].saturating_sub(2).max(1)..=(place[axis] + 2).min(last - 1),
        false => place[axis]..=place[axis],
    };
    let mut around = near(0)
        .flat_map(|r| near(1).flat_map(move |g| near(2).map(move |b| [r, g, b])))
        .filter(|&other| other != place);
    around
        .all(|other| here > above * off(other))
        .then_some(here)
}
