//! CLF, the Common LUT Format: a list of process nodes in XML, exact where no table is needed.
//!
//! Source: Common LUT Format specification 3.0 (Academy S-2014-006) and the committee draft of
//! SMPTE ST 2136-1; where they leave a choice, OpenColorIO 2.6.0's reader. Files are written so
//! that readers of either take them: namespace, `id`, `compCLFversion` and `Id`, `base` always
//! said. A node's bit depths scale the numbers in the file and nothing else; here all values are
//! in units of 1.0 and the depths are gone.

mod depth;
mod exponent;
mod log;
mod lut1d;
mod lut3d;
mod matrix;
mod range;
mod read;
mod write;

pub use exponent::{Curvature, Exponent, ExponentStyle, Negative};
pub use log::{Log, LogParams, LogStyle};
pub use lut1d::{HalfCurve, Lut1d};
pub use lut3d::Lut3d;
pub use matrix::Matrix;
pub use range::Range;
pub use read::read;
pub(crate) use read::read_root;
pub use write::write;

use super::cdl::{Cdl, Clamp};
use lookwright_colour::rgb::Rgb;

/// A list of nodes that act one after the other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ProcessList {
    /// What the file calls itself: its `id`, else its `Id`.
    pub id: String,
    /// Words of its description elements.
    pub descriptions: Vec<String>,
    /// What goes in, in the file's words.
    pub input: String,
    /// What comes out, in the file's words.
    pub output: String,
    /// The nodes in order.
    pub nodes: Vec<ProcessNode>,
    /// What the reader passed over, with lines: elements that the specification does not know.
    pub remarks: Vec<String>,
}

impl ProcessList {
    /// A list of nodes without words.
    pub fn of_nodes(nodes: Vec<ProcessNode>) -> Self {
        Self {
            nodes,
            ..Self::default()
        }
    }

    /// The list's value at `input`, in units of 1.0.
    #[must_use]
    pub fn apply(&self, input: [f32; 3]) -> [f32; 3] {
        self.nodes
            .iter()
            .fold(input, |value, node| node.apply(value))
    }
}

/// One step of a list.
#[derive(Clone, Debug, PartialEq)]
pub enum ProcessNode {
    /// A 3x3 matrix and an offset.
    Matrix(Matrix),
    /// A line through two points, clamped or not.
    Range(Range),
    /// A logarithm or its inverse.
    Log(Log),
    /// A power curve.
    Exponent(Exponent),
    /// An ASC CDL and its direction.
    Cdl {
        /// The ten numbers.
        cdl: Cdl,
        /// Whether values are held to 0 ... 1.
        clamp: Clamp,
        /// Whether it is undone instead of applied.
        undo: bool,
    },
    /// Three curves.
    Lut1d(Lut1d),
    /// A lattice.
    Lut3d(Lut3d),
}

impl ProcessNode {
    /// The node's value at `input`.
    #[must_use]
    pub fn apply(&self, input: [f32; 3]) -> [f32; 3] {
        let rgb = Rgb::from_array(input);
        match self {
            Self::Matrix(node) => node.apply(input),
            Self::Range(node) => input.map(|value| node.apply(value)),
            Self::Log(node) => node.apply(input),
            Self::Exponent(node) => node.apply(input),
            Self::Cdl {
                cdl,
                clamp,
                undo: false,
            } => cdl.apply(rgb, *clamp).to_array(),
            Self::Cdl {
                cdl,
                clamp,
                undo: true,
            } => cdl.undo(rgb, *clamp).to_array(),
            Self::Lut1d(node) => node.apply(input),
            Self::Lut3d(node) => node.apply(input),
        }
    }
}
