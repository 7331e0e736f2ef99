//! Scopes: how a picture's screen codes are spread.
//!
//! - Waveform: for each column of the picture and each code, how many pixels have it; red, green
//!   and blue side by side.
//! - Vectorscope: how many pixels have each pair of colour differences, by ITU-R BT.709-6 item
//!   3.2: `Y = 0.2126 R + 0.7152 G + 0.0722 B`, `Cb = (B - Y) / 1.8556`, `Cr = (R - Y) / 1.5748`;
//!   Cb to the right, Cr upwards, both -0.5 ... 0.5.
//! - Histogram: how many pixels have each code.
//!
//! Counts are exact; the pictures of them brighten with the square root of the count, so that few
//! pixels are seen beside many.

use lookwright_colour::Rgb;
use lookwright_colour::byte::byte;
use lookwright_colour::luma::luma;
use lookwright_film::spatial::Planes;

/// Codes told apart.
const CODES: usize = 256;
/// Columns of each channel's waveform.
const COLUMNS: usize = 256;
/// Side of the vectorscope's field.
pub const VECTOR_SIDE: usize = 192;
/// What each channel's waveform is drawn in: light tints, told apart by place as well.
const TINTS: [[f32; 3]; 3] = [[1.0, 0.55, 0.5], [0.55, 1.0, 0.62], [0.6, 0.75, 1.0]];

/// The scopes of one picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scopes {
    /// `waveform[channel][code * 256 + column]`.
    pub waveform: [Vec<u32>; 3],
    /// `vectorscope[y * VECTOR_SIDE + x]`, from the top.
    pub vectorscope: Vec<u32>,
    /// `histogram[channel * 256 + code]`.
    pub histogram: Vec<u32>,
    pixels: usize,
}

impl Scopes {
    /// Counts a picture in screen code; what lies outside 0 ... 1 counts at its end.
    pub fn of(code: &Planes) -> Self {
        let mut scopes = Self {
            waveform: core::array::from_fn(|_| vec![0; CODES * COLUMNS]),
            vectorscope: vec![0; VECTOR_SIDE * VECTOR_SIDE],
            histogram: vec![0; 3 * CODES],
            pixels: code.pixels(),
        };
        for y in 0..code.height {
            let rows = [0, 1, 2].map(|channel| code.row(channel, y));
            for x in 0..code.width {
                let column = x * COLUMNS / code.width;
                let rgb = rows.map(|row| row[x].clamp(0.0, 1.0));
                for (channel, value) in rgb.into_iter().enumerate() {
                    let level = usize::from(byte(value));
                    scopes.waveform[channel][level * COLUMNS + column] += 1;
                    scopes.histogram[channel * CODES + level] += 1;
                }
                scopes.vectorscope[vector_place(rgb)] += 1;
            }
        }
        scopes
    }

    /// The waveforms as RGBA, `3 * 256` wide and 256 high, code 255 on top.
    pub fn waveform_rgba(&self) -> Vec<u8> {
        let width = 3 * COLUMNS;
        let mut out = vec![0; width * CODES * 4];
        // A column whose pixels all had one code would be this bright.
        let full = self.pixels as f32 / COLUMNS as f32;
        for (channel, counts) in self.waveform.iter().enumerate() {
            for (place, count) in counts.iter().enumerate() {
                let (level, column) = (place / COLUMNS, place % COLUMNS);
                let light = (*count as f32 / full * 24.0).sqrt();
                let pixel = (CODES - 1 - level) * width + channel * COLUMNS + column;
                let tint = TINTS[channel].map(|share| share * light);
                out[pixel * 4..pixel * 4 + 4].copy_from_slice(&opaque(tint));
            }
        }
        out
    }

    /// The vectorscope as RGBA with its axes, square.
    pub fn vectorscope_rgba(&self) -> Vec<u8> {
        let mut out = Vec::with_capacity(self.vectorscope.len() * 4);
        let full = self.pixels as f32;
        for (place, count) in self.vectorscope.iter().enumerate() {
            let (x, y) = (place % VECTOR_SIDE, place / VECTOR_SIDE);
            let axis = if x == VECTOR_SIDE / 2 || y == VECTOR_SIDE / 2 {
                0.22
            } else {
                0.0
            };
            let light = (*count as f32 / full * 6000.0).sqrt() * 0.5 + axis;
            out.extend(opaque([light; 3]));
        }
        out
    }
}

fn vector_place([r, g, b]: [f32; 3]) -> usize {
    let y = luma(Rgb::new(r, g, b));
    let (cb, cr) = ((b - y) / 1.8556, (r - y) / 1.5748);
    let place = |v: f32| (((v + 0.5) * VECTOR_SIDE as f32) as usize).min(VECTOR_SIDE - 1);
    place(-cr) * VECTOR_SIDE + place(cb)
}

fn opaque(light: [f32; 3]) -> [u8; 4] {
    let [r, g, b] = light.map(byte);
    [r, g, b, 255]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_pixel_is_counted_once_at_its_code() {
        let mut picture = Planes::filled(10, 4, 0.5);
        picture.planes[0][0] = 9.0;
        let scopes = Scopes::of(&picture);
        assert_eq!(scopes.histogram[255], 1);
        assert_eq!(scopes.histogram[128], 39);
        assert_eq!(scopes.histogram[256 + 128], 40);
        assert_eq!(scopes.vectorscope.iter().sum::<u32>(), 40);
        assert_eq!(scopes.waveform[2].iter().sum::<u32>(), 40);
    }

    #[test]
    fn greys_lie_in_the_middle_and_primaries_where_bt_709_puts_them() {
        let middle = VECTOR_SIDE / 2;
        for grey in [0.0, 0.4, 1.0] {
            let place = vector_place([grey; 3]);
            assert!((place % VECTOR_SIDE).abs_diff(middle) <= 1, "{grey}");
            assert!((place / VECTOR_SIDE).abs_diff(middle) <= 1, "{grey}");
        }
        // 100 % red: Cb = -0.2126 / 1.8556 = -0.1146, Cr = (1 - 0.2126) / 1.5748 = 0.5.
        let red = vector_place([1.0, 0.0, 0.0]);
        assert_eq!(red / VECTOR_SIDE, 0);
        assert_eq!(
            red % VECTOR_SIDE,
            ((0.5 - 0.114_570_2) * VECTOR_SIDE as f64) as usize
        );
    }
}
