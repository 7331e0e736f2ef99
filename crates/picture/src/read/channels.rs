//! From the channels of a file to exactly three: grey expanded, alpha taken away.

use lookwright_colour::Result;

use crate::limits;

/// How samples lie in a decoded buffer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Layout {
    Grey,
    /// Red, green, blue.
    Rgb,
    /// Grey first, then this many samples that are dropped.
    GreyAnd(usize),
    /// Red, green, blue, then this many samples that are dropped.
    RgbAnd(usize),
}

impl Layout {
    /// Samples per pixel.
    pub(super) fn samples(self) -> usize {
        match self {
            Self::Grey => 1,
            Self::Rgb => 3,
            Self::GreyAnd(extra) => 1 + extra,
            Self::RgbAnd(extra) => 3 + extra,
        }
    }

    /// Appends one row of pixels in this layout to interleaved RGB.
    pub(super) fn append<T: Copy>(self, row: &[T], rgb: &mut Vec<T>) {
        match self {
            Self::Rgb => rgb.extend_from_slice(row),
            Self::Grey => rgb.extend(row.iter().flat_map(|&v| [v, v, v])),
            Self::GreyAnd(extra) => {
                rgb.extend(row.chunks_exact(1 + extra).flat_map(|p| [p[0], p[0], p[0]]));
            }
            Self::RgbAnd(extra) => {
                rgb.extend(row.chunks_exact(3 + extra).flat_map(|p| [p[0], p[1], p[2]]));
            }
        }
    }

    /// A whole buffer in this layout as interleaved RGB. What has more than three samples is
    /// packed where it lies.
    pub(super) fn to_rgb<T: Copy>(self, mut samples: Vec<T>) -> Result<Vec<T>> {
        match self {
            Self::Rgb => Ok(samples),
            Self::RgbAnd(extra) => {
                let step = 3 + extra;
                let pixels = samples.len() / step;
                for pixel in 1..pixels {
                    samples.copy_within(pixel * step..pixel * step + 3, pixel * 3);
                }
                samples.truncate(pixels * 3);
                Ok(samples)
            }
            Self::Grey | Self::GreyAnd(_) => {
                let mut rgb = Vec::new();
                limits::reserve(&mut rgb, samples.len() / self.samples() * 3)?;
                self.append(&samples, &mut rgb);
                Ok(rgb)
            }
        }
    }
}

/// The note for a picture whose alpha was dropped.
pub(super) const ALPHA_DROPPED: &str =
    "The picture's transparency was dropped; its colours were kept as stored.";
