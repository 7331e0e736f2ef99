//! One JPEG out of pieces that are encoded one by one, by whoever and in any order.
//!
//! The library encodes each piece of rows as a picture of its own; of that only the entropy-coded
//! data is kept. A restart marker between two pieces makes one scan of them (ITU-T T.81): the data
//! between two markers is a restart interval and says nothing of the intervals before it (B.2.1,
//! E.1.4: predictions begin at 0 again, the last byte is filled up with ones), the markers count
//! modulo 8 (B.1.1.3), and DRI tells how many units an interval holds (B.2.4.4). Only the last
//! interval may hold fewer. So the coefficients are those of the whole picture encoded in one go.

use jpeg_encoder::{ColorType, Encoder, SamplingFactor};
use lookwright_colour::{Error, Result};

use super::super::failed;

/// Rows of a piece; the last one may have fewer. A multiple of the rows that a unit covers: 8, or
/// 16 with halved colour.
pub(super) const ROWS: usize = 16;
/// From this quality on colour keeps the resolution of brightness.
const FULL_CHROMA_FROM: u8 = 90;

/// Markers of T.81, table B.1: their second byte.
const SOI: u8 = 0xd8;
const SOF0: u8 = 0xc0;
const SOS: u8 = 0xda;
const RST0: u8 = 0xd0;
/// The end of the picture.
const EOI: [u8; 2] = [0xff, 0xd9];

/// How the pieces of one picture are encoded.
pub(super) struct Pieces {
    pub(super) width: u16,
    pub(super) height: u16,
    pub(super) quality: u8,
}

impl Pieces {
    /// All that comes before the first piece.
    pub(super) fn header(&self, icc: Option<&[u8]>) -> Result<Vec<u8>> {
        // One row has the whole picture's header, but for the number of rows.
        let row = vec![0; 3 * usize::from(self.width)];
        let mut file = self.encode(&row, icc)?;
        let parts = Parts::of(&file).ok_or_else(cut)?;
        // In a frame header the height follows marker, length and precision (B.2.2).
        let (height, data) = (parts.frame + 5, parts.data);
        file[height..height + 2].copy_from_slice(&self.height.to_be_bytes());
        file.truncate(data);
        Ok(file)
    }

    /// Adds piece `index` to a file, and the marker that comes after it. `rows` are interleaved
    /// RGB.
    pub(super) fn add(&self, index: usize, rows: &[u8], file: &mut Vec<u8>) -> Result<()> {
        let piece = self.encode(rows, None)?;
        let data = Parts::of(&piece).ok_or_else(cut)?.data;
        file.extend_from_slice(&piece[data..piece.len() - EOI.len()]);
        if (index + 1) * ROWS < usize::from(self.height) {
            file.extend_from_slice(&[0xff, RST0 + (index % 8) as u8]);
        } else {
            file.extend_from_slice(&EOI);
        }
        Ok(())
    }

    /// Rows as a picture of their own.
    fn encode(&self, rows: &[u8], icc: Option<&[u8]>) -> Result<Vec<u8>> {
        let mut file = Vec::new();
        let mut encoder = Encoder::new(&mut file, self.quality);
        let (unit, sampling) = if self.quality >= FULL_CHROMA_FROM {
            (8, SamplingFactor::R_4_4_4)
        } else {
            (16, SamplingFactor::R_4_2_0)
        };
        encoder.set_sampling_factor(sampling);
        let units = usize::from(self.width).div_ceil(unit) * (ROWS / unit);
        encoder.set_restart_interval(units as u16);
        if let Some(icc) = icc {
            encoder
                .add_icc_profile(icc)
                .map_err(|e| failed("JPEG", e))?;
        }
        let height = rows.len() / (3 * usize::from(self.width));
        encoder
            .encode(rows, self.width, height as u16, ColorType::Rgb)
            .map_err(|e| failed("JPEG", e))?;
        Ok(file)
    }
}

/// Where the parts of a file with one scan begin.
#[derive(Debug, PartialEq)]
struct Parts {
    /// The frame header's marker.
    frame: usize,
    /// The entropy-coded data.
    data: usize,
}

impl Parts {
    /// Walks the segments: each is a marker and its length, which counts itself (B.1.1.4).
    fn of(file: &[u8]) -> Option<Self> {
        let mut at = if file.get(..2)? == [0xff, SOI] {
            2
        } else {
            return None;
        };
        let mut frame = None;
        loop {
            let &[0xff, marker, high, low] = file.get(at..at + 4)? else {
                return None;
            };
            if marker == SOF0 {
                frame = Some(at);
            }
            let next = at + 2 + usize::from(u16::from_be_bytes([high, low]));
            if marker == SOS {
                let data = next;
                return (data + EOI.len() <= file.len()).then_some(Self {
                    frame: frame?,
                    data,
                });
            }
            at = next;
        }
    }
}

fn cut() -> Error {
    failed("JPEG", "a piece of it came out damaged")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        Decoded, OutColour, OutFormat, PictureWriter, Rows, Samples, WriteOptions, decode,
    };
    use lookwright_colour::encoding::EncodingId;

    /// A slope with noise, so that every piece has data of its own.
    fn picture(width: usize, height: usize) -> Vec<u8> {
        let mut state = 5_u32;
        (0..3 * width * height)
            .map(|i| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                ((i / 5) % 200) as u8 + (state >> 27) as u8
            })
            .collect()
    }

    fn written(pixels: &[u8], width: u16, height: u16, quality: u8) -> Vec<u8> {
        let options = WriteOptions {
            colour: OutColour::Of(EncodingId::DisplayP3),
            ..WriteOptions::default()
        };
        let format = OutFormat::Jpeg { quality };
        let (w, h) = (u32::from(width), u32::from(height));
        let mut writer = PictureWriter::new(format, w, h, &options).unwrap();
        writer.push_rows(Rows::U8(pixels)).unwrap();
        writer.finish().unwrap()
    }

    /// The library's own whole picture.
    fn in_one_go(pixels: &[u8], width: u16, height: u16, quality: u8) -> Vec<u8> {
        let mut file = Vec::new();
        let mut encoder = Encoder::new(&mut file, quality);
        encoder.set_sampling_factor(match quality {
            90.. => SamplingFactor::R_4_4_4,
            _ => SamplingFactor::R_4_2_0,
        });
        encoder
            .encode(pixels, width, height, ColorType::Rgb)
            .unwrap();
        file
    }

    /// By a second reader.
    fn read_by_another(file: &[u8]) -> Vec<u8> {
        jpeg_decoder::Decoder::new(file).decode().unwrap()
    }

    fn profile(file: &[u8]) -> Option<Vec<u8>> {
        let mut decoder = jpeg_decoder::Decoder::new(file);
        decoder.read_info().unwrap();
        decoder.icc_profile()
    }

    #[test]
    fn pieces_are_the_picture_encoded_in_one_go() {
        // Heights of less than a unit, of whole pieces, of a row more and less, and of more than
        // eight pieces, after which the markers count from 0 again.
        for height in [1_u16, 7, 15, 16, 17, 32, 33, 150, 161] {
            for (width, quality) in [(1, 95), (37, 80), (37, 95), (64, 60), (64, 100)] {
                let pixels = picture(usize::from(width), usize::from(height));
                let file = written(&pixels, width, height, quality);
                let whole = in_one_go(&pixels, width, height, quality);
                let case = format!("{width} x {height} at {quality}");
                assert!(read_by_another(&file) == read_by_another(&whole), "{case}");
                let [read, want]: [Decoded; 2] = [&file, &whole].map(|f| decode(f).unwrap());
                assert_eq!((read.width, read.height), (width.into(), height.into()));
                assert!(read.samples == want.samples, "{case}");
                assert!(matches!(read.samples, Samples::U8(_)) && read.notes.is_empty());
                assert_eq!(
                    profile(&file),
                    OutColour::Of(EncodingId::DisplayP3).icc().unwrap(),
                    "{case}"
                );
            }
        }
    }

    #[test]
    fn markers_count_modulo_8_and_the_header_tells_of_them() {
        let file = written(&picture(40, 161), 40, 161, 80);
        let data = Parts::of(&file).unwrap().data;
        let markers: Vec<u8> = file[data..]
            .windows(2)
            .filter(|pair| pair[0] == 0xff && pair[1] != 0)
            .map(|pair| pair[1])
            .collect();
        let counted = (0..10).map(|i| RST0 + i % 8);
        assert_eq!(markers, counted.chain([EOI[1]]).collect::<Vec<_>>());
        // Three units of 16 columns, one row of units: DRI, length 4, interval 3.
        let dri = [0xff, 0xdd, 0, 4, 0, 3];
        assert_eq!(file.windows(6).filter(|at| *at == dri).count(), 1);
    }

    #[test]
    fn what_is_no_jpeg_has_no_parts() {
        let file = in_one_go(&picture(9, 9), 9, 9, 90);
        assert!(Parts::of(&file).is_some());
        let data = Parts::of(&file).unwrap().data;
        for end in 0..data + 2 {
            assert_eq!(Parts::of(&file[..end]), None, "{end}");
        }
        assert_eq!(Parts::of(&file[1..]), None);
    }
}
