//! The nodes of a table, as mistakes are looked for in them.

use crate::Grid3;

/// Two values are one below this: a table of six decimals has 5e-7, a lattice picture 8e-6.
pub(super) const SAME: f32 = 1e-4;

pub(super) const NAMES: [&str; 3] = ["red", "green", "blue"];

/// A table with its least and greatest value of each channel.
pub(super) struct Nodes<'a> {
    pub(super) grid: &'a Grid3,
    pub(super) low: [f32; 3],
    pub(super) high: [f32; 3],
}

impl<'a> Nodes<'a> {
    pub(super) fn of(grid: &'a Grid3) -> Self {
        let mut it = Self {
            grid,
            low: [f32::MAX; 3],
            high: [f32::MIN; 3],
        };
        for node in grid.nodes() {
            for (c, &value) in node.iter().enumerate() {
                it.low[c] = it.low[c].min(value);
                it.high[c] = it.high[c].max(value);
            }
        }
        it
    }

    pub(super) fn size(&self) -> usize {
        self.grid.size()
    }

    /// Every node's place, red fastest.
    pub(super) fn places(&self) -> impl Iterator<Item = [usize; 3]> + use<> {
        let size = self.size();
        (0..size * size * size).map(move |i| [i % size, i / size % size, i / (size * size)])
    }

    pub(super) fn varies(&self, channel: usize) -> bool {
        self.high[channel] - self.low[channel] > SAME
    }

    pub(super) fn least(&self) -> f32 {
        self.low.into_iter().fold(f32::MAX, f32::min)
    }

    pub(super) fn most(&self) -> f32 {
        self.high.into_iter().fold(f32::MIN, f32::max)
    }

    /// What white is at most: the widest channel's range, 1 where light goes above.
    pub(super) fn white(&self) -> f32 {
        let range = (0..3).map(|c| self.high[c] - self.low[c]);
        range.fold(0.0, f32::max).min(1.0)
    }
}
