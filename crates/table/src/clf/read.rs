//! The CLF reader: the list, its version, and what its nodes share.

use super::depth::{Depth, Depths};
use super::{Exponent, Log, Lut1d, Lut3d, Matrix, ProcessList, ProcessNode, Range};
use crate::cdl::{self, Clamp};
use crate::number::quoted;
use crate::xml::{Element, with_root};
use lookwright_colour::error::{Error, Result};

/// Namespace of SMPTE ST 2136-1.
pub(super) const NAMESPACE: &str = "http://www.smpte-ra.org/ns/2136-1/2024";
/// What every namespace of SMPTE ST 2136-1, of whatever year, begins with.
const NAMESPACE_FAMILY: &str = "http://www.smpte-ra.org/ns/2136-1/";
/// `compCLFversion` of SMPTE files.
const SMPTE_VERSION: &str = "ST2136-1:2024";
/// The last version of the specification before SMPTE's.
const VERSION_MAX: f64 = 3.0;
/// The first version with Log and Exponent, and without IndexMap.
const VERSION_3: f64 = 3.0;

/// Reads a CLF file.
///
/// Memory: below 6 times `bytes.len()` plus 40 MB, whatever its dimensions claim.
///
/// # Errors
/// One sentence with the line it concerns.
pub fn read(bytes: &[u8]) -> Result<ProcessList> {
    with_root(bytes, read_root)
}

/// Reads the list under a parsed root element.
pub(crate) fn read_root(root: Element<'_, '_>) -> Result<ProcessList> {
    if root.name() != "ProcessList" {
        return Err(root.error("is not the root of a CLF file; expected ProcessList"));
    }
    let version = version(root)?;
    let mut list = ProcessList {
        id: id(root, version)?,
        ..ProcessList::default()
    };
    let mut depth_before: Option<Depth> = None;
    for child in root.children() {
        match child.name() {
            "Description" => list.descriptions.push(child.words()),
            "InputDescriptor" if list.input.is_empty() => list.input = child.words(),
            "OutputDescriptor" if list.output.is_empty() => list.output = child.words(),
            "InputDescriptor" | "OutputDescriptor" | "Info" | "Id" => {}
            name => match reader_of(name) {
                None => list
                    .remarks
                    .push(child.remark("is not known and is passed over")),
                Some(read) => {
                    if version < VERSION_3 && matches!(name, "Log" | "Exponent") {
                        return Err(child.error("is not part of CLF before version 3"));
                    }
                    let depths = Depths::read(child)?;
                    if let Some(before) = depth_before.filter(|&d| d != depths.input) {
                        return Err(child.error(format_args!(
                            "inBitDepth {} does not match outBitDepth {before} of the node \
                                 before",
                            depths.input
                        )));
                    }
                    depth_before = Some(depths.output);
                    list.nodes.push(read(child, depths)?);
                }
            },
        }
    }
    if list.nodes.is_empty() {
        return Err(root.error("holds no process node"));
    }
    Ok(list)
}

type NodeReader = fn(Element<'_, '_>, Depths) -> Result<ProcessNode>;

fn reader_of(name: &str) -> Option<NodeReader> {
    Some(match name {
        "Matrix" => |e, d| Matrix::read(e, d).map(ProcessNode::Matrix),
        "Range" => |e, d| Range::read(e, d).map(ProcessNode::Range),
        "Log" => |e, d| Log::read(e, d).map(ProcessNode::Log),
        "Exponent" => |e, d| Exponent::read(e, d).map(ProcessNode::Exponent),
        "ASC_CDL" => read_cdl,
        "LUT1D" => |e, d| Lut1d::read(e, d).map(ProcessNode::Lut1d),
        "LUT3D" => |e, d| Lut3d::read(e, d).map(ProcessNode::Lut3d),
        _ => return None,
    })
}

fn version(root: Element<'_, '_>) -> Result<f64> {
    let smpte = root.namespace() == Some(NAMESPACE);
    let Some(words) = root.attribute("compCLFversion") else {
        if smpte {
            return Ok(VERSION_MAX);
        }
        let newer = root
            .namespace()
            .filter(|ns| ns.starts_with(NAMESPACE_FAMILY));
        return Err(match newer {
            Some(ns) => root.error(format_args!(
                "the namespace {} is newer than what is known here, {NAMESPACE}",
                quoted(ns)
            )),
            None => root.error("compCLFversion is missing"),
        });
    };
    if words == SMPTE_VERSION {
        return Ok(VERSION_MAX);
    }
    match words.parse::<f64>() {
        Ok(version) if (1.0..=VERSION_MAX).contains(&version) => Ok(version),
        Ok(version) if version > VERSION_MAX => Err(root.error(format_args!(
            "compCLFversion {} is newer than what is known here, 3.0 and {SMPTE_VERSION}",
            quoted(words)
        ))),
        _ => Err(root.error(format_args!(
            "compCLFversion {} is not a version",
            quoted(words)
        ))),
    }
}

/// The attribute `id` (needed up to version 3.0) or the element `Id` of SMPTE files.
fn id(root: Element<'_, '_>, version: f64) -> Result<String> {
    if let Some(element) = root.child("Id")? {
        let words = element.words();
        if !is_uuid_urn(&words) {
            return Err(element.error(format_args!(
                "{} is not of the form urn:uuid:8-4-4-4-12 hexadecimal digits",
                quoted(&words)
            )));
        }
        return Ok(words);
    }
    match root.attribute("id") {
        Some("") if root.namespace() != Some(NAMESPACE) => Err(root.error("id is empty")),
        Some(id) => Ok(id.to_owned()),
        None if root.namespace() == Some(NAMESPACE) || version < VERSION_3 => Ok(String::new()),
        None => Err(root.error("the attribute id is missing")),
    }
}

fn is_uuid_urn(words: &str) -> bool {
    let Some(uuid) = words.strip_prefix("urn:uuid:") else {
        return false;
    };
    let lengths: Vec<usize> = uuid.split('-').map(str::len).collect();
    lengths == [8, 4, 4, 4, 12] && uuid.chars().all(|c| c == '-' || c.is_ascii_hexdigit())
}

fn read_cdl(element: Element<'_, '_>, _depths: Depths) -> Result<ProcessNode> {
    let (clamp, undo) = match element.attribute("style") {
        None | Some("Fwd" | "v1.2_Fwd") => (Clamp::On, false),
        Some("Rev" | "v1.2_Rev") => (Clamp::On, true),
        Some("FwdNoClamp" | "noClampFwd") => (Clamp::Off, false),
        Some("RevNoClamp" | "noClampRev") => (Clamp::Off, true),
        Some(other) => {
            let known = ["Fwd", "Rev", "FwdNoClamp", "RevNoClamp"];
            return Err(element.not_one_of("style", other, &known));
        }
    };
    let cdl = cdl::numbers(element)?;
    if undo && !cdl.can_be_undone() {
        return Err(element.error("a slope or saturation of 0 cannot be undone"));
    }
    Ok(ProcessNode::Cdl { cdl, clamp, undo })
}

/// The Array of a node. An IndexMap is refused: version 3 has none, and passing over it would
/// change what the table means.
pub(super) fn array<'a, 'i>(node: Element<'a, 'i>) -> Result<Element<'a, 'i>> {
    if let Some(map) = node.child("IndexMap")? {
        return Err(map.error(
            "is not part of CLF 3; write the table without it, with a Range before it instead",
        ));
    }
    node.child("Array")?
        .ok_or_else(|| node.error("Array is missing"))
}

/// The whole numbers of a `dim` attribute; a word that is none ends the list with a 0.
pub(super) fn dimensions(dim: &str) -> Vec<usize> {
    dim.split_whitespace()
        .map(|word| word.parse().unwrap_or(0))
        .collect()
}

/// `take` on each of exactly `expected` words.
pub(super) fn counted(
    array: Element<'_, '_>,
    expected: usize,
    mut take: impl FnMut(&str) -> Result<()>,
) -> Result<()> {
    let mut count = 0;
    array.each_word(|word| {
        count += 1;
        if count > expected {
            return Err(Error::new(format!(
                "expected {expected} numbers, found more"
            )));
        }
        take(word)
    })?;
    if count < expected {
        return Err(array.error(format_args!("expected {expected} numbers, found {count}")));
    }
    Ok(())
}

/// Parameters that may be said once for all channels or for each by `channel`.
pub(super) fn per_channel<T: Copy>(
    node: Element<'_, '_>,
    name: &str,
    read: impl Fn(Element<'_, '_>) -> Result<T>,
) -> Result<[Option<T>; 3]> {
    let mut found = [None; 3];
    for params in node.children().filter(|child| child.name() == name) {
        let value = read(params)?;
        let channels = match params.attribute("channel") {
            None => 0..3,
            Some("R") => 0..1,
            Some("G") => 1..2,
            Some("B") => 2..3,
            Some(other) => {
                return Err(
                    params.error(format_args!("channel {} is not R, G or B", quoted(other)))
                );
            }
        };
        for slot in &mut found[channels] {
            if slot.replace(value).is_some() {
                return Err(params.error("a channel is given twice"));
            }
        }
    }
    if found.iter().all(Option::is_none) {
        return Err(node.error(format_args!("{name} is missing")));
    }
    Ok(found)
}
