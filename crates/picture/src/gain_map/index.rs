//! Where a JPEG's gain map lies, and what is said of it.

use super::metadata::{ISO_MARK, Metadata, XMP_MARK};

/// A gain map's file within the picture's, and what its codes mean.
pub(crate) struct Found<'a> {
    pub(crate) jpeg: &'a [u8],
    pub(crate) metadata: Metadata,
}

/// Begins the multi-picture index (CIPA DC-007, 5.2).
const INDEX_MARK: &[u8] = b"MPF\0";
/// Begins XMP in a JPEG (XMP specification, part 3, 1.1.3).
const XMP_HEAD: &[u8] = b"http://ns.adobe.com/xap/1.0/\0";
/// An index of more pictures is not gone through.
const MOST: usize = 16;

/// Whether a JPEG's own header speaks of a gain map. Its first bytes are enough.
pub(crate) fn announced(bytes: &[u8]) -> bool {
    let mut index = false;
    let mut spoken = false;
    for segment in Segments::of(bytes) {
        index |= segment.marker == 0xe2 && segment.body.starts_with(INDEX_MARK);
        spoken |= segment.body.starts_with(ISO_MARK)
            || (segment.body.starts_with(XMP_HEAD)
                && segment.body.windows(XMP_MARK.len()).any(|w| w == XMP_MARK));
    }
    index && spoken
}

/// The gain map of a JPEG, if it has one that can be used; else why not.
pub(crate) fn find(bytes: &[u8]) -> Option<Result<Found<'_>, &'static str>> {
    if !announced(bytes) {
        return None;
    }
    for jpeg in others(bytes) {
        let said = Segments::of(jpeg).find_map(|segment| {
            if let Some(block) = segment.body.strip_prefix(ISO_MARK) {
                return Some(Metadata::from_iso(block));
            }
            let xmp = segment.body.strip_prefix(XMP_HEAD)?;
            Metadata::from_xmp(core::str::from_utf8(xmp).ok()?)
        });
        if let Some(said) = said {
            return Some(said.map(|metadata| Found { jpeg, metadata }));
        }
    }
    Some(Err("it is not where the file says"))
}

/// The pictures behind the first, by the index.
fn others(bytes: &[u8]) -> Vec<&[u8]> {
    let found = Segments::of(bytes).find_map(|segment| {
        let index = segment.body.strip_prefix(INDEX_MARK)?;
        entries(index).map(|entries| (segment.at + INDEX_MARK.len(), entries))
    });
    let Some((base, entries)) = found else {
        return Vec::new();
    };
    let slice = |(size, offset): &(u32, u32)| {
        let from = base.checked_add(*offset as usize)?;
        let to = from.checked_add(*size as usize)?.min(bytes.len());
        bytes
            .get(from..to)
            .filter(|part| part.starts_with(&[0xff, 0xd8]))
    };
    // The first picture's offset is 0, by which nothing begins.
    entries.iter().skip(1).filter_map(slice).collect()
}

/// Size and offset of each picture, offsets from where the index's own header begins.
fn entries(index: &[u8]) -> Option<Vec<(u32, u32)>> {
    let little = match index.get(..4)? {
        [b'I', b'I', 42, 0] => true,
        [b'M', b'M', 0, 42] => false,
        _ => return None,
    };
    let u16_at = |at: usize| {
        let b = index.get(at..at.checked_add(2)?)?.try_into().ok()?;
        Some(if little {
            u16::from_le_bytes(b)
        } else {
            u16::from_be_bytes(b)
        })
    };
    let u32_at = |at: usize| {
        let b = index.get(at..at.checked_add(4)?)?.try_into().ok()?;
        Some(if little {
            u32::from_le_bytes(b)
        } else {
            u32::from_be_bytes(b)
        })
    };
    let first = u32_at(4)? as usize;
    let count = usize::from(u16_at(first)?);
    for entry in 0..count {
        let at = first.checked_add(2 + 12 * entry)?;
        if u16_at(at)? != 0xb002 {
            continue;
        }
        let (length, from) = (u32_at(at + 4)? as usize, u32_at(at + 8)? as usize);
        return (0..(length / 16).min(MOST))
            .map(|i| {
                let at = from.checked_add(16 * i)?;
                Some((u32_at(at.checked_add(4)?)?, u32_at(at.checked_add(8)?)?))
            })
            .collect();
    }
    None
}

/// A header segment: its marker, where its body lies, and the body.
struct Segment<'a> {
    marker: u8,
    at: usize,
    body: &'a [u8],
}

/// The segments before a JPEG's first scan (ITU-T T.81, B.1.1.4).
struct Segments<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> Segments<'a> {
    fn of(bytes: &'a [u8]) -> Self {
        Self { bytes, at: 2 }
    }
}

impl<'a> Iterator for Segments<'a> {
    type Item = Segment<'a>;

    fn next(&mut self) -> Option<Segment<'a>> {
        let rest = self.bytes.get(self.at..)?;
        let start = rest
            .windows(2)
            .position(|w| w[0] == 0xff && !matches!(w[1], 0 | 0xff))?;
        let marker = rest[start + 1];
        if marker == 0xda || marker == 0xd9 {
            return None;
        }
        let length = rest.get(start + 2..start + 4)?;
        let length = usize::from(u16::from_be_bytes([length[0], length[1]]));
        let body = rest.get(start + 4..start + 2 + length)?;
        let at = self.at + start + 4;
        self.at = at + body.len();
        Some(Segment { marker, at, body })
    }
}
