//! Scopes: how a picture's numbers are spread, as they leave a stage.
//!
//! - Waveform: for each column of the picture and each level of the stage's axis, how many pixels are
//!   there; red, green and blue side by side.
//! - Histogram: how many pixels are at each level.
//!
//! Counts are exact; the pictures of them brighten with the square root of the count, so that few
//! pixels are seen beside many.

use lookwright_colour::byte::byte;
use lookwright_film::spatial::Planes;

use super::stage_axis::StageAxis;

/// Levels told apart.
pub const LEVELS: usize = 256;
/// Columns of each channel's waveform.
const COLUMNS: usize = 256;
/// What each channel's waveform is drawn in: light tints, told apart by place as well.
const TINTS: [[f32; 3]; 3] = [[1.0, 0.55, 0.5], [0.55, 1.0, 0.62], [0.6, 0.75, 1.0]];
/// Share of the pixels that a reading of the darkest and of the brightest leaves out at either end.
const STRAYS: f64 = 0.001;

/// How a picture's numbers are spread over a stage's axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    axis: StageAxis,
    /// `waveform[channel][level * 256 + column]`.
    pub waveform: [Vec<u32>; 3],
    /// `histogram[channel * 256 + level]`.
    pub histogram: Vec<u32>,
    /// Pixels of which a channel is at or beyond the axis's lower and upper end.
    pub at_ends: [usize; 2],
    pixels: usize,
}

impl Spread {
    /// Counts a picture of a stage's numbers; what lies beyond the axis counts at its end.
    #[must_use]
    pub fn of(picture: &Planes, axis: StageAxis) -> Self {
        let mut spread = Self {
            axis,
            waveform: core::array::from_fn(|_| vec![0; LEVELS * COLUMNS]),
            histogram: vec![0; 3 * LEVELS],
            at_ends: [0; 2],
            pixels: picture.pixels(),
        };
        for y in 0..picture.height {
            let rows = [0, 1, 2].map(|channel| picture.row(channel, y));
            for x in 0..picture.width {
                let column = x * COLUMNS / picture.width;
                let places = rows.map(|row| axis.place(row[x]));
                for (channel, place) in places.into_iter().enumerate() {
                    let level = usize::from(byte(place.clamp(0.0, 1.0) as f32));
                    spread.waveform[channel][level * COLUMNS + column] += 1;
                    spread.histogram[channel * LEVELS + level] += 1;
                }
                spread.at_ends[0] += usize::from(places.iter().any(|place| *place <= 0.0));
                spread.at_ends[1] += usize::from(places.iter().any(|place| *place >= 1.0));
            }
        }
        spread
    }

    /// Between what a picture's numbers lie, in the axis's unit, but for one of a thousand at either end.
    #[must_use]
    pub fn between(&self) -> [f64; 2] {
        let all = 3 * self.pixels;
        let strays = (all as f64 * STRAYS) as usize;
        let at = |level: usize| -> usize {
            let counts = (0..3).map(|channel| self.histogram[channel * LEVELS + level]);
            counts.map(|count| count as usize).sum()
        };
        let mut levels: Vec<usize> = (0..LEVELS).collect();
        let low = past(strays, &levels, at);
        levels.reverse();
        let ends = [low, past(strays, &levels, at)];
        ends.map(|level| self.axis.says_at(level as f64 / (LEVELS - 1) as f64))
    }

    /// The waveforms as RGBA, `3 * 256` wide and 256 high, the axis's upper end on top.
    #[must_use]
    pub fn waveform_rgba(&self) -> Vec<u8> {
        let width = 3 * COLUMNS;
        let mut out = vec![0; width * LEVELS * 4];
        // A column whose pixels were all at one level would be this bright.
        let full = self.pixels as f32 / COLUMNS as f32;
        for (channel, counts) in self.waveform.iter().enumerate() {
            for (place, count) in counts.iter().enumerate() {
                let (level, column) = (place / COLUMNS, place % COLUMNS);
                let light = (*count as f32 / full * 24.0).sqrt();
                let pixel = (LEVELS - 1 - level) * width + channel * COLUMNS + column;
                let tint = TINTS[channel].map(|share| share * light);
                out[pixel * 4..pixel * 4 + 4].copy_from_slice(&opaque(tint));
            }
        }
        out
    }
}

/// The first of some levels at which more than so many have been seen.
fn past(strays: usize, levels: &[usize], at: impl Fn(usize) -> usize) -> usize {
    let mut seen = 0;
    let found = levels.iter().find(|level| {
        seen += at(**level);
        seen > strays
    });
    found.copied().unwrap_or_default()
}

pub(super) fn opaque(light: [f32; 3]) -> [u8; 4] {
    let [r, g, b] = light.map(byte);
    [r, g, b, 255]
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_film::look::StageId;

    #[test]
    fn every_pixel_is_counted_once_at_its_level() {
        let mut picture = Planes::filled(10, 4, 0.5);
        picture.planes[0][0] = 9.0;
        let spread = Spread::of(&picture, StageAxis::of(StageId::Screen));
        assert_eq!(spread.histogram[255], 1);
        assert_eq!(spread.histogram[128], 39);
        assert_eq!(spread.histogram[256 + 128], 40);
        assert_eq!(spread.waveform[2].iter().sum::<u32>(), 40);
        assert_eq!(spread.at_ends, [0, 1]);
    }

    /// A ramp over all columns is a straight line, within a level.
    #[test]
    fn a_ramp_is_a_diagonal_and_bars_are_steps() {
        let mut ramp = Planes::filled(512, 2, 0.0);
        for (i, value) in ramp.planes[1].iter_mut().enumerate() {
            *value = (i % 512) as f32 / 511.0;
        }
        let spread = Spread::of(&ramp, StageAxis::of(StageId::Screen));
        for column in 0..COLUMNS {
            for level in 0..LEVELS {
                let count = spread.waveform[1][level * COLUMNS + column];
                assert!(
                    count == 0 || level.abs_diff(column) <= 1,
                    "{column} {level}"
                );
            }
            assert_eq!(spread.waveform[0][column], 4, "black stays at the bottom");
        }
        assert_eq!(spread.between(), [0.0, 100.0]);
    }

    #[test]
    fn a_stop_over_grey_is_a_sixteenth_up_the_axis_of_light() {
        let picture = Planes::filled(8, 8, 0.36);
        let spread = Spread::of(&picture, StageAxis::of(StageId::Lens));
        // (1 + 8) / 16 of 255 levels.
        assert_eq!(spread.histogram[143], 64);
        let [low, high] = spread.between();
        assert!((low - 1.0).abs() < 16.0 / 255.0 && low == high);
        assert_eq!(spread.at_ends, [0, 0]);
    }
}
