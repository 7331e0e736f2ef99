//! OpenEXR, by the exr crate: scan lines or tiles, half, float or integer, every compression that
//! the crate decodes; of several parts the first with colour.

use std::io::{Cursor, Read, Seek};

use exr::block::chunk::{Chunk, CompressedBlock};
use exr::block::lines::LineRef;
use exr::block::reader::ChunksReader;
use exr::block::{self, UncompressedBlock};
use exr::meta::attribute::{Chromaticities, SampleType};
use exr::meta::header::Header;
use exr::prelude::{Vec2, f16};
use lookwright_colour::space::{Primaries, Xy};
use lookwright_colour::{Error, Result};

use super::channels::ALPHA_DROPPED;
use super::{Raw, broken, exr_guard, unsupported};
use crate::colour::Tags;
use crate::decoded::Samples;
use crate::exif::Exif;
use crate::header::{Gate, Header as FileHeader};
use crate::kind::Kind;
use crate::limits;

/// Which channels of which part make the picture.
struct Choice {
    part: usize,
    /// Index of red, green, blue; all the same for a picture of luminance alone.
    rgb: [usize; 3],
    has_alpha: bool,
}

pub(super) fn read(bytes: &[u8], gate: Gate<'_>) -> Result<Raw> {
    exr_guard::refuse_inverted_window(bytes)?;
    let reader = block::read(Cursor::new(bytes), false).map_err(sentence)?;
    let choice = choose(reader.headers())?;
    let header = reader.headers()[choice.part].clone();
    let frame = Frame::new(&header)?;
    let (file_bits, floats) = match header.channels.list[choice.rgb[0]].sample_type {
        SampleType::F16 => (16, true),
        SampleType::F32 => (32, true),
        SampleType::U32 => (32, false),
    };
    // The display window is what is read, but whole blocks of the data window are unpacked.
    for (width, height) in [(frame.width, frame.height), header.layer_size.into()] {
        gate(&FileHeader {
            kind: Kind::Exr,
            width: width as u64,
            height: height as u64,
            channels: header.channels.list.len() as u32,
            bits: file_bits.into(),
            floats,
            decoding_bytes: 12,
        })?;
    }

    let mut samples = limits::buffer(3 * frame.width * frame.height)?;
    let filled = fill(reader, &header, &choice, &frame, &mut samples)?;
    if filled != header.layer_size.0 * header.layer_size.1 {
        return Err(broken(Kind::Exr, "rows or tiles are missing"));
    }

    let mut notes = Vec::new();
    if choice.has_alpha {
        notes.push(ALPHA_DROPPED.to_owned());
    }
    if frame.differs {
        notes.push(
            "The EXR's data window differs from its display window, which was read; \
                    what lies outside is cut off and gaps are black."
                .to_owned(),
        );
    }
    if samples.iter().any(|value| !value.is_finite()) {
        notes.push("Some values are infinite or not numbers.".to_owned());
    }
    let chromaticities = header.shared_attributes.chromaticities.as_ref();
    Ok(Raw {
        width: frame.width as u32,
        height: frame.height as u32,
        samples: Samples::F32(samples),
        file_bits,
        tags: Tags {
            linear: chromaticities.and_then(primaries),
            ..Tags::default()
        },
        exif: Exif::default(),
        notes,
    })
}

/// The first flat part that has red, green and blue, or luminance alone. Channels of a named
/// layer ("beauty.R") serve when there are no plain ones.
fn choose(headers: &[Header]) -> Result<Choice> {
    let flat = || {
        headers
            .iter()
            .enumerate()
            .filter(|(_, header)| !header.deep)
    };
    let names = |header: &Header| -> Vec<String> {
        header
            .channels
            .list
            .iter()
            .map(|channel| channel.name.to_string())
            .collect()
    };
    let pick = |part: usize, names: &[String], prefix: &str| {
        let index = |letter: &str| {
            names.iter().position(|name| {
                let rest = name.strip_prefix(prefix);
                rest.is_some_and(|rest| rest.eq_ignore_ascii_case(letter))
            })
        };
        let rgb = match (index("R"), index("G"), index("B")) {
            (Some(r), Some(g), Some(b)) => [r, g, b],
            _ => [index("Y").filter(|_| index("RY").is_none())?; 3],
        };
        Some(Choice {
            part,
            rgb,
            has_alpha: index("A").is_some(),
        })
    };
    let plain = flat().find_map(|(part, header)| pick(part, &names(header), ""));
    let layered = || {
        flat().find_map(|(part, header)| {
            let names = names(header);
            names.iter().find_map(|name| {
                let dot = name.rfind('.')?;
                pick(part, &names, &name[..=dot])
            })
        })
    };
    if let Some(choice) = plain.or_else(layered) {
        return Ok(choice);
    }
    let deep = headers.iter().all(|header| header.deep);
    let what = if deep {
        "holds deep samples"
    } else {
        "has no red, green and blue channels"
    };
    Err(unsupported(
        Kind::Exr,
        what,
        "save it flat, with channels R, G and B",
    ))
}

/// The display window, and where the data window lies in it.
struct Frame {
    width: usize,
    height: usize,
    /// Of the data window's first pixel from the display window's.
    offset: (i64, i64),
    differs: bool,
}

impl Frame {
    fn new(header: &Header) -> Result<Self> {
        let display = header.shared_attributes.display_window;
        let data = header.own_attributes.layer_position;
        let offset = (
            i64::from(data.0) - i64::from(display.position.0),
            i64::from(data.1) - i64::from(display.position.1),
        );
        let (width, height) = (display.size.0, display.size.1);
        let size = (header.layer_size.0 as i64, header.layer_size.1 as i64);
        let apart = |at: i64, size: i64, whole: usize| at + size <= 0 || at >= whole as i64;
        if apart(offset.0, size.0, width) || apart(offset.1, size.1, height) {
            return Err(unsupported(
                Kind::Exr,
                "has its picture outside its display window",
                "set the display window and save it again",
            ));
        }
        let differs = offset != (0, 0) || header.layer_size != display.size;
        Ok(Self {
            width,
            height,
            offset,
            differs,
        })
    }
}

/// Writes the chosen channels into `samples`; gives how many pixels the file held.
fn fill<R: Read + Seek>(
    reader: block::reader::Reader<R>,
    header: &Header,
    choice: &Choice,
    frame: &Frame,
    samples: &mut [f32],
) -> Result<usize> {
    let mut values = Vec::new();
    let mut counts = [0_usize; 3];
    let mut chunks = reader.all_chunks(false).map_err(sentence)?;
    while let Some(chunk) = chunks.read_next_chunk() {
        let chunk = chunk.map_err(sentence)?;
        if chunk.layer_index != choice.part || !is_full_size(&chunk) {
            continue;
        }
        exr_guard::check(&chunk, header)?;
        let block = UncompressedBlock::decompress_chunk(chunk, chunks.meta_data(), false);
        let block = block.map_err(sentence)?;
        for line in block.lines(&header.channels) {
            let channel = line.location.channel;
            if !choice.rgb.contains(&channel) {
                continue;
            }
            decode_line(
                &line,
                header.channels.list[channel].sample_type,
                &mut values,
            )?;
            for (slot, &wanted) in choice.rgb.iter().enumerate() {
                if wanted == channel {
                    counts[slot] += values.len();
                    place(&line, &values, slot, frame, samples);
                }
            }
        }
    }
    Ok(counts.into_iter().min().unwrap_or(0))
}

/// Not one of the smaller copies that a tiled file may hold.
fn is_full_size(chunk: &Chunk) -> bool {
    match &chunk.compressed_block {
        CompressedBlock::Tile(tile) => tile.coordinates.level_index == Vec2(0, 0),
        _ => true,
    }
}

fn decode_line(line: &LineRef<'_>, kind: SampleType, values: &mut Vec<f32>) -> Result<()> {
    values.clear();
    match kind {
        SampleType::F32 => {
            for value in line.read_samples::<f32>() {
                values.push(value.map_err(sentence)?);
            }
        }
        SampleType::F16 => {
            for value in line.read_samples::<f16>() {
                values.push(value.map_err(sentence)?.to_f32());
            }
        }
        SampleType::U32 => {
            for value in line.read_samples::<u32>() {
                values.push(value.map_err(sentence)? as f32);
            }
        }
    }
    Ok(())
}

/// Puts one channel's line where it lies in the display window, cutting off what lies outside.
fn place(line: &LineRef<'_>, values: &[f32], slot: usize, frame: &Frame, samples: &mut [f32]) {
    let y = line.location.position.1 as i64 + frame.offset.1;
    let x = line.location.position.0 as i64 + frame.offset.0;
    if y < 0 || y >= frame.height as i64 {
        return;
    }
    let skip = (-x).clamp(0, values.len() as i64) as usize;
    let first = x.max(0) as usize;
    let count = (values.len() - skip).min(frame.width.saturating_sub(first));
    let start = 3 * (y as usize * frame.width + first) + slot;
    for (index, &value) in values[skip..skip + count].iter().enumerate() {
        samples[start + 3 * index] = value;
    }
}

fn primaries(c: &Chromaticities) -> Option<Primaries> {
    let [r, g, b, w] =
        [c.red, c.green, c.blue, c.white].map(|p| Xy::new(f64::from(p.0), f64::from(p.1)));
    Primaries::new(r, g, b, w).ok()
}

fn sentence(error: exr::error::Error) -> Error {
    match error {
        exr::error::Error::NotSupported(what) => unsupported(
            Kind::Exr,
            &format!("uses a rare feature ({what})"),
            "save it flat, as RGB, with ZIP or PIZ compression",
        ),
        other => broken(Kind::Exr, other),
    }
}
