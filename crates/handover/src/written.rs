//! A table's file in each of the formats.

use lookwright_colour::{Error, Result};
use lookwright_picture::OutColour;
use lookwright_table::cdl::{self, Correction};
use lookwright_table::clf::{self, Lut3d, ProcessList, ProcessNode};
use lookwright_table::csp::{self, Csp, CspTable};
use lookwright_table::health::halton;
use lookwright_table::{CURVE_SIZE_MAX, Cube, Curve1, Interpolation, Label, cube, hald, icc, spi};

use crate::png::png16;
use crate::{Baked, Format, reduce, scene_light};

/// Points of a `.csp`'s curves; one of them stands on zero light (chosen: a stop has about 70).
const CSP_POINTS: usize = 1025;
/// Samples of a `.spi1d`, and colours that it is held against.
const SPI1D_SAMPLES: usize = 4096;
const COMPARED: usize = 2048;

impl Baked {
    /// The bytes of the table's file.
    ///
    /// # Errors
    /// One sentence if the format cannot carry this table.
    pub fn write(&self, format: Format) -> Result<Vec<u8>> {
        self.check_light(format)?;
        let label = self.label();
        match format {
            Format::Cube => self.write_cube(&label),
            Format::Clf => self.write_clf(&label),
            Format::Csp => self.write_csp(&label),
            Format::Spi3d => spi::write_grid(self.grid(), &label).map(String::into_bytes),
            Format::Spi1d => self.write_spi1d(&label),
            Format::Icc => icc::write_link(self.grid(), &label),
            Format::Lattice => self.write_lattice(&label),
            Format::Cdl => self.write_cdl(&label),
        }
    }

    /// Light that goes in takes a shaper, light that comes out what only a CLF has.
    fn check_light(&self, format: Format) -> Result<()> {
        let recipe = self.recipe();
        if let Some(scene) = recipe.scene.filter(|_| recipe.gives_scene_light())
            && format != Format::Clf
        {
            return Err(Error::new(format!(
                "{} is light, which only .clf can make of what a lattice holds: write .clf, or \
                 choose acescct",
                scene.encoding.id()
            )));
        }
        if self.mapping().shaper().is_none() || format.takes_light() {
            return Ok(());
        }
        let what = match format {
            Format::Cdl => {
                return Err(Error::new(
                    "an ASC CDL is not written for scene light: choose an encoding of codes",
                ));
            }
            Format::Lattice => "a lattice picture",
            Format::Icc => "a device link",
            Format::Spi1d => "a .spi1d of a look",
            _ => "a .spi3d, which has no shaper,",
        };
        Err(Error::new(format!(
            "{what} takes codes from 0 to 1, and {} is light: write .clf, .cube or .csp",
            recipe.encoding.id()
        )))
    }

    fn write_cube(&self, label: &Label) -> Result<Vec<u8>> {
        let curve = self.mapping().shaper().map(|s| s.curve(CURVE_SIZE_MAX));
        let table = Cube {
            curve: curve.transpose()?,
            ..Cube::of_grid(self.grid().clone())
        };
        cube::write(&table, label).map(String::into_bytes)
    }

    fn write_clf(&self, label: &Label) -> Result<Vec<u8>> {
        let recipe = self.recipe();
        let mut nodes = Vec::new();
        if let Some(shaper) = self.mapping().shaper() {
            nodes.extend(shaper.nodes()?);
        }
        nodes.push(ProcessNode::Lut3d(Lut3d {
            grid: self.grid().clone(),
            how: Interpolation::Tetrahedral,
        }));
        if let Some(scene) = recipe.scene.filter(|_| recipe.gives_scene_light()) {
            nodes.extend(scene_light::nodes(scene.encoding)?);
        }
        clf::write(&ProcessList::of_nodes(nodes), label).map(String::into_bytes)
    }

    fn write_csp(&self, label: &Label) -> Result<Vec<u8>> {
        let prelut = self.mapping().shaper().map(|s| s.prelut(CSP_POINTS));
        let prelut = prelut.transpose()?;
        let csp = Csp {
            prelut: prelut.map(|curve| [curve.clone(), curve.clone(), curve]),
            table: CspTable::Grid(self.grid().clone()),
        };
        csp::write(&csp, label).map(String::into_bytes)
    }

    fn write_spi1d(&self, label: &Label) -> Result<Vec<u8>> {
        let steps = (SPI1D_SAMPLES - 1) as f32;
        let greys = (0..SPI1D_SAMPLES).map(|i| self.mapping().exact([i as f32 / steps; 3]));
        let curve = Curve1::from_samples([0.0; 3], [1.0; 3], greys.collect())?;
        for input in halton(COMPARED) {
            let (wanted, got) = (self.mapping().exact(input), curve.apply(input));
            if (0..3).any(|c| (wanted[c] - got[c]).abs() > reduce::EXACT_WITHIN) {
                return Err(Error::new(
                    "this mixes channels, which three curves cannot: write .spi3d, .cube or .clf",
                ));
            }
        }
        spi::write_curve(&curve, label).map(String::into_bytes)
    }

    fn write_lattice(&self, label: &Label) -> Result<Vec<u8>> {
        let codes = hald::to_pixels(self.grid())?;
        let side = libm::sqrt((codes.len() / 3) as f64) as usize;
        let words = format!("{}: {} to {}", label.title, label.input, label.output);
        png16(side, &codes, OutColour::Unmarked, false, &words)
    }

    fn write_cdl(&self, label: &Label) -> Result<Vec<u8>> {
        let nearest = reduce::nearest(|code| self.mapping().exact(code))?;
        if !nearest.is_exact() {
            return Err(Error::new(format!(
                "this does not reduce to an ASC CDL: {}; write .cube or .clf",
                nearest.told()
            )));
        }
        let correction = Correction {
            id: label.title.clone(),
            descriptions: vec![
                format!("Input: {}", label.input),
                format!("Output: {}", label.output),
                format!("Fingerprint: {}", label.fingerprint),
            ],
            cdl: nearest.cdl,
            remarks: Vec::new(),
        };
        Ok(cdl::write_cc(&correction).into_bytes())
    }
}
