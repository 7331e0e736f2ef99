//! What a gain map's codes mean: ISO 21496-1's block of bytes, or XMP.

use roxmltree::{Document, Node};

/// Begins the block in a JPEG (ISO 21496-1, annex C).
pub(super) const ISO_MARK: &[u8] = b"urn:iso:std:iso:ts:21496:-1\0";
/// The namespace of the XMP.
const NAMESPACE: &str = "http://ns.adobe.com/hdr-gain-map/1.0/";
pub(super) const XMP_MARK: &[u8] = NAMESPACE.as_bytes();
const RDF: &str = "http://www.w3.org/1999/02/22-rdf-syntax-ns#";
/// More boost than this is a fault.
const MOST_STOPS: f64 = 16.0;

/// For each channel, in stops and linear light with the picture's white at 1.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Metadata {
    pub(crate) min: [f64; 3],
    pub(crate) max: [f64; 3],
    pub(crate) gamma: [f64; 3],
    /// Of the picture, then of its light.
    pub(crate) offsets: [[f64; 2]; 3],
}

const DAMAGED: &str = "what is said of it is damaged";
const OTHER_WAY: &str = "it leads from the brighter picture to the darker one";
const LATER: &str = "it is of a later sort than is read here";
const OTHER_PRIMARIES: &str = "it goes with the primaries of another picture";

impl Metadata {
    /// From XMP; `None` if that speaks of no gain map. Values left out are 0, 1 for gamma, 1/64 for
    /// offsets, as the first format of such files has it (version 1.0).
    pub(super) fn from_xmp(xmp: &str) -> Option<Result<Self, &'static str>> {
        if !xmp.contains(NAMESPACE) {
            return None;
        }
        let Ok(document) = Document::parse(xmp.trim_end_matches('\0')) else {
            return Some(Err(DAMAGED));
        };
        let of = document
            .descendants()
            .find(|node| said(node, "GainMapMax").is_some())?;
        if said(&of, "BaseRenditionIsHDR").is_some_and(|v| v[0] == "True") {
            return Some(Err(OTHER_WAY));
        }
        let numbers = |name: &str, else_: f64| -> Option<[f64; 3]> {
            let Some(words) = said(&of, name) else {
                return Some([else_; 3]);
            };
            let values: Option<Vec<f64>> = words.iter().map(|w| w.trim().parse().ok()).collect();
            match values?.as_slice() {
                [one] => Some([*one; 3]),
                [r, g, b] => Some([*r, *g, *b]),
                _ => None,
            }
        };
        let read = || {
            let offset = 1.0 / 64.0;
            let (sdr, hdr) = (numbers("OffsetSDR", offset)?, numbers("OffsetHDR", offset)?);
            Some(Self {
                min: numbers("GainMapMin", 0.0)?,
                max: numbers("GainMapMax", 0.0)?,
                gamma: numbers("Gamma", 1.0)?,
                offsets: [0, 1, 2].map(|c| [sdr[c], hdr[c]]),
            })
        };
        Some(read().ok_or(DAMAGED).and_then(Self::sound))
    }

    /// From the block behind [`ISO_MARK`]: big-endian; two versions of 16 bits, flags, then fractions:
    /// headroom of the picture and of its light, and for one channel or three minimum, maximum, gamma,
    /// offset of the picture, offset of its light. A flag of 0x80 says that there are three channels, one
    /// of 0x40 that they are those of the picture's primaries; one of 8, which writers in use set, gives
    /// all fractions one denominator, ahead.
    pub(super) fn from_iso(block: &[u8]) -> Result<Self, &'static str> {
        let mut reader = Reader { rest: block };
        // What a reader has to know at least, and what the writer did.
        let [minimum, _writer] = [reader.u16(), reader.u16()];
        if minimum.is_some_and(|minimum| minimum > 0) {
            return Err(LATER);
        }
        let mut read = || {
            // A picture alone has only the versions.
            let flags = reader.u8()?;
            let common = if flags & 8 == 0 {
                None
            } else {
                Some(reader.u32()?)
            };
            let mut headroom = || -> Option<f64> {
                let n = f64::from(reader.u32()?);
                Some(n / f64::from(common.map_or_else(|| reader.u32(), Some)?))
            };
            let (own, other) = (headroom()?, headroom()?);
            let channels = if flags & 0x80 == 0 { 1 } else { 3 };
            let mut fraction = || -> Option<f64> {
                let n = f64::from(reader.u32()?.cast_signed());
                Some(n / f64::from(common.map_or_else(|| reader.u32(), Some)?))
            };
            let mut each = Vec::new();
            for _ in 0..channels {
                let mut five = [0.0; 5];
                for value in &mut five {
                    *value = fraction()?;
                }
                each.push(five);
            }
            let of = |c: usize| each[c.min(channels - 1)];
            let all = |i: usize| [0, 1, 2].map(|c| of(c)[i]);
            let found = Self {
                min: all(0),
                max: all(1),
                gamma: all(2),
                offsets: [0, 1, 2].map(|c| [of(c)[3], of(c)[4]]),
            };
            Some((found, own > other, channels == 3 && flags & 0x40 == 0))
        };
        match read() {
            Some((_, true, _)) => Err(OTHER_WAY),
            Some((_, _, true)) => Err(OTHER_PRIMARIES),
            Some((found, ..)) => found.sound(),
            None => Err(DAMAGED),
        }
    }

    /// Only numbers that a picture can be made with.
    fn sound(self) -> Result<Self, &'static str> {
        let stops = self.min.iter().chain(&self.max);
        let stops = stops.copied().all(|v| v.abs() <= MOST_STOPS);
        let gamma = self.gamma.iter().all(|v| (0.01..=100.0).contains(v));
        let offsets = self
            .offsets
            .iter()
            .flatten()
            .all(|v| (-1.0..=1.0).contains(v));
        let rising = self.min.iter().zip(&self.max).all(|(min, max)| min <= max);
        if stops && gamma && offsets && rising {
            Ok(self)
        } else {
            Err(DAMAGED)
        }
    }
}

/// The words of a property, which stands as an attribute, an element, or a list of three.
fn said(node: &Node<'_, '_>, name: &str) -> Option<Vec<String>> {
    if let Some(value) = node.attribute((NAMESPACE, name)) {
        return Some(vec![value.to_owned()]);
    }
    let element = node
        .children()
        .find(|n| n.has_tag_name((NAMESPACE, name)))?;
    let items: Vec<String> = element
        .descendants()
        .filter(|n| n.has_tag_name((RDF, "li")))
        .filter_map(|n| n.text().map(str::to_owned))
        .collect();
    if items.is_empty() {
        return element.text().map(|text| vec![text.to_owned()]);
    }
    Some(items)
}

struct Reader<'a> {
    rest: &'a [u8],
}

impl Reader<'_> {
    fn take<const N: usize>(&mut self) -> Option<[u8; N]> {
        let (head, rest) = self.rest.split_first_chunk::<N>()?;
        self.rest = rest;
        Some(*head)
    }
    fn u8(&mut self) -> Option<u8> {
        self.take::<1>().map(|[b]| b)
    }
    fn u16(&mut self) -> Option<u16> {
        self.take().map(u16::from_be_bytes)
    }
    fn u32(&mut self) -> Option<u32> {
        self.take().map(u32::from_be_bytes)
    }
}
