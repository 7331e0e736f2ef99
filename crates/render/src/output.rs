//! Numbers to integers, for screens and files.

use lookwright_colour::byte::{nearest, whole};
use lookwright_colour::hash;
use lookwright_colour::lane::{Lane, widest};
use lookwright_film::spatial::Planes;

/// To 8-bit RGBA with opaque alpha, each code rounded to the nearest of 256; what lies outside
/// 0 ... 1 is limited.
pub fn to_rgba8(code: &Planes) -> Vec<u8> {
    let mut out = vec![0; code.pixels() * 4];
    let [red, green, blue] = &code.planes;
    let rgba = out.as_chunks_mut::<4>().0.iter_mut();
    widest(
        #[inline(always)]
        || {
            for (((pixel, r), g), b) in rgba.zip(red).zip(green).zip(blue) {
                *pixel = rgba8(*r, *g, *b);
            }
        },
    );
    out
}

/// One pixel of it.
#[inline(always)]
pub(super) fn rgba8(red: f32, green: f32, blue: f32) -> [u8; 4] {
    let three = packed(nearest(red), nearest(green), nearest(blue));
    (three | 0xff00_0000).to_le_bytes()
}

/// Three bytes, the first one lowest.
#[inline(always)]
fn packed(first: u32, second: u32, third: u32) -> u32 {
    first | (second << 8) | (third << 16)
}

/// Row `y` of a buffer to 8-bit interleaved RGB with triangular dither of +-1 code, so that slow
/// ramps don't band: the error's mean is 0 and its variance a quarter of a code squared, whatever
/// the value. `y0` is the row of the whole picture that the buffer begins with; the pattern
/// depends on the pixel's place in the whole picture alone.
pub fn dither8(code: &Planes, y: usize, y0: u32) -> Vec<u8> {
    let mut out = vec![0; code.width * 3];
    let place = (y as u32).wrapping_add(y0);
    let [red, green, blue] = [0, 1, 2].map(|channel| code.row(channel, y).chunks(BLOCK));
    let blocks = out.chunks_mut(3 * BLOCK).zip(red).zip(green).zip(blue);
    widest(
        #[inline(always)]
        || {
            for (block, (((bytes, red), green), blue)) in blocks.enumerate() {
                let mut three = [0; BLOCK];
                let first = (block * BLOCK * 3) as u32;
                let codes = red.iter().zip(green).zip(blue);
                for (x, (three, ((r, g), b))) in (0_u32..).zip(three.iter_mut().zip(codes)) {
                    let at = first + 3 * x;
                    *three = packed(
                        dithered(*r, at, place),
                        dithered(*g, at + 1, place),
                        dithered(*b, at + 2, place),
                    );
                }
                interleave(&three, bytes);
            }
        },
    );
    out
}

/// Pixels whose codes are made side by side before they are interleaved.
const BLOCK: usize = 64;

/// Pixels of three bytes each, one after the other, as far as there is room: four make three words.
#[inline(always)]
fn interleave(pixels: &[u32; BLOCK], bytes: &mut [u8]) {
    let (fours, rest) = bytes.as_chunks_mut::<12>();
    let done = 4 * fours.len();
    for (bytes, [a, b, c, d]) in fours.iter_mut().zip(pixels.as_chunks::<4>().0) {
        let words = [a | (b << 24), (b >> 8) | (c << 16), (c >> 16) | (d << 8)];
        for (four, word) in bytes.as_chunks_mut::<4>().0.iter_mut().zip(words) {
            *four = word.to_le_bytes();
        }
    }
    for (three, pixel) in rest.chunks_exact_mut(3).zip(&pixels[done..]) {
        three.copy_from_slice(&pixel.to_le_bytes()[..3]);
    }
}

/// The code of one channel at column `x`, counted in channels, of row `y`.
#[inline(always)]
fn dithered(code: f32, x: u32, y: u32) -> u32 {
    let code = Lane::clamp_to(code, 0.0, 1.0) * 255.0 + triangular(x, y) + 0.5;
    whole(Lane::clamp_to(code, 0.0, 255.0))
}

/// Triangular noise in -1 ... 1 from a place: the difference of two halves of one hash.
#[inline(always)]
fn triangular(x: u32, y: u32) -> f32 {
    let h = hash::pair(x, y, 0);
    // Signed, as machines convert those faster.
    let [low, high] = [h & 0xffff, h >> 16].map(|half| half as i32 as f32);
    (low - high) / 65536.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounds_to_the_nearest_and_limits() {
        let mut picture = Planes::filled(2, 1, 0.5);
        picture.planes[0] = vec![-0.2, 7.0];
        assert_eq!(to_rgba8(&picture), [0, 128, 128, 255, 255, 128, 128, 255]);
    }

    #[test]
    fn pixels_stand_one_after_the_other_whatever_their_number() {
        for width in [1, 3, 4, 63, 64, 65, 131] {
            let mut picture = Planes::filled(width, 1, 0.0);
            for (channel, plane) in picture.planes.iter_mut().enumerate() {
                // Far outside is limited first, so dither makes it one code less or more at most.
                for (x, value) in plane.iter_mut().enumerate() {
                    *value = if (x + channel) % 3 == 0 { 2.0 } else { -1.0 };
                }
            }
            let bytes = dither8(&picture, 0, 0);
            assert_eq!(bytes.len(), 3 * width);
            for (i, byte) in bytes.iter().enumerate() {
                let lit = (i / 3 + i % 3) % 3 == 0;
                assert!(if lit { *byte >= 254 } else { *byte <= 1 }, "{width}: {i}");
            }
        }
    }

    #[test]
    fn dither_keeps_the_mean_and_has_the_variance_of_triangular_dither() {
        // Rounding plus triangular dither of +-1: variance 1/12 + 1/6 = 0.25, mean error 0.
        for value in [0.2, 0.5003, 0.7018] {
            let picture = Planes::filled(400, 200, value);
            let (mut sum, mut squares, mut count) = (0.0, 0.0, 0.0);
            for y in 0..200 {
                for code in dither8(&picture, y, 7) {
                    let error = f64::from(code) - f64::from(value) * 255.0;
                    sum += error;
                    squares += error * error;
                    count += 1.0;
                }
            }
            let mean: f64 = sum / count;
            assert!(mean.abs() < 0.01, "mean {mean}");
            assert!(
                (squares / count - 0.25).abs() < 0.01,
                "variance {}",
                squares / count
            );
        }
    }
}
