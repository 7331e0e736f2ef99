//! TIFF 6.0, uncompressed RGB in strips, little-endian.
//!
//! Our own, since the tiff crate's encoder borrows its sink and so can't be handed rows from
//! outside; baseline TIFF is a header, the strips and one directory.

use lookwright_colour::{Error, Result};

use exif::Context;

use super::{Encode, Rows, WriteOptions};
use crate::carried::entries;
use crate::limits;

const SHORT: u16 = 3;
const LONG: u16 = 4;
const ASCII: u16 = 2;
const RATIONAL: u16 = 5;
const UNDEFINED: u16 = 7;

/// Strips of about this size read well everywhere (TIFF 6.0 suggests 8 KiB, for older machines).
const STRIP_BYTES: usize = 1 << 20;

pub(super) struct TiffWriter {
    width: u32,
    height: u32,
    float: bool,
    icc: Option<Vec<u8>>,
    description: Option<String>,
    photo: Vec<exif::Field>,
    file: Vec<u8>,
}

impl TiffWriter {
    pub(super) fn new(
        width: u32,
        height: u32,
        float: bool,
        options: &WriteOptions,
    ) -> Result<Self> {
        let sample_bytes = if float { 4 } else { 2 };
        let pixels = u64::from(width) * u64::from(height);
        // Everything but the pixels (directory, strip table, profile) stays far below 16 MiB.
        if pixels * 3 * sample_bytes > u64::from(u32::MAX) - (16 << 20) {
            return Err(Error::new(format!(
                "A TIFF of {width} x {height} pixels would pass 4 GiB: write OpenEXR or PNG."
            )));
        }
        let mut file = Vec::new();
        limits::reserve(&mut file, (pixels * 3 * sample_bytes) as usize + (1 << 16))?;
        // The offset of the directory follows at the end.
        file.extend_from_slice(b"II*\0\0\0\0\0");
        Ok(Self {
            width,
            height,
            float,
            icc: options.icc()?.filter(|_| !float),
            description: options.ascii_description(),
            photo: options.carried.photo.clone(),
            file,
        })
    }
}

impl Encode for TiffWriter {
    fn push(&mut self, rows: Rows<'_>) -> Result<()> {
        if self.float {
            self.file
                .extend(rows.as_f32()?.iter().flat_map(|value| value.to_le_bytes()));
        } else {
            self.file
                .extend(rows.as_u16()?.iter().flat_map(|code| code.to_le_bytes()));
        }
        Ok(())
    }

    fn finish(mut self: Box<Self>) -> Result<Vec<u8>> {
        let row_bytes = self.width as usize * if self.float { 12 } else { 6 };
        let rows_per_strip = (STRIP_BYTES / row_bytes).clamp(1, self.height as usize);
        let strips = (self.height as usize).div_ceil(rows_per_strip);
        let strip_bytes = rows_per_strip * row_bytes;
        let last_bytes = row_bytes * self.height as usize - (strips - 1) * strip_bytes;
        let offsets: Vec<u32> = (0..strips).map(|i| (8 + i * strip_bytes) as u32).collect();
        let mut counts = vec![strip_bytes as u32; strips];
        counts[strips - 1] = last_bytes as u32;

        let mut directory = Directory::default();
        directory.longs(256, &[self.width]);
        directory.longs(257, &[self.height]);
        directory.shorts(258, &[if self.float { 32 } else { 16 }; 3]);
        directory.shorts(259, &[1]); // no compression
        directory.shorts(262, &[2]); // RGB
        if let Some(text) = &self.description {
            let bytes: Vec<u8> = text.bytes().chain([0]).collect();
            directory.add(270, ASCII, bytes.len(), bytes);
        }
        directory.longs(273, &offsets);
        directory.shorts(277, &[3]); // samples per pixel
        directory.longs(278, &[rows_per_strip as u32]);
        directory.longs(279, &counts);
        let dots_per_inch = [72_u32, 1]
            .iter()
            .flat_map(|v| v.to_le_bytes())
            .collect::<Vec<u8>>();
        directory.add(282, RATIONAL, 1, dots_per_inch.clone());
        directory.add(283, RATIONAL, 1, dots_per_inch);
        directory.shorts(284, &[1]); // chunky
        directory.shorts(296, &[2]); // per inch
        directory.shorts(339, &[if self.float { 3 } else { 1 }; 3]); // sample format
        if let Some(icc) = &self.icc {
            directory.add(34675, UNDEFINED, icc.len(), icc.clone());
        }
        directory.add_all(entries(&self.photo, Context::Tiff));
        for (pointer, context) in [(34665, Context::Exif), (34853, Context::Gps)] {
            let entries = entries(&self.photo, context);
            if !entries.is_empty() {
                let mut apart = Directory::default();
                apart.add_all(entries);
                directory.longs(pointer, &[apart.append_to(&mut self.file)]);
            }
        }
        let start = directory.append_to(&mut self.file);
        self.file[4..8].copy_from_slice(&start.to_le_bytes());
        Ok(self.file)
    }
}

/// A directory: tags with their values.
#[derive(Default)]
struct Directory {
    entries: Vec<(u16, u16, u32, Vec<u8>)>,
}

impl Directory {
    fn add(&mut self, tag: u16, kind: u16, count: usize, value: Vec<u8>) {
        self.entries.push((tag, kind, count as u32, value));
    }

    fn shorts(&mut self, tag: u16, values: &[u16]) {
        self.add(
            tag,
            SHORT,
            values.len(),
            values.iter().flat_map(|v| v.to_le_bytes()).collect(),
        );
    }

    fn longs(&mut self, tag: u16, values: &[u32]) {
        self.add(
            tag,
            LONG,
            values.len(),
            values.iter().flat_map(|v| v.to_le_bytes()).collect(),
        );
    }

    fn add_all(&mut self, entries: Vec<(u16, u16, usize, Vec<u8>)>) {
        for (tag, kind, count, value) in entries {
            self.add(tag, kind, count, value);
        }
    }

    /// Writes the directory, by ascending tags, and then the values that don't fit into their entries,
    /// all at even offsets; gives the directory's own.
    fn append_to(mut self, file: &mut Vec<u8>) -> u32 {
        self.entries.sort_by_key(|entry| entry.0);
        file.resize(file.len().next_multiple_of(2), 0);
        let start = file.len() as u32;
        let mut value_at = start + 2 + 12 * self.entries.len() as u32 + 4;
        let mut values = Vec::new();
        file.extend_from_slice(&(self.entries.len() as u16).to_le_bytes());
        for (tag, kind, count, mut value) in self.entries {
            file.extend_from_slice(&tag.to_le_bytes());
            file.extend_from_slice(&kind.to_le_bytes());
            file.extend_from_slice(&count.to_le_bytes());
            if value.len() <= 4 {
                value.resize(4, 0);
                file.extend_from_slice(&value);
            } else {
                file.extend_from_slice(&value_at.to_le_bytes());
                value.resize(value.len().next_multiple_of(2), 0);
                value_at += value.len() as u32;
                values.extend(value);
            }
        }
        file.extend_from_slice(&[0; 4]); // no further directory
        file.extend(values);
        start
    }
}
