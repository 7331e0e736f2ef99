//! Gain maps: what a finished JPEG carries so that its true lights can be had back.
//!
//! A second, small JPEG behind the picture says by how much each place has to be brightened; where it
//! lies is in the multi-picture index (CIPA DC-007), what its codes mean in ISO 21496-1's block or in
//! XMP (namespace `hdr-gain-map/1.0`). With `g` the map's code, 0 to 1, per channel:
//!
//! ```text
//! boost = min + (max - min) g^(1/gamma)                       in stops
//! light = (sdr + offset_sdr) 2^boost - offset_hdr             linear, the picture's white is 1
//! ```
//!
//! That is the formula of ISO 21496-1, 6, at its full weight: film wants all the light that there is.
//! The light is kept as 16-bit ACEScct, which reaches 7.8 stops above white.

mod index;
mod metadata;

use lookwright_colour::encoding::{Curve, EncodingId};
use lookwright_colour::space::{Cat, primaries, rgb_to_rgb};
use lookwright_colour::{Error, Mat3, Result, Rgb};

use crate::colour::ColourHint;
use crate::decoded::Samples;
use crate::limits;
use crate::orient::upright;

pub(crate) use index::{announced, find};
pub(crate) use metadata::Metadata;

/// A decoded gain map.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct GainMap {
    pub(crate) width: u32,
    pub(crate) height: u32,
    /// `3 * width * height` codes; a grey map has three alike.
    pub(crate) samples: Vec<u8>,
    pub(crate) metadata: Metadata,
}

impl GainMap {
    /// Turned as its picture is.
    ///
    /// # Errors
    /// When the memory can't be had.
    pub(crate) fn upright(self, orientation: u8) -> Result<Self> {
        let (samples, width, height) = upright(
            Samples::U8(self.samples),
            self.width,
            self.height,
            orientation,
        )?;
        let Samples::U8(samples) = samples else {
            return Err(Error::new("turning a picture changed its kind"));
        };
        Ok(Self {
            width,
            height,
            samples,
            ..self
        })
    }

    /// The light of a picture of `width` columns in the code of `hint`, as 16-bit ACEScct; the picture as
    /// it was, and a note, where that code is none that a gain map goes with.
    ///
    /// # Errors
    /// When the memory can't be had.
    pub(crate) fn applied(
        &self,
        samples: Samples,
        width: u32,
        hint: ColourHint,
        notes: &mut Vec<String>,
    ) -> Result<(Samples, ColourHint)> {
        let encoding = match &hint {
            ColourHint::Untagged => EncodingId::Srgb,
            ColourHint::Known { encoding, .. } => *encoding,
        };
        let space = match encoding {
            EncodingId::Srgb => &primaries::BT709,
            EncodingId::DisplayP3 => &encoding.info().primaries,
            _ => {
                notes.push(
                    "Its gain map was not used: it goes with sRGB or Display P3 pictures."
                        .to_owned(),
                );
                return Ok((samples, hint));
            }
        };
        let to_ap1 = rgb_to_rgb(space, &primaries::AP1, Cat::Bradford);
        let out = self.boosted(&samples, width, &to_ap1)?;
        let most = self.metadata.max.iter().copied().fold(0.0, f64::max);
        let reason = format!(
            "its gain map has the light that the picture lost, up to {most:.1} stops above white, and was used"
        );
        let encoding = EncodingId::AcesCct;
        Ok((Samples::U16(out), ColourHint::Known { encoding, reason }))
    }

    fn boosted(&self, samples: &Samples, width: u32, to_ap1: &Mat3) -> Result<Vec<u16>> {
        let mut out: Vec<u16> = Vec::new();
        limits::reserve(&mut out, samples.len())?;
        let width = width as usize;
        let height = samples.len() / 3 / width.max(1);
        let gains = self.gains();
        let [columns, rows] = [(self.width, width), (self.height, height)].map(|(map, picture)| {
            (0..picture)
                .map(|i| between(i, picture, map as usize))
                .collect()
        });
        let (columns, rows): (Vec<Between>, Vec<Between>) = (columns, rows);
        let to_ap1 = to_ap1.for_pixels();
        for (y, row) in rows.iter().enumerate() {
            for (x, column) in columns.iter().enumerate() {
                let light: [f32; 3] = core::array::from_fn(|c| {
                    let code = samples.normalised(3 * (y * width + x) + c);
                    let gain = self.at(&gains[c], c, column, row);
                    let offsets = self.metadata.offsets[c].map(|v| v as f32);
                    (Curve::Srgb.decode(code) + offsets[0]) * gain - offsets[1]
                });
                for ap1 in to_ap1.apply(Rgb::from_array(light)).to_array() {
                    let code = Curve::AcesCct.encode(ap1);
                    out.push((code.clamp(0.0, 1.0) * 65535.0 + 0.5) as u16);
                }
            }
        }
        Ok(out)
    }

    /// For each channel, the stops of boost of each code.
    fn gains(&self) -> [[f32; 256]; 3] {
        let Metadata {
            min, max, gamma, ..
        } = &self.metadata;
        core::array::from_fn(|c| {
            core::array::from_fn(|code| {
                let recovered = libm::pow(code as f64 / 255.0, 1.0 / gamma[c]);
                (min[c] + (max[c] - min[c]) * recovered) as f32
            })
        })
    }

    /// The gain of one channel between four places of the map, which are mixed in stops.
    fn at(&self, gains: &[f32; 256], channel: usize, column: &Between, row: &Between) -> f32 {
        let stops = |x: usize, y: usize| {
            gains[usize::from(self.samples[3 * (y * self.width as usize + x) + channel])]
        };
        let along = |y: usize| {
            let (low, high) = (stops(column.low, y), stops(column.high, y));
            low + (high - low) * column.share
        };
        let (low, high) = (along(row.low), along(row.high));
        lookwright_colour::lane::Lane::exp2(low + (high - low) * row.share)
    }
}

/// A place between two of the map's, and how near the second is.
struct Between {
    low: usize,
    high: usize,
    share: f32,
}

/// Pixels' middles lie on each other; beyond the outermost ones the map goes on as it is there.
fn between(i: usize, picture: usize, map: usize) -> Between {
    let place = (i as f64 + 0.5) * map as f64 / picture as f64 - 0.5;
    let place = place.clamp(0.0, (map - 1) as f64);
    let low = place as usize;
    Between {
        low,
        high: (low + 1).min(map - 1),
        share: (place - low as f64) as f32,
    }
}
