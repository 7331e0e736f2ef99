//! The formats that tables are written in.

use lookwright_film::look::{ChoiceOption, Options};

/// A format that a table is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// `.cube`; scene light goes through a 1D table of 65536 samples first.
    Cube,
    /// Common LUT Format; scene light goes through exact logarithms first.
    Clf,
    /// `.csp`; scene light goes through curves of 1025 points first.
    Csp,
    /// `.spi3d`, for codes.
    Spi3d,
    /// `.spi1d`, where the recipe is three curves.
    Spi1d,
    /// An ICC device link, for codes.
    Icc,
    /// The identity lattice as a 16-bit PNG, for grids that are squares: 4, 9, 16 ... 121.
    Lattice,
    /// ASC CDL, where the recipe is one.
    Cdl,
}

impl Options for Format {
    const OPTIONS: &'static [ChoiceOption] = &[
        ChoiceOption {
            id: "cube",
            label: ".cube",
        },
        ChoiceOption {
            id: "clf",
            label: "CLF",
        },
        ChoiceOption {
            id: "csp",
            label: ".csp",
        },
        ChoiceOption {
            id: "spi3d",
            label: ".spi3d",
        },
        ChoiceOption {
            id: "spi1d",
            label: ".spi1d",
        },
        ChoiceOption {
            id: "icc",
            label: "ICC device link",
        },
        ChoiceOption {
            id: "png",
            label: "PNG lattice picture",
        },
        ChoiceOption {
            id: "cc",
            label: "ASC CDL",
        },
    ];
    const ALL: &'static [Self] = &[
        Self::Cube,
        Self::Clf,
        Self::Csp,
        Self::Spi3d,
        Self::Spi1d,
        Self::Icc,
        Self::Lattice,
        Self::Cdl,
    ];
    /// Also the ending of its files.
    fn id(self) -> &'static str {
        Self::OPTIONS[self as usize].id
    }
}

impl Format {
    /// What it takes and how it is read, for whoever loads it.
    #[must_use]
    pub fn about(self) -> &'static str {
        match self {
            Self::Cube => {
                "light goes through a 1D table before the lattice, which not every reader of .cube \
                 knows; the reader chooses how it reads between nodes: choose tetrahedra"
            }
            Self::Clf => "exact for light; says that it is to be read by tetrahedra",
            Self::Csp => {
                "light goes through curves before the lattice; the reader chooses how it reads \
                 between nodes: choose tetrahedra"
            }
            Self::Spi3d => {
                "for codes, as it has no shaper; the reader chooses how it reads between nodes: choose \
                 tetrahedra"
            }
            Self::Spi1d => "three curves that do not mix channels",
            Self::Icc => {
                "a device link for still-picture programs: codes in, codes out, held to 0 ... 1 and \
                 rounded to 16 bits; give it pictures without converting them first"
            }
            Self::Lattice => {
                "for codes, held to 0 ... 1 and rounded to 16 bits; the picture must not be scaled, \
                 reduced to 8 bits or converted"
            }
            Self::Cdl => "ten numbers, where the look is no more than that",
        }
    }

    /// Whether it can put a shaper before its lattice, which scene light needs.
    #[must_use]
    pub fn takes_light(self) -> bool {
        matches!(self, Self::Cube | Self::Clf | Self::Csp)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_options_stand_in_the_order_of_the_formats() {
        assert_eq!(Format::ALL.len(), Format::OPTIONS.len());
        for (place, format) in Format::ALL.iter().enumerate() {
            assert_eq!(*format as usize, place);
        }
        assert_eq!(Format::from_id("csp"), Some(Format::Csp));
    }
}
