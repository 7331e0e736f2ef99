//! Numbers to integers, for screens and files.

use crate::spatial::Planes;

/// To 8-bit RGBA with opaque alpha, each code rounded to the nearest of 256; what lies outside
/// 0 ... 1 is limited.
pub fn to_rgba8(code: &Planes) -> Vec<u8> {
    let mut out = Vec::with_capacity(code.pixels() * 4);
    for i in 0..code.pixels() {
        for plane in &code.planes {
            out.push((plane[i].clamp(0.0, 1.0) * 255.0 + 0.5) as u8);
        }
        out.push(255);
    }
    out
}

/// To 16-bit interleaved RGB, rounded to the nearest of 65536; limited to 0 ... 1.
pub fn to_u16(code: &Planes) -> Vec<u16> {
    let mut out = Vec::with_capacity(code.pixels() * 3);
    for i in 0..code.pixels() {
        for plane in &code.planes {
            out.push((plane[i].clamp(0.0, 1.0) * 65535.0 + 0.5) as u16);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounds_to_the_nearest_and_limits() {
        let mut picture = Planes::filled(2, 1, 0.5);
        picture.planes[0] = vec![-0.2, 7.0];
        assert_eq!(to_rgba8(&picture), [0, 128, 128, 255, 255, 128, 128, 255]);
        assert_eq!(to_u16(&picture), [0, 32768, 32768, 65535, 32768, 32768]);
    }
}
