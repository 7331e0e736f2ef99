//! ICC device links: a table of codes as a profile, for still-picture programs and print.
//!
//! Source: ICC.1:2010 (profile version 4.3), sections 7 (header), 8.6 (DeviceLink profiles: which
//! tags), 10.10 (lut16Type), 10.13 (multiLocalizedUnicodeType), 10.17 (profileSequenceDescType).
//! Written from memory of it and read by little-cms and moxcms.
//!
//! A link has no profile connection space between its two ends: RGB codes go in and RGB codes come out,
//! 16 bits wide, so it can't fall victim to an intent or a white. It says nothing of how it is read between
//! nodes; both readers go by tetrahedra.

use super::{Grid3, Label};
use lookwright_colour::error::{Error, Result};

/// Bytes of the header.
const HEADER: usize = 128;
/// Bytes of an entry of the tag table.
const ENTRY: usize = 12;
/// Version 4.3.
const VERSION: u32 = 0x0430_0000;
/// White of the profile connection space, D50 as the header has it (7.2.16).
const D50: [u32; 3] = [0xf6d6, 0x1_0000, 0xd32d];

/// The bytes of a device link of the lattice. The same table and words give the same bytes: no clock is
/// read, the date in the header is the first of 2000. Values outside 0 ... 1 are held at the ends.
///
/// # Errors
/// If the domain is not 0 ... 1, which the format cannot say.
pub fn write_link(grid: &Grid3, label: &Label) -> Result<Vec<u8>> {
    if grid.domain_min() != [0.0; 3] || grid.domain_max() != [1.0; 3] {
        return Err(Error::new(
            "a device link has the domain 0 to 1, this table has another",
        ));
    }
    let title = match label.title.as_str() {
        "" => "Look without a name",
        title => title,
    };
    let mut description = title.to_owned();
    for words in [&label.input, &label.output, &label.fingerprint] {
        if !words.is_empty() {
            description.push_str("; ");
            description.push_str(words);
        }
    }
    let tags: [(&[u8; 4], Vec<u8>); 4] = [
        (b"desc", words(&description)),
        (b"cprt", words("No licence is stated by this file.")),
        (b"pseq", sequence([&label.input, &label.output])),
        (b"A2B0", lattice(grid)),
    ];
    Ok(profile(&tags))
}

/// Header, tag table and tags, each tag at a multiple of four.
fn profile(tags: &[(&[u8; 4], Vec<u8>)]) -> Vec<u8> {
    let first = HEADER + 4 + ENTRY * tags.len();
    let mut table = number(tags.len() as u32).to_vec();
    let mut bodies = Vec::new();
    for (name, body) in tags {
        table.extend(*name);
        table.extend(number((first + bodies.len()) as u32));
        table.extend(number(body.len() as u32));
        bodies.extend(body);
        bodies.resize(bodies.len().next_multiple_of(4), 0);
    }
    let mut bytes = header((first + bodies.len()) as u32);
    bytes.extend(table);
    bytes.extend(bodies);
    bytes
}

fn header(size: u32) -> Vec<u8> {
    let mut bytes = number(size).to_vec();
    bytes.extend([0; 4]);
    bytes.extend(number(VERSION));
    for signature in [b"link", b"RGB ", b"RGB "] {
        bytes.extend(signature);
    }
    for part in [2000_u16, 1, 1, 0, 0, 0] {
        bytes.extend(part.to_be_bytes());
    }
    bytes.extend(b"acsp");
    // Platform, flags, maker, model, attributes, intent: none stated, the first of each.
    bytes.extend([0; 28]);
    for value in D50 {
        bytes.extend(number(value));
    }
    bytes.resize(HEADER, 0);
    bytes
}

fn number(value: u32) -> [u8; 4] {
    value.to_be_bytes()
}

/// Words in English, filled to a multiple of four bytes with a space.
fn words(text: &str) -> Vec<u8> {
    let mut units: Vec<u16> = text
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect::<String>()
        .encode_utf16()
        .collect();
    if units.len() % 2 == 1 {
        units.push(u16::from(b' '));
    }
    let mut bytes = b"mluc\0\0\0\0".to_vec();
    for value in [1, ENTRY as u32] {
        bytes.extend(number(value));
    }
    bytes.extend(b"enUS");
    bytes.extend(number(2 * units.len() as u32));
    bytes.extend(number(28));
    bytes.extend(units.iter().flat_map(|unit| unit.to_be_bytes()));
    bytes
}

/// What was linked: codes that go in, and the screen whose codes come out.
fn sequence(ends: [&str; 2]) -> Vec<u8> {
    let mut bytes = b"pseq\0\0\0\0".to_vec();
    bytes.extend(number(ends.len() as u32));
    for end in ends {
        // Maker, model, attributes and technology: none stated.
        bytes.extend([0; 20]);
        bytes.extend(words(""));
        bytes.extend(words(end));
    }
    bytes
}

/// lut16Type: no matrix, straight curves before and after, blue fastest.
fn lattice(grid: &Grid3) -> Vec<u8> {
    let size = grid.size();
    let mut bytes = b"mft2\0\0\0\0".to_vec();
    bytes.extend([3, 3, size as u8, 0]);
    for place in 0..9 {
        bytes.extend(number(if place % 4 == 0 { 0x1_0000 } else { 0 }));
    }
    let straight = [0, 0, 0xff, 0xff];
    for entries in [2_u16, 2] {
        bytes.extend(entries.to_be_bytes());
    }
    bytes.extend(straight.repeat(3));
    bytes.reserve(grid.nodes().len() * 6 + 12);
    for r in 0..size {
        for g in 0..size {
            for b in 0..size {
                for value in grid.node([r, g, b]) {
                    let code = (value.clamp(0.0, 1.0) * 65_535.0 + 0.5) as u16;
                    bytes.extend(code.to_be_bytes());
                }
            }
        }
    }
    bytes.extend(straight.repeat(3));
    bytes
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(bytes: &[u8], place: usize) -> u32 {
        let four = [0, 1, 2, 3].map(|i| bytes[place + i]);
        u32::from_be_bytes(four)
    }

    /// Sizes and places as the format counts them: 128 bytes of header, tags at multiples of four,
    /// a lut16Type of 52 + 12 + 6 N^3 + 12 bytes.
    #[test]
    fn the_parts_lie_where_the_table_says() {
        let grid = Grid3::sample_codes(3, |[r, g, b]| [r, g * 0.5, b * 2.0]).unwrap();
        let label = Label {
            title: "Night\nferry".to_owned(),
            input: "Rec.709, full range".to_owned(),
            ..Label::default()
        };
        let bytes = write_link(&grid, &label).unwrap();
        assert_eq!(at(&bytes, 0) as usize, bytes.len());
        assert_eq!(&bytes[12..24], b"linkRGB RGB ");
        assert_eq!(&bytes[36..40], b"acsp");
        assert_eq!(at(&bytes, 128), 4);
        let tag = |i: usize| {
            let entry = 132 + 12 * i;
            let start = at(&bytes, entry + 4) as usize;
            assert_eq!(start % 4, 0);
            &bytes[start..start + at(&bytes, entry + 8) as usize]
        };
        assert_eq!(&tag(0)[..4], b"mluc");
        let lut = tag(3);
        assert_eq!(lut.len(), 52 + 12 + 6 * 27 + 12);
        // Blue fastest: the second node is blue a half, which comes out as 1.
        assert_eq!(lut[64 + 6..64 + 12], [0, 0, 0, 0, 0xff, 0xff]);
        // Red last: the last node but for green and blue at 0.
        assert_eq!(lut[64 + 18 * 6..64 + 18 * 6 + 6], [0xff, 0xff, 0, 0, 0, 0]);
    }

    #[test]
    fn other_domains_are_refused() {
        let wide = Grid3::sample(2, [-1.0; 3], [1.0; 3], |rgb| rgb).unwrap();
        assert!(write_link(&wide, &Label::default()).is_err());
    }
}
