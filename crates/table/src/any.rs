//! Any table file, known by its content.

use super::cdl::{self, Clamp, Correction};
use super::clf::{self, ProcessList, ProcessNode};
use super::csp::{self, Csp, CspTable};
use super::cube::{self, Cube};
use super::unknown;
use super::xml::with_root;
use super::{Curve1, Grid3, Interpolation, spi};
use lookwright_colour::error::{Error, Result};
use lookwright_colour::rgb::Rgb;

/// Longest file that is read: a 3D table of 129 nodes takes 75 MB as text.
pub const TABLE_BYTES_MAX: usize = 128 << 20;

/// Nodes along an edge when a table without a lattice is sampled.
const SAMPLED_SIZE: usize = 33;

/// What a table file holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Table {
    /// A `.cube` table.
    Cube(Cube),
    /// A Common LUT Format list.
    Clf(ProcessList),
    /// A `.csp` table.
    Csp(Csp),
    /// A `.spi1d` table.
    Spi1d(Curve1),
    /// A `.spi3d` table.
    Spi3d(Grid3),
    /// The corrections of a `.cc`, `.ccc` or `.cdl` file, at least one.
    Cdl(Vec<Correction>),
}

impl Table {
    /// The table's value at `input`. A `.cube`, `.csp` or `.spi3d` does not say how it is read between
    /// nodes; here it is by tetrahedra. A CDL file means its first correction, held to 0 ... 1.
    #[must_use]
    pub fn apply(&self, input: [f32; 3]) -> [f32; 3] {
        match self {
            Self::Cube(cube) => cube.apply(input, Interpolation::Tetrahedral),
            Self::Clf(list) => list.apply(input),
            Self::Csp(csp) => csp.apply(input, Interpolation::Tetrahedral),
            Self::Spi1d(curve) => curve.apply(input),
            Self::Spi3d(grid) => grid.apply(input, Interpolation::Tetrahedral),
            Self::Cdl(corrections) => match corrections.first() {
                Some(first) => first
                    .cdl
                    .apply(Rgb::from_array(input), Clamp::On)
                    .to_array(),
                None => input,
            },
        }
    }

    /// The name of the format, for people.
    pub fn format(&self) -> &'static str {
        match self {
            Self::Cube(_) => ".cube",
            Self::Clf(_) => "CLF",
            Self::Csp(_) => ".csp",
            Self::Spi1d(_) => ".spi1d",
            Self::Spi3d(_) => ".spi3d",
            Self::Cdl(_) => "ASC CDL",
        }
    }

    /// The table as one lattice, to be judged by. The lattice inside it, if it has one: steps
    /// before that only choose where its nodes stand, steps after it are applied to its nodes. A
    /// table without a lattice is sampled at 33 nodes over its domain.
    ///
    /// # Errors
    /// If the table gives values that are not finite.
    pub fn lattice(&self) -> Result<Grid3> {
        match self {
            Self::Cube(Cube {
                grid: Some(grid), ..
            })
            | Self::Csp(Csp {
                table: CspTable::Grid(grid),
                ..
            })
            | Self::Spi3d(grid) => Ok(grid.clone()),
            Self::Clf(list) => {
                let place = list.nodes.iter().position(is_lattice);
                match place.map(|at| list.nodes.split_at(at)) {
                    Some((_, [ProcessNode::Lut3d(lut), after @ ..])) => lut
                        .grid
                        .map_nodes(|node| after.iter().fold(node, |v, step| step.apply(v))),
                    _ => self.sampled(),
                }
            }
            Self::Cube(_) | Self::Csp(_) | Self::Spi1d(_) | Self::Cdl(_) => self.sampled(),
        }
    }

    fn sampled(&self) -> Result<Grid3> {
        let (min, max) = self.domain();
        Grid3::sample(SAMPLED_SIZE, min, max, |input| self.apply(input))
    }

    /// The input range that the table speaks about: its domain, else 0 ... 1.
    pub fn domain(&self) -> ([f32; 3], [f32; 3]) {
        match self {
            Self::Cube(Cube {
                curve: Some(curve), ..
            }) => (curve.domain_min(), curve.domain_max()),
            Self::Cube(Cube {
                grid: Some(grid), ..
            }) => (grid.domain_min(), grid.domain_max()),
            Self::Spi1d(curve) => (curve.domain_min(), curve.domain_max()),
            Self::Csp(csp) => csp.domain(),
            _ => ([0.0; 3], [1.0; 3]),
        }
    }

    /// What the table says goes in and comes out, in its own words, or nothing: CLF's descriptors, or
    /// comments of a `.cube` that begin with `Input:` and `Output:`.
    #[must_use]
    pub fn words(&self) -> [&str; 2] {
        match self {
            Self::Cube(cube) => ["Input:", "Output:"].map(|name| {
                let mut lines = cube.comments.iter();
                lines
                    .find_map(|line| line.strip_prefix(name))
                    .map_or("", str::trim)
            }),
            Self::Clf(list) => [&list.input, &list.output],
            Self::Csp(_) | Self::Spi1d(_) | Self::Spi3d(_) | Self::Cdl(_) => [""; 2],
        }
    }

    /// What the reader passed over, with lines.
    pub fn remarks(&self) -> &[String] {
        match self {
            Self::Clf(list) => &list.remarks,
            Self::Cdl(corrections) => corrections.first().map_or(&[], |c| &c.remarks),
            Self::Cube(_) | Self::Csp(_) | Self::Spi1d(_) | Self::Spi3d(_) => &[],
        }
    }
}

fn is_lattice(node: &ProcessNode) -> bool {
    matches!(node, ProcessNode::Lut3d(_))
}

/// Reads a table file of any known format. `file_name` only helps the message when the content is
/// of no known kind.
///
/// Memory: below 6 times `bytes.len()` plus 40 MB.
///
/// # Errors
/// One sentence, with the line it concerns where the file has lines.
pub fn read_table(bytes: &[u8], file_name: &str) -> Result<Table> {
    if bytes.is_empty() {
        return Err(Error::new("byte 0: the file is empty"));
    }
    if bytes.len() > TABLE_BYTES_MAX {
        return Err(Error::new(format!(
            "byte {TABLE_BYTES_MAX}: the file has {} bytes; a table has at most {TABLE_BYTES_MAX}",
            bytes.len()
        )));
    }
    if let Some(error) = unknown::named(bytes, file_name) {
        return Err(error);
    }
    let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text = text.trim_ascii_start();
    let begins = |word: &[u8]| {
        text.get(..word.len())
            .is_some_and(|start| start.eq_ignore_ascii_case(word))
    };
    if begins(b"<") {
        with_root(bytes, |root| match root.name() {
            "ProcessList" => clf::read_root(root).map(Table::Clf),
            "ColorCorrection" | "ColorCorrectionCollection" | "ColorDecisionList" => {
                cdl::read_root(root).map(Table::Cdl)
            }
            _ => Err(root.error(
                "is not the root of a table; CLF begins with ProcessList, a CDL with \
                 ColorCorrection, ColorCorrectionCollection or ColorDecisionList",
            )),
        })
    } else if begins(b"CSPLUT") {
        csp::read(bytes).map(Table::Csp)
    } else if begins(b"SPILUT") {
        spi::read_grid(bytes).map(Table::Spi3d)
    } else if SPI1D_WORDS.iter().any(|word| begins(word)) {
        spi::read_curve(bytes).map(Table::Spi1d)
    } else {
        cube::read(bytes).map(Table::Cube)
    }
}

/// Any of these begins a `.spi1d` file.
const SPI1D_WORDS: [&[u8]; 4] = [b"Version", b"From ", b"Length", b"Components"];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn content_decides_whatever_the_name() {
        let cube = read_table(b"LUT_1D_SIZE 2\n0 0 0\n1 1 1\n", "x.clf").unwrap();
        assert_eq!(cube.format(), ".cube");
        let cc =
            b"<ColorCorrection><SatNode><Saturation>0</Saturation></SatNode></ColorCorrection>";
        let cdl = read_table(cc, "x.cube").unwrap();
        assert_eq!(cdl.format(), "ASC CDL");
        let grey = cdl.apply([1.0, 0.0, 0.0]);
        assert!(grey.iter().all(|v| (v - 0.2126).abs() < 1e-6));
    }

    #[test]
    fn a_lattice_carries_what_follows_it() {
        let half = b"<ProcessList id=\"a\" compCLFversion=\"3\">
            <LUT3D inBitDepth=\"32f\" outBitDepth=\"32f\"><Array dim=\"2 2 2 3\">
            0 0 0 0 0 1 0 1 0 0 1 1 1 0 0 1 0 1 1 1 0 1 1 1</Array></LUT3D>
            <Matrix inBitDepth=\"32f\" outBitDepth=\"32f\"><Array dim=\"3 3\">
            .5 0 0 0 .5 0 0 0 .5</Array></Matrix></ProcessList>";
        let lattice = read_table(half, "").unwrap().lattice().unwrap();
        assert_eq!(lattice.size(), 2);
        assert_eq!(lattice.node([1, 0, 1]), [0.5, 0.0, 0.5]);
        let curve = read_table(b"LUT_1D_SIZE 2\n0 0 0\n2 2 2\n", "").unwrap();
        assert_eq!(curve.lattice().unwrap().node([32, 0, 16]), [2.0, 0.0, 1.0]);
    }

    #[test]
    fn plain_texts_are_told_apart_by_their_first_word() {
        for (text, format) in [
            (
                "Version 1\nFrom -1 1\nLength 2\nComponents 1\n{\n0\n1\n}\n",
                ".spi1d",
            ),
            ("CSPLUTV100\n1D\n0\n0\n0\n2\n0 0 0\n1 1 1\n", ".csp"),
        ] {
            let table = read_table(text.as_bytes(), "x.cube").unwrap();
            assert_eq!(table.format(), format);
            let lattice = table.lattice().unwrap();
            assert_eq!(lattice.size(), 33);
            assert_eq!(lattice.node([32, 16, 0])[..2], [1.0, 0.5]);
        }
        let rows: String = (0..8)
            .map(|i| format!("{} {} {} 0.5 0 1\n", i >> 2, i >> 1 & 1, i & 1))
            .collect();
        let spi3d = format!("SPILUT 1.0\n3 3\n2 2 2\n{rows}");
        let table = read_table(spi3d.as_bytes(), "").unwrap();
        assert_eq!(
            (table.format(), table.lattice().unwrap().size()),
            (".spi3d", 2)
        );
    }
}
