//! A 3D table: a function of colour, known at the nodes of a cubic lattice.

use super::number::size_refused;
use super::tetra::{Interpolation, TetraSplit, trilinear, weigh};
use lookwright_colour::error::{Error, Result};
use lookwright_colour::lane::Lane;
use lookwright_colour::rgb::Rgb;

/// Nodes along an edge of the largest table that is read or written: 129^3 nodes are 26 MB.
pub const GRID_SIZE_MAX: usize = 129;
/// Nodes along an edge of the smallest table.
pub(super) const GRID_SIZE_MIN: usize = 2;

/// A function of colour sampled on `size`^3 nodes.
///
/// Node (i, j, k) stands at input `domain_min + (i, j, k) (domain_max - domain_min) / (size - 1)`
/// and at place `i + size j + size^2 k` of [`Grid3::nodes`]: red fastest. Node values are finite
/// and may leave 0 ... 1. Input outside the domain is held at its edge; NaN is held at the lower
/// edge.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid3 {
    size: usize,
    domain_min: [f32; 3],
    domain_max: [f32; 3],
    /// `(size - 1) / (domain_max - domain_min)`.
    nodes_per_unit: [f32; 3],
    nodes: Vec<[f32; 3]>,
}

impl Grid3 {
    /// A table of nodes that are already there, red fastest.
    ///
    /// # Errors
    /// If `size` is not 2 ... 129, the number of nodes is not `size`^3, a node is not finite, or a
    /// channel of the domain is empty or not finite.
    pub fn from_nodes(
        size: usize,
        domain_min: [f32; 3],
        domain_max: [f32; 3],
        nodes: Vec<[f32; 3]>,
    ) -> Result<Self> {
        Self::check_size(size)?;
        check_domain(domain_min, domain_max)?;
        let expected = size * size * size;
        if nodes.len() != expected {
            return Err(Error::new(format!(
                "expected {expected} nodes for size {size}, found {}",
                nodes.len()
            )));
        }
        if let Some(place) = nodes.iter().position(|n| n.iter().any(|v| !v.is_finite())) {
            return Err(Error::new(format!(
                "node {place} is not a finite number: {:?}",
                nodes[place]
            )));
        }
        Ok(Self {
            size,
            domain_min,
            domain_max,
            nodes_per_unit: core::array::from_fn(|c| {
                (size - 1) as f32 / (domain_max[c] - domain_min[c])
            }),
            nodes,
        })
    }

    /// `f` sampled at every node of the domain.
    ///
    /// # Errors
    /// As [`Grid3::from_nodes`].
    pub fn sample(
        size: usize,
        domain_min: [f32; 3],
        domain_max: [f32; 3],
        f: impl Fn([f32; 3]) -> [f32; 3],
    ) -> Result<Self> {
        let mut nodes = Self::inputs(size, domain_min, domain_max)?;
        for node in &mut nodes {
            *node = f(*node);
        }
        Self::from_nodes(size, domain_min, domain_max, nodes)
    }

    /// `f` sampled over 0 ... 1, the domain of camera codes.
    ///
    /// # Errors
    /// As [`Grid3::from_nodes`].
    pub fn sample_codes(size: usize, f: impl Fn([f32; 3]) -> [f32; 3]) -> Result<Self> {
        Self::sample(size, [0.0; 3], [1.0; 3], f)
    }

    /// The inputs that the nodes stand at, red fastest: what a picture renderer has to be given so
    /// that its output can go to [`Grid3::from_nodes`].
    ///
    /// # Errors
    /// If `size` is not 2 ... 129 or the domain is empty or not finite.
    pub fn inputs(
        size: usize,
        domain_min: [f32; 3],
        domain_max: [f32; 3],
    ) -> Result<Vec<[f32; 3]>> {
        Self::check_size(size)?;
        check_domain(domain_min, domain_max)?;
        let axis = |channel: usize| -> Vec<f32> {
            let (low, high) = (
                f64::from(domain_min[channel]),
                f64::from(domain_max[channel]),
            );
            (0..size)
                .map(|i| (low + i as f64 * (high - low) / (size - 1) as f64) as f32)
                .collect()
        };
        let (red, green, blue) = (axis(0), axis(1), axis(2));
        let mut inputs = Vec::with_capacity(size * size * size);
        for &b in &blue {
            for &g in &green {
                inputs.extend(red.iter().map(|&r| [r, g, b]));
            }
        }
        Ok(inputs)
    }

    /// Whether a table may have this many nodes along an edge.
    ///
    /// # Errors
    /// If `size` is not 2 ... 129.
    pub fn check_size(size: usize) -> Result<()> {
        if (GRID_SIZE_MIN..=GRID_SIZE_MAX).contains(&size) {
            Ok(())
        } else {
            Err(size_refused("3D", size, GRID_SIZE_MIN, GRID_SIZE_MAX))
        }
    }

    /// Nodes along an edge, 2 ... 129.
    pub fn size(&self) -> usize {
        self.size
    }

    /// Input of the first node.
    pub fn domain_min(&self) -> [f32; 3] {
        self.domain_min
    }

    /// Input of the last node.
    pub fn domain_max(&self) -> [f32; 3] {
        self.domain_max
    }

    /// Node values, red fastest.
    pub fn nodes(&self) -> &[[f32; 3]] {
        &self.nodes
    }

    /// The value at node (r, g, b).
    ///
    /// # Panics
    /// If an index is not below [`Grid3::size`].
    pub fn node(&self, [r, g, b]: [usize; 3]) -> [f32; 3] {
        assert!(r < self.size && g < self.size && b < self.size);
        self.nodes[r + self.size * (g + self.size * b)]
    }

    /// The input that node (r, g, b) stands at.
    pub fn input_of(&self, node: [usize; 3]) -> [f32; 3] {
        core::array::from_fn(|c| self.domain_min[c] + node[c] as f32 / self.nodes_per_unit[c])
    }

    /// The same nodes with `f` applied to each value.
    ///
    /// # Errors
    /// If `f` gives a value that is not finite.
    pub fn map_nodes(&self, mut f: impl FnMut([f32; 3]) -> [f32; 3]) -> Result<Self> {
        let nodes = self.nodes.iter().map(|&node| f(node)).collect();
        Self::from_nodes(self.size, self.domain_min, self.domain_max, nodes)
    }

    /// The table's value at `input`.
    #[must_use]
    pub fn apply(&self, input: [f32; 3], how: Interpolation) -> [f32; 3] {
        let (first, d) = self.locate(Rgb::from_array(input));
        let first = first as usize;
        match how {
            Interpolation::Tetrahedral => self.tetrahedral_at(first, d),
            Interpolation::Trilinear => trilinear(&self.corners_at(first), d).to_array(),
        }
    }

    /// The cell that `input` falls into, as the place of its first node in [`Grid3::nodes`] (a
    /// whole number, which `f32` holds exactly for every grid size), and the position in that
    /// cell, each 0 ... 1.
    #[inline(always)]
    #[must_use]
    pub fn locate<L: Lane>(&self, input: Rgb<L>) -> (L, Rgb<L>) {
        let stride = self.stride();
        let (red, d_r) = self.locate_along(0, input.r);
        let (green, d_g) = self.locate_along(1, input.g);
        let (blue, d_b) = self.locate_along(2, input.b);
        let first = red * stride[0] + green * stride[1] + blue * stride[2];
        (first, Rgb::new(d_r, d_g, d_b))
    }

    /// The cell along one channel, as a whole number of nodes, and the position in it.
    #[inline(always)]
    fn locate_along<L: Lane>(&self, channel: usize, value: L) -> (L, L) {
        let last_node = (self.size - 1) as f32;
        let low = self.domain_min[channel];
        let held = value.clamp_to(low, self.domain_max[channel]);
        let x = ((held - low) * self.nodes_per_unit[channel]).min(value.of(last_node));
        let cell = x.floor().min(value.of(last_node - 1.0));
        (cell, x - cell)
    }

    /// Distance in [`Grid3::nodes`] between neighbours along red, green and blue.
    pub fn stride(&self) -> [f32; 3] {
        let size = self.size as f32;
        [1.0, size, size * size]
    }

    fn tetrahedral_at(&self, first: usize, d: Rgb) -> [f32; 3] {
        let stride = self.stride();
        let split = TetraSplit::of(d, stride);
        let last = stride[0] + stride[1] + stride[2];
        let nodes = [0.0, split.step_a, split.step_ab, last]
            .map(|step| Rgb::from_array(self.nodes[first + step as usize]));
        weigh(&nodes, &split.weight).to_array()
    }

    /// The eight corners of the cell whose first node is at place `first`, red fastest.
    pub(crate) fn corners_at(&self, first: usize) -> [Rgb; 8] {
        let [r, g, b] = [1, self.size, self.size * self.size];
        [0, r, g, r + g, b, r + b, g + b, r + g + b]
            .map(|step| Rgb::from_array(self.nodes[first + step]))
    }
}

/// Each channel of a domain has to run upwards between two finite numbers.
pub(super) fn check_domain(domain_min: [f32; 3], domain_max: [f32; 3]) -> Result<()> {
    for (name, (low, high)) in ["red", "green", "blue"]
        .iter()
        .zip(domain_min.into_iter().zip(domain_max))
    {
        if !(low < high && (high - low).is_finite()) {
            return Err(Error::new(format!(
                "the domain of {name} runs from {low} to {high}; it has to run upwards between \
                 finite numbers"
            )));
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests;
