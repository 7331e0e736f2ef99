//! OpenEXR, by the exr crate: scan lines, each block compressed as soon as its lines are there.
//!
//! Lossless compression, chosen on a 12-megapixel photograph with grain: halves by PIZ (18
//! megapixels a second and 3.0 bytes per pixel, where ZIP makes 7 and 3.3), floats by RLE (68 and
//! 12.0, where ZIP makes 3 and 11.3).

use std::io::Cursor;

use exr::block::chunk::Chunk;
use exr::block::writer::ChunksWriter;
use exr::block::{self, BlockIndex, UncompressedBlock};
use exr::meta::attribute::{ChannelDescription, Chromaticities, LineOrder, SampleType, Text};
use exr::meta::header::Header;
use exr::meta::{BlockDescription, Headers};
use exr::prelude::{Compression, Vec2, f16};
use lookwright_colour::Result;
use lookwright_colour::space::Xy;
use smallvec::smallvec;

use super::{Encode, Rows, WriteOptions, failed};

pub(super) struct ExrWriter {
    headers: Headers,
    width: usize,
    height: usize,
    half: bool,
    block_lines: usize,
    /// Lines that don't fill a block yet, interleaved RGB.
    waiting: Vec<f32>,
    done_lines: usize,
    chunks: Vec<Chunk>,
}

impl ExrWriter {
    pub(super) fn new(width: u32, height: u32, half: bool, options: &WriteOptions) -> Result<Self> {
        let sample = if half {
            SampleType::F16
        } else {
            SampleType::F32
        };
        let compression = if half {
            Compression::PIZ
        } else {
            Compression::RLE
        };
        let channel = |name: &str| ChannelDescription::named(name, sample);
        let channels = smallvec![channel("B"), channel("G"), channel("R")];
        let size = Vec2(width as usize, height as usize);
        let mut header = Header::new(Text::from("rgb"), size, channels).with_encoding(
            compression,
            BlockDescription::ScanLines,
            LineOrder::Increasing,
        );
        header.own_attributes.layer_name = None;
        header.own_attributes.software_name = None;
        let remark = options.ascii_description();
        match &options.carried.attributes {
            Some(attributes) => attributes.put(&mut header, remark),
            None => header.own_attributes.comments = remark.map(|t| Text::from(t.as_str())),
        }
        header.shared_attributes.chromaticities = options
            .colour
            .primaries()
            .filter(|_| options.colour.is_linear())
            .map(|space| {
                let point = |p: Xy| Vec2(p.x as f32, p.y as f32);
                let [red, green, blue] = space.rgb().map(point);
                Chromaticities {
                    red,
                    green,
                    blue,
                    white: point(space.white()),
                }
            });
        Ok(Self {
            headers: smallvec![header],
            width: size.0,
            height: size.1,
            half,
            block_lines: compression.scan_lines_per_block(),
            waiting: Vec::new(),
            done_lines: 0,
            chunks: Vec::new(),
        })
    }

    fn compress(&mut self, lines: &[f32], count: usize) -> Result<()> {
        let mut data = Vec::with_capacity(lines.len() * if self.half { 2 } else { 4 });
        for line in lines.chunks_exact(3 * self.width) {
            // Channels lie in the order of their names: B, G, R.
            for channel in [2, 1, 0] {
                for &value in line[channel..].iter().step_by(3) {
                    if self.half {
                        data.extend(f16::from_f32(value).to_ne_bytes());
                    } else {
                        data.extend(value.to_ne_bytes());
                    }
                }
            }
        }
        let index = BlockIndex {
            layer: 0,
            pixel_position: Vec2(0, self.done_lines),
            pixel_size: Vec2(self.width, count),
            level: Vec2(0, 0),
        };
        let block = UncompressedBlock { index, data };
        let chunk = block
            .compress_to_chunk(&self.headers)
            .map_err(|e| failed("OpenEXR", e))?;
        self.chunks.push(chunk);
        self.done_lines += count;
        Ok(())
    }
}

impl Encode for ExrWriter {
    fn push(&mut self, rows: Rows<'_>) -> Result<()> {
        let mut lines = std::mem::take(&mut self.waiting);
        lines.extend_from_slice(rows.as_f32()?);
        let mut done = 0;
        loop {
            let count = self.block_lines.min(self.height - self.done_lines);
            let end = done + count * 3 * self.width;
            if count == 0 || end > lines.len() {
                lines.drain(..done);
                self.waiting = lines;
                return Ok(());
            }
            self.compress(&lines[done..end], count)?;
            done = end;
        }
    }

    fn finish(self: Box<Self>) -> Result<Vec<u8>> {
        let mut file = Cursor::new(Vec::new());
        let chunks = self.chunks;
        block::write(&mut file, self.headers, true, |_, writer| {
            for (index, chunk) in chunks.into_iter().enumerate() {
                writer.write_chunk(index, chunk)?;
            }
            Ok(())
        })
        .map_err(|e| failed("OpenEXR", e))?;
        let mut file = file.into_inner();
        sort_attributes(&mut file);
        Ok(file)
    }
}

/// Puts the attributes of a header in the order of their names, as OpenEXR's own library does: the crate
/// keeps custom ones in an order that changes from run to run. The header stays as long as it was, so the
/// offsets in it hold. OpenEXR, File Layout: after eight bytes each attribute is its name, its type, its
/// size and its value; a zero ends them.
fn sort_attributes(file: &mut [u8]) {
    const FIRST: usize = 8;
    let mut attributes = Vec::new();
    let mut at = FIRST;
    while let Some(end) = attribute_end(file, at) {
        attributes.push(file[at..end].to_vec());
        at = end;
    }
    attributes.sort_by(|a, b| name_of(a).cmp(name_of(b)));
    file[FIRST..at].copy_from_slice(&attributes.concat());
}

fn name_of(attribute: &[u8]) -> &[u8] {
    attribute
        .split(|byte| *byte == 0)
        .next()
        .unwrap_or_default()
}

/// Where the attribute at `start` ends; none where there is none.
fn attribute_end(file: &[u8], start: usize) -> Option<usize> {
    let text = |from: usize| {
        let length = file.get(from..)?.iter().position(|byte| *byte == 0)?;
        (length > 0).then_some(from + length + 1)
    };
    let size = text(text(start)?)?;
    let bytes = file.get(size..)?.first_chunk::<4>()?;
    let end = size + 4 + u32::from_le_bytes(*bytes) as usize;
    (end <= file.len()).then_some(end)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::write::{OutFormat, PictureWriter, Rows};
    use exr::meta::attribute::{AttributeValue, TimeCode};

    /// The library's order of custom attributes is another one in each run of it.
    #[test]
    fn the_same_attributes_are_the_same_bytes() {
        let read =
            |file: &[u8]| block::read(Cursor::new(file), false).unwrap().headers()[0].clone();
        let write = |options: &WriteOptions| {
            let mut writer = PictureWriter::new(OutFormat::ExrF32, 2, 2, options).unwrap();
            writer.push_rows(Rows::F32(&[0.25; 12])).unwrap();
            writer.finish().unwrap()
        };
        let plain = read(&write(&WriteOptions::default()));
        let named = || {
            let mut header = plain.clone();
            for number in 0..20 {
                let name = Text::from(format!("note{number}").as_str());
                let value = AttributeValue::I32(number);
                header.own_attributes.other.insert(name, value);
            }
            let mut options = WriteOptions::default();
            let attributes = crate::carried::Attributes::of(&header, Vec2(0, 0));
            options.carried.attributes = Some(Box::new(attributes));
            write(&options)
        };
        let file = named();
        assert!((0..5).all(|_| named() == file));
        assert_eq!(read(&file).own_attributes.other.len(), 20);
        assert!(crate::decode(&file).is_ok());
    }

    /// All of this is read from files, and refused by the library when it writes.
    #[test]
    fn what_a_file_can_t_have_goes_and_the_rest_is_written() {
        let read =
            |file: &[u8]| block::read(Cursor::new(file), false).unwrap().headers()[0].clone();
        let write = |options: &WriteOptions| {
            let mut writer = PictureWriter::new(OutFormat::ExrF32, 2, 2, options).unwrap();
            writer.push_rows(Rows::F32(&[0.25; 12])).unwrap();
            writer.finish()
        };
        let mut header = read(&write(&WriteOptions::default()).unwrap());
        let code = TimeCode {
            hours: 10,
            minutes: 59,
            seconds: 3,
            frame: 47,
            drop_frame: false,
            color_frame: false,
            field_phase: false,
            binary_group_flags: [false; 3],
            binary_groups: [0; 8],
        };
        header.shared_attributes.time_code = Some(code);
        header.shared_attributes.pixel_aspect = f32::NAN;
        header.own_attributes.screen_window_width = -1.0;
        let named = |name: &str, value: &AttributeValue| (Text::from(name), value.clone());
        let number = AttributeValue::I32(7);
        let own = &mut header.own_attributes.other;
        own.extend([
            named("reel", &number),
            named("twice", &number),
            named("screenWindowWidth", &number),
            named("nothing", &AttributeValue::TextVector(Vec::new())),
            named("code", &AttributeValue::TimeCode(code)),
        ]);
        let shared = &mut header.shared_attributes.other;
        shared.insert(Text::from("twice"), number.clone());
        let mut options = WriteOptions::default();
        let attributes = crate::carried::Attributes::of(&header, Vec2(0, 0));
        options.carried.attributes = Some(Box::new(attributes));
        assert!(options.carried.note().unwrap().contains("time code"));
        let written = read(&write(&options).unwrap());
        assert_eq!(written.shared_attributes.time_code, None);
        assert_eq!(
            written.shared_attributes.pixel_aspect.to_bits(),
            1_f32.to_bits()
        );
        let all = [
            written.own_attributes.other,
            written.shared_attributes.other,
        ];
        let mut names: Vec<String> = all
            .iter()
            .flat_map(|other| other.keys().map(Text::to_string))
            .collect();
        names.sort();
        assert_eq!(names, ["reel", "twice"]);
    }
}
