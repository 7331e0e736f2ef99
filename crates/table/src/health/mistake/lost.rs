//! Channels that were lost or written twice.

use super::nodes::{NAMES, Nodes, SAME};
use super::{Diagnosis, Found};

pub(super) fn constant(nodes: &Nodes<'_>) -> Option<Found> {
    let flat = (0..3).all(|c| !nodes.varies(c));
    let [r, g, b] = nodes.low;
    flat.then(|| {
        Found::serious(
            Diagnosis::Constant,
            "Every colour comes out as one and the same.".to_owned(),
            format!("{r} {g} {b} everywhere"),
            "Write the table again from what it was to hold.".to_owned(),
        )
    })
}

pub(super) fn flat_channel(nodes: &Nodes<'_>) -> Option<Found> {
    let channel = (0..3).find(|&c| !nodes.varies(c))?;
    let name = NAMES[channel];
    Some(Found::serious(
        Diagnosis::DeadChannel,
        format!("The {name} channel is the same everywhere."),
        format!("{name} is {} everywhere", nodes.low[channel]),
        "Write the table again: a channel was lost.".to_owned(),
    ))
}

/// Two channels alike beside a third that differs; three alike are black and white.
pub(super) fn doubled_channel(nodes: &Nodes<'_>) -> Option<Found> {
    let alike = |a: usize, b: usize| {
        let mut values = nodes.grid.nodes().iter();
        values.all(|node| (node[a] - node[b]).abs() <= SAME)
    };
    let pairs = [(0, 1), (0, 2), (1, 2)];
    let same = pairs.map(|(a, b)| alike(a, b));
    if same.iter().filter(|it| **it).count() != 1 {
        return None;
    }
    let (a, b) = pairs.into_iter().zip(same).find(|(_, same)| *same)?.0;
    // Black and white with a stray node differs there only.
    let all = nodes.grid.nodes();
    let differ = all
        .iter()
        .filter(|node| (node[3 - a - b] - node[a]).abs() > SAME);
    if differ.count() * 100 < all.len() {
        return None;
    }
    let (a, b) = (NAMES[a], NAMES[b]);
    Some(Found::serious(
        Diagnosis::DoubledChannel,
        format!("The {a} and {b} channels are the same everywhere."),
        String::new(),
        "Right for a look of two colours; else write the table again: one channel was written twice."
            .to_owned(),
    ))
}
