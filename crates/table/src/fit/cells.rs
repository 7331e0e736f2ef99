//! Cells and tetrahedra of a lattice by number.
//!
//! Tetrahedra are numbered cell after cell, red fastest, six a cell in the order of
//! [`ORDERS`].

use crate::health::ORDERS;

/// Tetrahedra in a cell.
pub(super) const TETRAHEDRA: usize = ORDERS.len();

/// The corners of the six tetrahedra from the cell's first node to its last: bit 0 is red, 1 green,
/// 2 blue.
pub(super) const CORNERS: [[usize; 4]; TETRAHEDRA] = corners();

const fn corners() -> [[usize; 4]; TETRAHEDRA] {
    let mut corners = [[0, 0, 0, 7]; TETRAHEDRA];
    let mut t = 0;
    while t < TETRAHEDRA {
        corners[t][1] = 1 << ORDERS[t][0];
        corners[t][2] = corners[t][1] | 1 << ORDERS[t][1];
        t += 1;
    }
    corners
}

/// A lattice's cells.
pub(super) struct Cells {
    /// Nodes along an edge.
    pub(super) size: usize,
    /// From a cell's first node to its eight corners.
    pub(super) steps: [usize; 8],
}

impl Cells {
    pub(super) fn of(size: usize) -> Self {
        let steps = core::array::from_fn(|corner| {
            (corner & 1) + size * ((corner >> 1 & 1) + size * (corner >> 2))
        });
        Self { size, steps }
    }

    /// Cells along an edge.
    pub(super) fn along(&self) -> usize {
        self.size - 1
    }

    /// Every cell's place along red, green and blue, red fastest, and its first node.
    pub(super) fn each(&self) -> impl Iterator<Item = ([usize; 3], usize)> {
        let along = self.along();
        (0..along).flat_map(move |b| self.layer(b))
    }

    /// The cells of one place along blue.
    pub(super) fn layer(&self, b: usize) -> impl Iterator<Item = ([usize; 3], usize)> {
        let (along, size) = (self.along(), self.size);
        (0..along)
            .flat_map(move |g| (0..along).map(move |r| ([r, g, b], r + size * (g + size * b))))
    }

    /// The centre of a tetrahedron of the cell at `at`, in cells.
    pub(super) fn centre(&self, at: [usize; 3], corners: [usize; 4]) -> [f32; 3] {
        core::array::from_fn(|c| {
            let ahead: usize = corners.iter().map(|corner| corner >> c & 1).sum();
            at[c] as f32 + ahead as f32 * 0.25
        })
    }

    /// Whether a node is held: a grey, or on the lattice's outer faces.
    pub(super) fn is_held(&self, node: usize) -> bool {
        let at = [
            node % self.size,
            node / self.size % self.size,
            node / (self.size * self.size),
        ];
        let last = self.size - 1;
        (at[0] == at[1] && at[1] == at[2]) || at.iter().any(|&i| i == 0 || i == last)
    }
}
