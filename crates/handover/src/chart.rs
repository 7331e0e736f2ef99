//! A test chart in a camera's encoding, and what should come of it.
//!
//! ```text
//! row 1      greys in whole stops, -6 ... +5 from mid-grey
//! row 2      greys in half stops, -2.75 ... +2.75
//! rows 3-8   twelve hues at three purities, at mid-grey and 1.5 stops above
//! ```
//!
//! Purities are those of surfaces; the purest lights, on which every table is at its worst, are not
//! on a chart that proves a set-up. The patches are flat, so a program's scaling does not change
//! them.

mod patches;

use lookwright_colour::encoding::{EncodingClass, EncodingId, Range};
use lookwright_colour::space::{Cat, primaries, rgb_to_rgb};
use lookwright_colour::{Result, Rgb};
use lookwright_picture::{OutColour, OutFormat, PictureWriter, Rows, WriteOptions};
use lookwright_table::health::halton;

use crate::baked::output_words;
pub use patches::{Expected, Patch, codes_per_stop, patches};

use crate::png::png16;
use crate::{Mapping, Recipe};

/// Patches across and down.
const COLUMNS: usize = 12;
const ROWS: usize = 8;
/// Pixels along a patch's edge.
const PATCH_PX: usize = 40;
/// Column of mid-grey in the first row.
const MID_GREY_COLUMN: usize = 6;
/// Purities of the coloured rows.
const PURITIES: [f64; 3] = [0.2, 0.4, 0.6];
/// Legal range is taken as at 10 bits.
const LEGAL_BITS: u32 = 10;

/// The chart in one encoding and range: what its file holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    encoding: EncodingId,
    range: Range,
    patches: Vec<[f32; 3]>,
}

impl Chart {
    /// The chart in an encoding. Codes are rounded to 16 bits, as in the file.
    ///
    /// # Errors
    /// None for the ranges there are.
    pub fn new(encoding: EncodingId, range: Range) -> Result<Self> {
        let scene: Vec<_> = (0..COLUMNS * ROWS).map(scene_patch).collect();
        let mut patches = encoded(&scene, encoding, range)?;
        if encoding.info().class != EncodingClass::SceneLinear {
            for value in patches.iter_mut().flatten() {
                *value = f32::from(code16(*value)) / 65535.0;
            }
        }
        Ok(Self {
            encoding,
            range,
            patches,
        })
    }

    /// What stands in the chart's patches, row by row.
    #[must_use]
    pub fn patches(&self) -> &[[f32; 3]] {
        &self.patches
    }

    /// What stands in the patch of mid-grey.
    #[must_use]
    pub fn mid_grey(&self) -> [f32; 3] {
        self.patches[MID_GREY_COLUMN]
    }

    /// The chart's file and its name's ending: PNG of 16 bits, OpenEXR for scene light.
    ///
    /// # Errors
    /// If the picture cannot be written.
    pub fn file(&self) -> Result<(&'static str, Vec<u8>)> {
        let info = self.encoding.info();
        let words = format!("Test chart, {}", info.label);
        if info.class != EncodingClass::SceneLinear {
            let codes = spread(&self.patches, code16);
            let png = png16(
                COLUMNS * PATCH_PX,
                &codes,
                OutColour::Unmarked,
                false,
                &words,
            )?;
            return Ok(("png", png));
        }
        let options = WriteOptions {
            colour: OutColour::Of(info.encoding),
            legal_range: false,
            description: Some(words),
            ..WriteOptions::default()
        };
        let (width, height) = (COLUMNS * PATCH_PX, ROWS * PATCH_PX);
        let mut writer =
            PictureWriter::new(OutFormat::ExrF32, width as u32, height as u32, &options)?;
        writer.push_rows(Rows::F32(&spread(&self.patches, |v| v)))?;
        Ok(("exr", writer.finish()?))
    }

    /// The picture that the exact path makes of the chart: PNG of 16 bits in the delivery's code.
    ///
    /// # Errors
    /// If the picture cannot be written.
    pub fn expected(&self, mapping: &Mapping, recipe: &Recipe) -> Result<Vec<u8>> {
        let out: Vec<_> = self.patches.iter().map(|&p| mapping.exact(p)).collect();
        let display = &recipe.delivery.display;
        let words = format!("Test chart after the table, {}", output_words(recipe));
        png16(
            COLUMNS * PATCH_PX,
            &spread(&out, code16),
            OutColour::Screen(display.screen),
            display.range == lookwright_film::look::CodeRange::Legal,
            &words,
        )
    }
}

/// Ordinary colours in an encoding: hues inside Rec.709, 7 stops below mid-grey to 3 above.
///
/// # Errors
/// None for the ranges there are.
pub fn ordinary(count: usize, encoding: EncodingId, range: Range) -> Result<Vec<[f32; 3]>> {
    let scene: Vec<_> = halton(count)
        .into_iter()
        .map(|[stops, hue, purity]| {
            let stops = f64::from(stops) * 10.0 - 7.0;
            coloured(stops, f64::from(hue), f64::from(purity) * 0.8)
        })
        .collect();
    encoded(&scene, encoding, range)
}

/// Scene light (AP1) in an encoding and range; codes are held to 0 ... 1.
///
/// # Errors
/// None for the ranges there are.
pub fn encoded(
    scene_lin: &[[f64; 3]],
    encoding: EncodingId,
    range: Range,
) -> Result<Vec<[f32; 3]>> {
    let (matrix, curve) = encoding.from_scene();
    let mixing = encoding
        .unmixing()
        .and_then(|m| m.inverse())
        .map(|m| m.for_pixels());
    let class = encoding.info().class;
    let to_code = range.to_code(class, LEGAL_BITS)?;
    let one = |scene: &[f64; 3]| {
        let light = matrix.apply(*scene).map(|v| v as f32);
        let code = Rgb::from_array(light).map(|v| curve.encode(v));
        let code = mixing.map_or(code, |mixing| mixing.apply(code)).to_array();
        match class {
            EncodingClass::SceneLinear => code,
            _ => code.map(|c| ((c - to_code.offset) / to_code.gain).clamp(0.0, 1.0)),
        }
    };
    Ok(scene_lin.iter().map(one).collect())
}

fn scene_patch(index: usize) -> [f64; 3] {
    let (row, column) = (index / COLUMNS, index % COLUMNS);
    let along = column as f64;
    match row {
        0 => coloured(along - MID_GREY_COLUMN as f64, 0.0, 0.0),
        1 => coloured(along / 2.0 - 2.75, 0.0, 0.0),
        _ => {
            let purity = PURITIES[(row - 2) % 3];
            let stops = if row < 5 { 0.0 } else { 1.5 };
            coloured(stops, along / COLUMNS as f64, purity)
        }
    }
}

/// AP1 light of the luminance of a grey `stops` above mid-grey, of a hue (0 ... 1 around the
/// Rec.709 primaries) and a purity (0 grey, 1 at the edge of Rec.709).
pub(crate) fn coloured(stops: f64, hue: f64, purity: f64) -> [f64; 3] {
    let to_ap1 = rgb_to_rgb(&primaries::BT709, &primaries::AP1, Cat::Bradford);
    let at = |centre: f64| {
        let away = (hue - centre).abs();
        let away = away.min(1.0 - away) * 6.0;
        (2.0 - away).clamp(0.0, 1.0)
    };
    let edge = [at(0.0), at(1.0 / 3.0), at(2.0 / 3.0)];
    let mixed = edge.map(|v| 1.0 - purity + purity * v);
    // Luminance weights of ITU-R BT.709.
    let luminance = 0.2126 * mixed[0] + 0.7152 * mixed[1] + 0.0722 * mixed[2];
    let scale = 0.18 * libm::exp2(stops) / luminance;
    to_ap1.apply(mixed.map(|v| v * scale))
}

fn code16(value: f32) -> u16 {
    (value.clamp(0.0, 1.0) * 65535.0 + 0.5) as u16
}

/// Patches as interleaved pixels.
fn spread<T: Copy>(patches: &[[f32; 3]], written: impl Fn(f32) -> T) -> Vec<T> {
    let mut out = Vec::with_capacity(patches.len() * PATCH_PX * PATCH_PX * 3);
    for row in patches.chunks(COLUMNS) {
        for _ in 0..PATCH_PX {
            for patch in row {
                for _ in 0..PATCH_PX {
                    out.extend(patch.map(&written));
                }
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mid-grey's published code points: LogC3 EI 800 400 of 1023 (ARRI, 2012), S-Log3 420
    /// (Sony, 2013), V-Log 433 (Panasonic, V-Log/V-Gamut reference manual, 2014).
    #[test]
    fn mid_grey_stands_at_the_published_codes() {
        for (encoding, code) in [
            (EncodingId::LogC3, 400.0),
            (EncodingId::SLog3SGamut3Cine, 420.0),
            (EncodingId::VLog, 433.0),
        ] {
            let chart = Chart::new(encoding, Range::Full).unwrap();
            for value in chart.mid_grey() {
                assert!((value * 1023.0 - code).abs() < 0.6, "{encoding:?} {value}");
            }
        }
    }

    #[test]
    fn the_file_holds_the_patches() {
        for encoding in [EncodingId::LogC4, EncodingId::AcesCg] {
            let chart = Chart::new(encoding, Range::Full).unwrap();
            let picture = lookwright_picture::decode(&chart.file().unwrap().1).unwrap();
            for (i, patch) in chart.patches().iter().enumerate() {
                let (x, y) = (i % COLUMNS * PATCH_PX + 20, i / COLUMNS * PATCH_PX + 20);
                assert_eq!(picture.pixel(x as u32, y as u32), *patch);
            }
        }
    }
}
