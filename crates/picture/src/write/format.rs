//! The formats that pictures are written in: one list, from which the command line and the page take
//! names, endings and words.

use lookwright_colour::encoding::ScreenId;
use lookwright_colour::{Error, Result};
use lookwright_film::look::{ChoiceOption, Options};

/// What is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutFormat {
    /// JPEG, 8 bits, quality 1 ... 100; without chroma subsampling from quality 90 on.
    Jpeg {
        /// Quality of the usual scale, 1 ... 100.
        quality: u8,
    },
    /// PNG, 8 bits.
    Png8,
    /// PNG, 16 bits.
    Png16,
    /// TIFF, 16 bits, uncompressed.
    Tiff16,
    /// TIFF, 32-bit floats, uncompressed.
    TiffF32,
    /// OpenEXR, half floats, PIZ compression.
    ExrHalf,
    /// OpenEXR, 32-bit floats, RLE compression.
    ExrF32,
    /// DPX, 10 bits.
    Dpx10,
    /// DPX, 12 bits.
    Dpx12,
    /// DPX, 16 bits.
    Dpx16,
    /// Samples of 8 bits and nothing else.
    Raw8,
    /// Samples of 16 bits and nothing else.
    Raw16,
    /// Floats of 32 bits and nothing else.
    RawF32,
}

/// The quality of a JPEG where none is chosen (common practice, no source).
pub const JPEG_QUALITY: u8 = 92;

/// Bits of a written picture's numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// Codes of 8 bits.
    Eight,
    /// Codes of 10 bits.
    Ten,
    /// Codes of 12 bits.
    Twelve,
    /// Codes of 16 bits, or half floats.
    Sixteen,
    /// Floats of 32 bits.
    F32,
}

impl Options for Depth {
    const OPTIONS: &'static [ChoiceOption] = &[
        ChoiceOption {
            id: "8",
            label: "8 bits",
        },
        ChoiceOption {
            id: "10",
            label: "10 bits",
        },
        ChoiceOption {
            id: "12",
            label: "12 bits",
        },
        ChoiceOption {
            id: "16",
            label: "16 bits",
        },
        ChoiceOption {
            id: "f32",
            label: "floats",
        },
    ];
    const ALL: &'static [Self] = &[
        Self::Eight,
        Self::Ten,
        Self::Twelve,
        Self::Sixteen,
        Self::F32,
    ];
    fn id(self) -> &'static str {
        Self::OPTIONS[self as usize].id
    }
}

/// What a format is to those who choose one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FormatInfo {
    /// The format; JPEG at [`JPEG_QUALITY`].
    pub format: OutFormat,
    /// Its name in options.
    pub id: &'static str,
    /// Its name for people.
    pub label: &'static str,
    /// Endings of its files, the one that is written first.
    pub endings: &'static [&'static str],
    /// Its media type (IANA's, where there is one).
    pub media: &'static str,
    /// Bits of its numbers.
    pub depth: Depth,
    /// Whether they are floats, which hold light that has no upper end.
    pub floats: bool,
}

/// Every format. Of those with one ending, the first is written where no depth is chosen.
pub const FORMATS: [FormatInfo; 10] = [
    FormatInfo {
        format: OutFormat::Png8,
        id: "png8",
        label: "PNG 8",
        endings: &["png"],
        media: "image/png",
        depth: Depth::Eight,
        floats: false,
    },
    FormatInfo {
        format: OutFormat::Png16,
        id: "png16",
        label: "PNG 16",
        endings: &["png"],
        media: "image/png",
        depth: Depth::Sixteen,
        floats: false,
    },
    FormatInfo {
        format: OutFormat::Jpeg {
            quality: JPEG_QUALITY,
        },
        id: "jpeg",
        label: "JPEG",
        endings: &["jpg", "jpeg"],
        media: "image/jpeg",
        depth: Depth::Eight,
        floats: false,
    },
    FormatInfo {
        format: OutFormat::Tiff16,
        id: "tiff16",
        label: "TIFF 16",
        endings: &["tif", "tiff"],
        media: "image/tiff",
        depth: Depth::Sixteen,
        floats: false,
    },
    FormatInfo {
        format: OutFormat::TiffF32,
        id: "tiff-f32",
        label: "TIFF float",
        endings: &["tif", "tiff"],
        media: "image/tiff",
        depth: Depth::F32,
        floats: true,
    },
    FormatInfo {
        format: OutFormat::ExrF32,
        id: "exr-f32",
        label: "OpenEXR float",
        endings: &["exr"],
        media: "image/x-exr",
        depth: Depth::F32,
        floats: true,
    },
    FormatInfo {
        format: OutFormat::ExrHalf,
        id: "exr-half",
        label: "OpenEXR half",
        endings: &["exr"],
        media: "image/x-exr",
        depth: Depth::Sixteen,
        floats: true,
    },
    dpx(OutFormat::Dpx10, "dpx10", "DPX 10", Depth::Ten),
    dpx(OutFormat::Dpx12, "dpx12", "DPX 12", Depth::Twelve),
    dpx(OutFormat::Dpx16, "dpx16", "DPX 16", Depth::Sixteen),
];

/// The formats of DPX differ by their depth alone.
const fn dpx(format: OutFormat, id: &'static str, label: &'static str, depth: Depth) -> FormatInfo {
    FormatInfo {
        format,
        id,
        label,
        endings: &["dpx"],
        media: "image/x-dpx",
        depth,
        floats: false,
    }
}

/// Raw frames, which no file holds: for pipes and for programs that take samples.
pub const RAW_FORMATS: [FormatInfo; 3] = [
    raw(OutFormat::Raw8, "rgb8", "raw 8", Depth::Eight),
    raw(OutFormat::Raw16, "rgb16", "raw 16", Depth::Sixteen),
    raw(OutFormat::RawF32, "rgbf32", "raw float", Depth::F32),
];

const fn raw(format: OutFormat, id: &'static str, label: &'static str, depth: Depth) -> FormatInfo {
    FormatInfo {
        format,
        id,
        label,
        endings: &[],
        media: "application/octet-stream",
        depth,
        floats: matches!(depth, Depth::F32),
    }
}

impl OutFormat {
    /// What it is to those who choose it.
    pub fn info(self) -> &'static FormatInfo {
        let same = |info: &&FormatInfo| {
            core::mem::discriminant(&info.format) == core::mem::discriminant(&self)
        };
        let all = || FORMATS.iter().chain(&RAW_FORMATS);
        all().find(same).unwrap_or(&FORMATS[0])
    }

    /// The format of this name, a JPEG at this quality.
    ///
    /// # Errors
    /// If there is none; the sentence lists the names there are.
    pub fn from_id(id: &str, quality: u8) -> Result<Self> {
        let all = || FORMATS.iter().chain(&RAW_FORMATS);
        let found = all().find(|info| info.id == id);
        let found = found.ok_or_else(|| {
            Error::not_one_of(&format!("\"{id}\""), id, &FORMATS.map(|info| info.id))
        })?;
        Ok(found.format.at(quality))
    }

    /// The format of a file with this ending, in any case, at a depth or the ending's usual one.
    ///
    /// # Errors
    /// If no format has the ending, or none has it at that depth.
    pub fn from_ending(ending: &str, depth: Option<Depth>, quality: u8) -> Result<Self> {
        let ending = ending.to_lowercase();
        let holds = |info: &&FormatInfo| info.endings.contains(&&*ending);
        let depths: Vec<_> = FORMATS
            .iter()
            .filter(holds)
            .map(|info| info.depth)
            .collect();
        let Some(usual) = depths.first() else {
            let endings = Self::endings().map(|ending| format!(".{ending}"));
            return Err(Error::new(format!(
                "end the name with one of {}",
                endings.collect::<Vec<_>>().join(", ")
            )));
        };
        let wanted = depth.unwrap_or(*usual);
        let found = FORMATS.iter().filter(holds).find(|i| i.depth == wanted);
        found.map(|info| info.format.at(quality)).ok_or_else(|| {
            let depths: Vec<_> = depths.iter().map(|depth| depth.id()).collect();
            let (wanted, depths) = (wanted.id(), depths.join(" and "));
            Error::new(format!(
                ".{ending} does not hold depth {wanted}; its depths are {depths}"
            ))
        })
    }

    /// The endings that are written, each once.
    pub fn endings() -> impl Iterator<Item = &'static str> {
        let ending = |place: usize| FORMATS[place].endings[0];
        (0..FORMATS.len())
            .filter(move |&place| (0..place).all(|before| ending(before) != ending(place)))
            .map(ending)
    }

    /// A JPEG at this quality; others as they are.
    fn at(self, quality: u8) -> Self {
        match self {
            Self::Jpeg { .. } => Self::Jpeg { quality },
            other => other,
        }
    }

    /// Where a picture may be cut into parts that are written by themselves: at every so many
    /// rows. `None` if it may not.
    pub fn part_rows(self) -> Option<u32> {
        matches!(self, Self::Jpeg { .. }).then_some(super::jpeg::PART_ROWS as u32)
    }

    /// The most bytes that are held for each pixel while its file is made: about twice the file's
    /// where it grows as it comes, since what there is of it then is moved now and then.
    pub(crate) fn held_bytes(self) -> u64 {
        match self {
            Self::Jpeg { .. } | Self::Png8 | Self::Raw8 => 6,
            Self::Png16 | Self::ExrHalf | Self::Raw16 => 12,
            Self::Tiff16 | Self::Dpx12 | Self::Dpx16 => 6,
            Self::Dpx10 => 4,
            Self::TiffF32 => 12,
            Self::ExrF32 | Self::RawF32 => 24,
        }
    }

    /// Why code for this screen is not written so, if it is not: ITU-R BT.2100-2 has PQ and HLG in 10 and 12
    /// bits alone.
    #[must_use]
    pub fn refusal(self, screen: ScreenId) -> Option<&'static str> {
        (self.is_eight_bit() && screen.info().peak.is_some()).then_some(
            "PQ and HLG take 10 bits or more (ITU-R BT.2100-2), as 8 show bands: write .png or .tif with \
             depth 16, .dpx, or .exr.",
        )
    }

    /// Whether samples have eight bits.
    pub(crate) fn is_eight_bit(self) -> bool {
        self.info().depth == Depth::Eight
    }

    /// Whether samples are floats.
    pub(crate) fn is_float(self) -> bool {
        self.info().floats
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_format_is_found_by_its_name_and_by_its_ending_and_depth() {
        for info in &FORMATS {
            assert_eq!(OutFormat::from_id(info.id, JPEG_QUALITY), Ok(info.format));
            assert_eq!(info.format.info(), info);
            for ending in info.endings {
                let found = OutFormat::from_ending(ending, Some(info.depth), JPEG_QUALITY);
                assert_eq!(found, Ok(info.format), "{ending}");
            }
        }
        assert_eq!(
            OutFormat::from_id("jpeg", 70),
            Ok(OutFormat::Jpeg { quality: 70 })
        );
        assert!(OutFormat::from_id("gif", 70).is_err());
    }

    /// ITU-R BT.2100-2, tables 9 and 10: codes of 10 or 12 bits.
    #[test]
    fn code_of_high_dynamic_range_is_not_written_in_8_bits() {
        for info in FORMATS.iter().chain(&RAW_FORMATS) {
            for (screen, refused) in [
                (ScreenId::Pq1000, info.depth == Depth::Eight),
                (ScreenId::Hlg1000, info.depth == Depth::Eight),
                (ScreenId::Rec2020, false),
            ] {
                assert_eq!(
                    info.format.refusal(screen).is_some(),
                    refused,
                    "{}",
                    info.id
                );
            }
        }
    }

    #[test]
    fn an_ending_has_a_usual_depth_and_refuses_what_it_can_not_hold() {
        let format = |ending: &str, depth| OutFormat::from_ending(ending, depth, 90);
        assert_eq!(format("PNG", None), Ok(OutFormat::Png8));
        assert_eq!(format("tiff", None), Ok(OutFormat::Tiff16));
        assert_eq!(format("exr", None), Ok(OutFormat::ExrF32));
        let refusal = format("jpg", Some(Depth::Sixteen)).unwrap_err();
        assert_eq!(
            refusal.message(),
            ".jpg does not hold depth 16; its depths are 8"
        );
        let refusal = format("gif", None).unwrap_err();
        assert_eq!(
            refusal.message(),
            "end the name with one of .png, .jpg, .tif, .exr, .dpx"
        );
    }
}
