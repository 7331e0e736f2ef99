//! The frame that everything is measured on: camera code with a ramp, lamps and a lot of noise, so
//! that branches and caches find nothing to guess.

use lookwright_film::spatial::Planes;

/// Size of the usual frame: 2 megapixels.
pub const WIDTH: usize = 2000;
/// See [`WIDTH`].
pub const HEIGHT: usize = 1000;

/// A frame of any size; the same at every run.
#[must_use]
pub fn frame(width: usize, height: usize) -> Planes {
    let mut planes = Planes::filled(width, height, 0.0);
    let mut state = 0x9e37_79b9_u32;
    for (channel, plane) in planes.planes.iter_mut().enumerate() {
        for (i, value) in plane.iter_mut().enumerate() {
            state ^= state << 13;
            state ^= state >> 17;
            state ^= state << 5;
            let noise = (state >> 8) as f32 / 16_777_216.0;
            let ramp = (i % width) as f32 / width as f32;
            let lamp = i % 65_537 < 3 && channel < 2;
            *value = if lamp {
                0.95
            } else {
                0.5 * ramp + 0.45 * noise
            };
        }
    }
    planes
}

/// A photographed frame in LogC3, night on a quay, repeated to any size: pixels are much like their neighbours, as in
/// whatever is really looked at. None if it can't be read.
#[must_use]
pub fn photograph(width: usize, height: usize) -> Option<Planes> {
    const FILE: &[u8] = include_bytes!("../../../demo-images/night-ferry.png");
    let mut reader = png::Decoder::new(std::io::Cursor::new(FILE))
        .read_info()
        .ok()?;
    let mut bytes = vec![0; reader.output_buffer_size()?];
    let info = reader.next_frame(&mut bytes).ok()?;
    if (info.color_type, info.bit_depth) != (png::ColorType::Rgb, png::BitDepth::Sixteen) {
        return None;
    }
    let (across, down) = (info.width as usize, info.height as usize);
    let mut planes = Planes::filled(width, height, 0.0);
    for y in 0..height {
        for x in 0..width {
            let first = ((y % down) * across + x % across) * 6;
            for (channel, code) in bytes[first..first + 6].chunks_exact(2).enumerate() {
                let code = u16::from_be_bytes([code[0], code[1]]);
                planes.row_mut(channel, y)[x] = f32::from(code) / 65535.0;
            }
        }
    }
    Some(planes)
}

/// The frame as other libraries take it: RGBA, one pixel after the other, opaque.
#[must_use]
pub fn interleaved(frame: &Planes) -> Vec<f32> {
    let [r, g, b] = &frame.planes;
    let mut out = Vec::with_capacity(frame.pixels() * 4);
    for ((r, g), b) in r.iter().zip(g).zip(b) {
        out.extend([*r, *g, *b, 1.0]);
    }
    out
}
