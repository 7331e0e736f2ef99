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
use super::{Extent, Raw, broken, exr_guard, unsupported};
use crate::carried::{Attributes, Carried};
use crate::colour::Tags;
use crate::decoded::{Samples, Shown};
use crate::exif::{Exif, tidy};
use crate::header::{Gate, Header as FileHeader};
use crate::kind::Kind;
use crate::limits;

/// Which channels of which part make the picture.
struct Choice {
    part: usize,
    /// Index of red, green, blue; all the same for a picture of luminance alone.
    rgb: [usize; 3],
    /// Index of the alpha that goes with them.
    alpha: Option<usize>,
}

pub(super) fn read(bytes: &[u8], extent: Extent, gate: Gate<'_>) -> Result<Raw> {
    exr_guard::refuse_inverted_window(bytes)?;
    let reader = block::read(Cursor::new(bytes), false).map_err(sentence)?;
    let choice = choose(reader.headers())?;
    let header = reader.headers()[choice.part].clone();
    let others = left_out(reader.headers(), &choice);
    let frame = Frame::new(&header, extent)?;
    let (file_bits, floats) = match header.channels.list[choice.rgb[0]].sample_type {
        SampleType::F16 => (16, true),
        SampleType::F32 => (32, true),
        SampleType::U32 => (32, false),
    };
    // Whole blocks of the data window are unpacked, even if less is read.
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
    if choice.alpha.is_some() {
        notes.push(ALPHA_DROPPED.to_owned());
    }
    notes.extend(others);
    if frame.cut {
        notes.push(
            "The EXR's data window differs from its display window: what lies outside of what was read \
                    is cut off, and gaps are black."
                .to_owned(),
        );
    }
    if samples.iter().any(|value| !value.is_finite()) {
        notes.push("Some values are infinite or not numbers.".to_owned());
    }
    let attributes = Carried {
        attributes: Some(Box::new(Attributes::of(&header, frame.position))),
        ..Carried::default()
    };
    notes.extend(attributes.note());
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
        shown: frame.shown,
        attributes,
        gain: None,
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
            alpha: index("A"),
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

/// What is in the file and in no picture that is read of it: other layers, depth, mattes.
fn left_out(headers: &[Header], choice: &Choice) -> Option<String> {
    const MOST: usize = 6;
    let mut names = Vec::new();
    for (part, header) in headers.iter().enumerate() {
        let layer = header.own_attributes.layer_name.as_ref();
        for (index, channel) in header.channels.list.iter().enumerate() {
            let name = tidy(&channel.name.to_string()).unwrap_or_else(|| index.to_string());
            if part != choice.part {
                let layer = layer.and_then(|layer| tidy(&layer.to_string()));
                let layer = layer.unwrap_or_else(|| part.to_string());
                names.push(format!("{layer}.{name}"));
            } else if !choice.rgb.contains(&index) && choice.alpha != Some(index) {
                names.push(name);
            }
        }
    }
    let more = names.len().saturating_sub(MOST);
    let listed = names.get(..MOST).unwrap_or(&names).join(", ");
    match (names.len(), more) {
        (0, _) => None,
        (_, 0) => Some(format!(
            "Channels beside the colours were left out: {listed}."
        )),
        _ => Some(format!(
            "Channels beside the colours were left out: {listed} and {more} more."
        )),
    }
}

/// What is read of the plane that a file's windows lie on.
struct Frame {
    width: usize,
    height: usize,
    /// Of its first pixel on the plane.
    position: Vec2<i32>,
    /// Of the data window's first pixel from it.
    offset: (i64, i64),
    /// Whether some of the data is not read, or some of the frame is not there.
    cut: bool,
    /// The display window, if there is more.
    shown: Option<Shown>,
}

impl Frame {
    fn new(header: &Header, extent: Extent) -> Result<Self> {
        let display = header.shared_attributes.display_window;
        let sides = |at: Vec2<i32>, size: Vec2<usize>| {
            let end = |at: i32, size: usize| i64::from(at) + size as i64;
            [
                (i64::from(at.0), end(at.0, size.0)),
                (i64::from(at.1), end(at.1, size.1)),
            ]
        };
        let data = sides(header.own_attributes.layer_position, header.layer_size);
        let seen = sides(display.position, display.size);
        let apart = |a: (i64, i64), b: (i64, i64)| a.1 <= b.0 || b.1 <= a.0;
        if apart(data[0], seen[0]) || apart(data[1], seen[1]) {
            return Err(unsupported(
                Kind::Exr,
                "has its picture outside its display window",
                "set the display window and save it again",
            ));
        }
        let both = |a: (i64, i64), b: (i64, i64)| (a.0.min(b.0), a.1.max(b.1));
        let [x, y] = match extent {
            Extent::Shown => seen,
            Extent::Whole => [both(data[0], seen[0]), both(data[1], seen[1])],
        };
        let shown = ([x, y] != seen).then_some(Shown {
            left: (seen[0].0 - x.0) as u32,
            top: (seen[1].0 - y.0) as u32,
            width: display.size.0 as u32,
            height: display.size.1 as u32,
        });
        Ok(Self {
            width: (x.1 - x.0) as usize,
            height: (y.1 - y.0) as usize,
            position: Vec2(x.0 as i32, y.0 as i32),
            offset: (data[0].0 - x.0, data[1].0 - y.0),
            cut: [x, y] != data,
            shown,
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

/// Puts one channel's line where it lies in what is read, cutting off what lies outside.
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

#[cfg(test)]
mod tests {
    use exr::prelude::{AnyChannel, AnyChannels, FlatSamples, Image, WritableImage};
    use smallvec::SmallVec;

    use super::*;

    fn notes(names: &[&str]) -> Vec<String> {
        let channels: SmallVec<[_; 4]> = names
            .iter()
            .map(|name| AnyChannel::new(*name, FlatSamples::F32(vec![0.5; 4])))
            .collect();
        let mut file = Cursor::new(Vec::new());
        let image = Image::from_channels((2, 2), AnyChannels::sort(channels));
        image.write().to_buffered(&mut file).unwrap();
        crate::decode(file.get_ref()).unwrap().notes
    }

    #[test]
    fn the_alpha_is_the_one_that_goes_with_the_colours() {
        let left = |notes: &[String]| {
            let note = notes.iter().find(|note| note.contains("beside")).cloned();
            note.unwrap_or_default()
        };
        let matte = notes(&["R", "G", "B", "A", "matte.A", "lamp.Area"]);
        assert!(matte.iter().any(|note| note == ALPHA_DROPPED));
        assert!(
            left(&matte).ends_with("left out: lamp.Area, matte.A."),
            "{matte:?}"
        );
        let none = notes(&["R", "G", "B", "matte.A"]);
        assert!(!none.iter().any(|note| note == ALPHA_DROPPED), "{none:?}");
        let layer = notes(&["key.R", "key.G", "key.B", "key.A"]);
        assert_eq!(layer, [ALPHA_DROPPED]);
    }

    #[test]
    fn a_name_is_one_short_line() {
        let long = "z".repeat(200);
        let all = notes(&["R", "G", "B", "a\nb", &long]);
        let note = all.iter().find(|note| note.contains("beside")).unwrap();
        assert!(note.contains(": ab, zzz") && note.len() < 160, "{note}");
    }
}
