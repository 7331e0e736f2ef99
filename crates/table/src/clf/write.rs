//! The CLF writer.

use sha2::{Digest, Sha256};

use super::read::NAMESPACE;
use super::{Lut1d, ProcessList, ProcessNode};
use crate::Label;
use crate::cdl::{self, Clamp};
use crate::xml::escaped;
use lookwright_colour::error::Result;

/// The text of a CLF file: 32-bit float throughout, LF line ends. The same list and label give the
/// same bytes; the identifier is made from them.
///
/// `label` gives the words; those inside `list` are not repeated.
///
/// # Errors
/// If a table's domain is not 0 ... 1, which the format cannot say.
pub fn write(list: &ProcessList, label: &Label) -> Result<String> {
    let mut body = String::new();
    for words in [&label.title].into_iter().chain(&label.notes) {
        if !words.is_empty() {
            body.push_str(&tag("Description", words));
        }
    }
    if !label.fingerprint.is_empty() {
        body.push_str(&tag(
            "Description",
            &format!("Fingerprint: {}", label.fingerprint),
        ));
    }
    body.push_str(&tag("InputDescriptor", &label.input));
    body.push_str(&tag("OutputDescriptor", &label.output));
    for node in &list.nodes {
        body.push_str(&element(node)?);
    }
    let id = uuid_urn(&body);
    Ok(format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <ProcessList xmlns=\"{NAMESPACE}\" id=\"{id}\" compCLFversion=\"3.0\">\n  \
         <Id>{id}</Id>\n{body}</ProcessList>\n"
    ))
}

fn tag(name: &str, words: &str) -> String {
    format!("  <{name}>{}</{name}>\n", escaped(words))
}

/// A name-based identifier: the first 16 bytes of the SHA-256 of `content`, marked as version 8
/// (RFC 9562: custom).
fn uuid_urn(content: &str) -> String {
    let hash = Sha256::digest(content.as_bytes());
    let mut id = [0_u8; 16];
    id.copy_from_slice(&hash[..16]);
    id[6] = (id[6] & 0x0f) | 0x80;
    id[8] = (id[8] & 0x3f) | 0x80;
    let hex: String = id.iter().map(|byte| format!("{byte:02x}")).collect();
    format!(
        "urn:uuid:{}-{}-{}-{}-{}",
        &hex[..8],
        &hex[8..12],
        &hex[12..16],
        &hex[16..20],
        &hex[20..]
    )
}

fn element(node: &ProcessNode) -> Result<String> {
    let (name, attributes, inside) = match node {
        ProcessNode::Matrix(node) => ("Matrix", String::new(), node.write()),
        ProcessNode::Range(node) => ("Range", style(node.style()), node.write()),
        ProcessNode::Log(node) => ("Log", style(node.style()), node.write()),
        ProcessNode::Exponent(node) => ("Exponent", style(node.style()), node.write()),
        ProcessNode::Cdl { cdl, clamp, undo } => {
            let words = match (clamp, undo) {
                (Clamp::On, false) => "Fwd",
                (Clamp::On, true) => "Rev",
                (Clamp::Off, false) => "FwdNoClamp",
                (Clamp::Off, true) => "RevNoClamp",
            };
            ("ASC_CDL", style(words), cdl::nodes(cdl, "    "))
        }
        ProcessNode::Lut1d(node) => {
            let half = match node {
                Lut1d::Even(_) => "",
                Lut1d::Half(_) => " halfDomain=\"true\"",
            };
            ("LUT1D", half.to_owned(), node.write()?)
        }
        ProcessNode::Lut3d(node) => (
            "LUT3D",
            format!(" interpolation=\"{}\"", node.interpolation()),
            node.write()?,
        ),
    };
    Ok(format!(
        "  <{name} inBitDepth=\"32f\" outBitDepth=\"32f\"{attributes}>\n{inside}  </{name}>\n"
    ))
}

fn style(words: &str) -> String {
    format!(" style=\"{words}\"")
}

/// Parameters once if all channels share them, else one element a channel.
pub(super) fn per_channel<T: PartialEq>(
    params: &[T; 3],
    one: impl Fn(&T, &str) -> String,
) -> String {
    let [r, g, b] = params;
    if r == g && g == b {
        return one(r, "");
    }
    [
        one(r, " channel=\"R\""),
        one(g, " channel=\"G\""),
        one(b, " channel=\"B\""),
    ]
    .concat()
}
