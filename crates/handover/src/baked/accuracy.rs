//! How far a table is off, read by tetrahedra and trilinearly: by itself, and a half in a row with the
//! other half.

use lookwright_colour::Result;
use lookwright_colour::encoding::{EncodingId, Range};
use lookwright_table::health::Setting;
use lookwright_table::{Grid3, Interpolation};

use super::{Baked, setting};
use crate::difference::Difference;
use crate::{Mapping, Recipe, Split, chart};

/// Colours that the figures are of.
const SAMPLE: usize = 1500;

/// What programs are off by that read tables by tetrahedra, and trilinearly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Read {
    /// By tetrahedra, as nodes are fitted for.
    pub tetrahedral: Difference,
    /// Trilinearly.
    pub trilinear: Difference,
}

/// How far a table is off in ordinary colours ([`chart::ordinary`]).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Accuracy {
    /// The table by itself.
    pub alone: Read,
    /// For the half that comes first: both halves in a row, of the same grid, against the whole look.
    pub in_a_row: Option<Read>,
}

impl Accuracy {
    pub(super) fn of(baked: &Baked) -> Result<Self> {
        let recipe = baked.recipe();
        let places = baked.ordinary(SAMPLE)?;
        let mapping = baked.mapping();
        let alone = read(|how| {
            Difference::of(
                |place| baked.grid().apply(place, how),
                |place| mapping.at(place),
                |value| mapping.seen(value),
                setting(recipe),
                &places,
            )
        })?;
        let in_a_row = match recipe.split {
            Split::CameraToScan => Some(in_a_row(baked, &places)?),
            Split::Whole | Split::ScanToScreen => None,
        };
        Ok(Self { alone, in_a_row })
    }

    /// In words, a line each, for a table's header.
    pub(super) fn lines(&self) -> Vec<String> {
        let words = |read: &Read| {
            let (tetrahedral, trilinear) = (read.tetrahedral.words(), read.trilinear.words());
            format!("{tetrahedral}; read trilinearly {trilinear}.")
        };
        let mut lines = vec![format!(
            "Ordinary colours are off by {}",
            words(&self.alone)
        )];
        lines.extend(self.in_a_row.as_ref().map(|both| {
            let both = words(both);
            format!("In a row with the table from the scan, grid as here: {both}")
        }));
        lines
    }
}

/// Both ways of reading.
fn read(off: impl Fn(Interpolation) -> Result<Difference>) -> Result<Read> {
    Ok(Read {
        tetrahedral: off(Interpolation::Tetrahedral)?,
        trilinear: off(Interpolation::Trilinear)?,
    })
}

/// The half from the scan behind this one.
fn in_a_row(first: &Baked, places: &[[f32; 3]]) -> Result<Read> {
    let half = |split| Recipe {
        split,
        ..first.recipe().clone()
    };
    let second = half(Split::ScanToScreen);
    let grid: Grid3 = Mapping::new(&second)?.fitted(second.grid)?;
    let whole = Mapping::new(&half(Split::Whole))?;
    let setting: Setting = setting(&second);
    read(|how| {
        Difference::of(
            |place| grid.apply(first.grid().apply(place, how), how),
            |place| whole.at(place),
            |value| value,
            setting,
            places,
        )
    })
}

/// Ordinary colours as codes of the finished scan: where a table from the scan is held against its look.
pub(super) fn scanned(recipe: &Recipe, count: usize) -> Result<Vec<[f32; 3]>> {
    let first = Recipe {
        // Light knows no end that a camera's code has.
        encoding: EncodingId::AcesCg,
        range: Range::Full,
        split: Split::CameraToScan,
        scene: None,
        ..recipe.clone()
    };
    let mapping = Mapping::new(&first)?;
    let light = chart::ordinary(count, first.encoding, first.range)?;
    let code = |light| mapping.exact(light).map(|v| v.clamp(0.0, 1.0));
    Ok(light.into_iter().map(code).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Format;
    use lookwright_film::look::{Delivery, Look, StartingStock};
    use lookwright_table::cube;

    fn half(split: Split, grid: usize) -> Baked {
        Baked::new(Recipe {
            look: Look::starting(StartingStock::Overcast),
            encoding: EncodingId::LogC3,
            range: Range::Full,
            delivery: Delivery::default(),
            split,
            scene: None,
            grid,
        })
        .unwrap()
    }

    /// The two files, read back and put in a row by hand, are off by what the first one's header says.
    #[test]
    fn halves_in_a_row_are_off_by_what_the_header_says() {
        let first = half(Split::CameraToScan, 17);
        let read = |baked: &Baked| cube::read(&baked.write(Format::Cube).unwrap()).unwrap();
        let files = [read(&first), read(&half(Split::ScanToScreen, 17))];
        let whole = half(Split::Whole, 2);
        let how = Interpolation::Trilinear;
        let (mut sum, mut worst) = (0.0, Vec::new());
        for place in first.ordinary(SAMPLE).unwrap() {
            let got = files[1].apply(files[0].apply(place, how), how);
            let wanted = whole.mapping().exact(place);
            let off = [0, 1, 2].map(|c| f64::from((got[c] - wanted[c]).abs()) * 1023.0);
            sum += off.iter().sum::<f64>() / 3.0;
            worst.push(off.into_iter().fold(0.0, f64::max));
        }
        worst.sort_by(f64::total_cmp);
        let mean = sum / SAMPLE as f64;
        let p99 = worst[SAMPLE * 99 / 100 - 1];
        let words = format!("({mean:.1}, {p99:.1} codes of 10 bits).");
        let line = |comment: &&String| comment.starts_with("In a row");
        let told = files[0].comments.iter().find(line).unwrap();
        assert!(told.ends_with(&words), "{told} {words}");
    }

    #[test]
    fn every_half_says_how_far_it_is_off_and_a_denser_one_is_nearer() {
        for split in [Split::CameraToScan, Split::ScanToScreen] {
            let [coarse, fine] = [9, 33].map(|grid| *half(split, grid).accuracy().unwrap());
            assert!(coarse.alone.tetrahedral.p99 > fine.alone.tetrahedral.p99);
            assert!(coarse.alone.trilinear.p99_codes > fine.alone.trilinear.p99_codes);
            assert_eq!(fine.in_a_row.is_some(), split == Split::CameraToScan);
        }
    }
}
