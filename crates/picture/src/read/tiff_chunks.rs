//! Strips and tiles of a TIFF, put where they belong in the picture.

use lookwright_colour::Result;
use tiff::decoder::DecodingResult;

use super::{broken, unsupported};
use crate::decoded::Samples;
use crate::kind::Kind;
use crate::limits;

/// Which of a pixel's three numbers a chunk gives.
#[derive(Clone, Copy)]
pub(super) enum Slots {
    /// All three from the first sample.
    Grey,
    /// From the first three samples.
    Rgb,
    /// This one from the first sample.
    One(usize),
}

/// Where a chunk lies and how its samples are stored.
#[derive(Clone, Copy)]
pub(super) struct Chunk {
    /// Left column and top row in the picture.
    pub(super) x: usize,
    pub(super) y: usize,
    /// Pixels per row of the chunk, without padding.
    pub(super) width: usize,
    pub(super) samples_per_pixel: usize,
    pub(super) bits: u8,
    pub(super) slots: Slots,
}

/// The picture as it fills.
pub(super) struct Sink {
    pub(super) width: usize,
    pub(super) height: usize,
    /// None before the first chunk has said what kind they are.
    samples: Option<Samples>,
}

impl Sink {
    pub(super) fn new(width: usize, height: usize) -> Self {
        Self {
            width,
            height,
            samples: None,
        }
    }

    pub(super) fn finish(self) -> Result<Samples> {
        self.samples
            .ok_or_else(|| broken(Kind::Tiff, "it has no strips"))
    }

    pub(super) fn place(&mut self, chunk: &Chunk, stored: DecodingResult) -> Result<()> {
        let len = 3 * self.width * self.height;
        if self.samples.is_none() {
            self.samples = Some(match &stored {
                DecodingResult::U8(_) => Samples::U8(limits::buffer(len)?),
                DecodingResult::U16(_) => Samples::U16(limits::buffer(len)?),
                _ => Samples::F32(limits::buffer(len)?),
            });
        }
        let size = (self.width, self.height);
        match (self.samples.as_mut(), stored) {
            (Some(Samples::U8(out)), DecodingResult::U8(v)) if chunk.bits < 8 => {
                let codes = unpack(&v, chunk)?;
                put(chunk, &codes, |code| code, out, size)
            }
            (Some(Samples::U8(out)), DecodingResult::U8(v)) => put(chunk, &v, |c| c, out, size),
            (Some(Samples::U16(out)), DecodingResult::U16(v)) => put(chunk, &v, |c| c, out, size),
            (Some(Samples::F32(out)), DecodingResult::U32(v)) => {
                let unit = |code: u32| (f64::from(code) / f64::from(u32::MAX)) as f32;
                put(chunk, &v, unit, out, size)
            }
            (Some(Samples::F32(out)), DecodingResult::F16(v)) => {
                put(chunk, &v, |value| value.to_f32(), out, size)
            }
            (Some(Samples::F32(out)), DecodingResult::F32(v)) => put(chunk, &v, |v| v, out, size),
            (Some(Samples::F32(out)), DecodingResult::F64(v)) => {
                put(chunk, &v, |value| value as f32, out, size)
            }
            _ => Err(unsupported(
                Kind::Tiff,
                "has signed or 64-bit samples",
                "save it with 16 bits or as 32-bit floats",
            )),
        }
    }
}

/// Copies what of the chunk lies in the picture.
fn put<S: Copy, T>(
    chunk: &Chunk,
    stored: &[S],
    convert: impl Fn(S) -> T + Copy,
    out: &mut [T],
    (width, height): (usize, usize),
) -> Result<()>
where
    T: Copy,
{
    let step = chunk.samples_per_pixel;
    let columns = chunk.width.min(width - chunk.x);
    let rows = height - chunk.y;
    let stored_rows = stored.chunks_exact((chunk.width * step).max(1));
    let target_rows = out[3 * chunk.y * width..].chunks_exact_mut(3 * width);
    for (row, target) in stored_rows.zip(target_rows).take(rows) {
        let (target, _) = target[3 * chunk.x..3 * (chunk.x + columns)].as_chunks_mut::<3>();
        for (pixel, rgb) in row.chunks_exact(step).zip(target) {
            match chunk.slots {
                Slots::Rgb => *rgb = [convert(pixel[0]), convert(pixel[1]), convert(pixel[2])],
                Slots::Grey => *rgb = [convert(pixel[0]); 3],
                Slots::One(slot) => rgb[slot] = convert(pixel[0]),
            }
        }
    }
    Ok(())
}

/// Samples of less than a byte, rows padded to whole bytes, spread over 0 ... 255.
fn unpack(packed: &[u8], chunk: &Chunk) -> Result<Vec<u8>> {
    let bits = usize::from(chunk.bits);
    if !matches!(bits, 1 | 2 | 4) {
        return Err(unsupported(
            Kind::Tiff,
            "has an odd bit depth",
            "save it with 8 or 16 bits",
        ));
    }
    let largest = (1_u8 << bits) - 1;
    let row_samples = chunk.width * chunk.samples_per_pixel;
    let mut codes = Vec::new();
    for row in packed.chunks_exact((row_samples * bits).div_ceil(8).max(1)) {
        limits::reserve(&mut codes, row_samples)?;
        codes.extend((0..row_samples).map(|i| {
            let shift = 8 - bits - (i * bits) % 8;
            (row[i * bits / 8] >> shift & largest) * (255 / largest)
        }));
    }
    Ok(codes)
}
