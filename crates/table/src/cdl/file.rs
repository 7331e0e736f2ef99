//! `.cc`, `.ccc` and `.cdl`: one correction, a collection, a decision list.
//!
//! Source: ASC Color Decision List v1.2 schema, and OpenColorIO 2.6.0 for the spelling `SATNode`
//! and for what is passed over: elements of other names, which are told as remarks.

use super::Cdl;
use crate::xml::{Element, escaped, with_root};
use lookwright_colour::error::Result;

/// One correction of a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Correction {
    /// What the file calls it, or empty.
    pub id: String,
    /// Words of its description elements.
    pub descriptions: Vec<String>,
    /// Its numbers.
    pub cdl: Cdl,
    /// What the reader passed over, with lines.
    pub remarks: Vec<String>,
}

/// Reads a `.cc`, `.ccc` or `.cdl` file, known by its root element. At least one correction.
///
/// # Errors
/// One sentence with the line it concerns.
pub fn read(bytes: &[u8]) -> Result<Vec<Correction>> {
    with_root(bytes, read_root)
}

/// Reads the corrections under a parsed root element.
pub(crate) fn read_root(root: Element<'_, '_>) -> Result<Vec<Correction>> {
    let mut corrections = Vec::new();
    match root.name() {
        "ColorCorrection" => corrections.push(correction(root)?),
        "ColorCorrectionCollection" => collect(root, &mut corrections)?,
        "ColorDecisionList" => {
            for decision in root.children().filter(|c| c.name() == "ColorDecision") {
                collect(decision, &mut corrections)?;
            }
        }
        _ => {
            return Err(root.error(
                "is not the root of a CDL file; expected ColorCorrection, \
                     ColorCorrectionCollection or ColorDecisionList",
            ));
        }
    }
    if corrections.is_empty() {
        return Err(root.error("holds no ColorCorrection"));
    }
    Ok(corrections)
}

fn collect(parent: Element<'_, '_>, corrections: &mut Vec<Correction>) -> Result<()> {
    for child in parent.children().filter(|c| c.name() == "ColorCorrection") {
        corrections.push(correction(child)?);
    }
    Ok(())
}

fn correction(element: Element<'_, '_>) -> Result<Correction> {
    let mut descriptions = Vec::new();
    describe(element, &mut descriptions);
    for node in element
        .children()
        .filter(|c| is_sop(c.name()) || is_sat(c.name()))
    {
        describe(node, &mut descriptions);
    }
    let known = |name: &str| is_sop(name) || is_sat(name) || name.ends_with("Description");
    let passed_over = element.children().filter(|c| !known(c.name()));
    Ok(Correction {
        remarks: passed_over
            .map(|c| c.remark("is not known and is passed over"))
            .collect(),
        id: element.attribute("id").unwrap_or_default().to_owned(),
        descriptions,
        cdl: numbers(element)?,
    })
}

fn describe(element: Element<'_, '_>, descriptions: &mut Vec<String>) {
    let found = element.children().filter(|c| c.name() == "Description");
    descriptions.extend(found.map(|c| c.words()));
}

fn is_sop(name: &str) -> bool {
    name == "SOPNode"
}

fn is_sat(name: &str) -> bool {
    matches!(name, "SatNode" | "SATNode")
}

/// The numbers inside a ColorCorrection or an ASC_CDL node; what is left out is the identity.
pub(crate) fn numbers(element: Element<'_, '_>) -> Result<Cdl> {
    let Cdl {
        mut slope,
        mut offset,
        mut power,
        mut saturation,
    } = Cdl::IDENTITY;
    for node in element.children() {
        if is_sop(node.name()) {
            slope = triple(node, "Slope")?;
            offset = triple(node, "Offset")?;
            power = triple(node, "Power")?;
        } else if is_sat(node.name()) {
            let [value] = required(node, "Saturation")?.numbers()?;
            saturation = value as f32;
        }
    }
    Cdl::new(slope, offset, power, saturation).map_err(|error| element.error(error.message()))
}

fn required<'a, 'i>(node: Element<'a, 'i>, name: &str) -> Result<Element<'a, 'i>> {
    node.child(name)?
        .ok_or_else(|| node.error(format_args!("{name} is missing")))
}

fn triple(node: Element<'_, '_>, name: &str) -> Result<[f32; 3]> {
    let values: [f64; 3] = required(node, name)?.numbers()?;
    Ok(values.map(|v| v as f32))
}

/// The text of a `.cc` file.
#[must_use]
pub fn write_cc(correction: &Correction) -> String {
    let body = element(correction, "", " xmlns=\"urn:ASC:CDL:v1.2\"");
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{body}")
}

/// The text of a `.cdl` file: one decision a correction.
#[must_use]
pub fn write_cdl(corrections: &[Correction]) -> String {
    let mut text = String::from(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <ColorDecisionList xmlns=\"urn:ASC:CDL:v1.2\">\n",
    );
    for correction in corrections {
        text.push_str("  <ColorDecision>\n");
        text.push_str(&element(correction, "    ", ""));
        text.push_str("  </ColorDecision>\n");
    }
    text.push_str("</ColorDecisionList>\n");
    text
}

fn element(correction: &Correction, indent: &str, namespace: &str) -> String {
    let id = escaped(&correction.id);
    let mut text = format!("{indent}<ColorCorrection{namespace} id=\"{id}\">\n");
    for words in &correction.descriptions {
        text.push_str(&format!(
            "{indent}  <Description>{}</Description>\n",
            escaped(words)
        ));
    }
    text.push_str(&nodes(&correction.cdl, &format!("{indent}  ")));
    text.push_str(&format!("{indent}</ColorCorrection>\n"));
    text
}

/// SOPNode and SatNode, each line after `indent`.
pub(crate) fn nodes(cdl: &Cdl, indent: &str) -> String {
    let three = |v: [f32; 3]| format!("{} {} {}", v[0], v[1], v[2]);
    [
        "<SOPNode>".to_owned(),
        format!("  <Slope>{}</Slope>", three(cdl.slope)),
        format!("  <Offset>{}</Offset>", three(cdl.offset)),
        format!("  <Power>{}</Power>", three(cdl.power)),
        "</SOPNode>".to_owned(),
        "<SatNode>".to_owned(),
        format!("  <Saturation>{}</Saturation>", cdl.saturation),
        "</SatNode>".to_owned(),
    ]
    .map(|line| format!("{indent}{line}\n"))
    .concat()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn example() -> Correction {
        Correction {
            id: "night & day".to_owned(),
            descriptions: vec!["one <two>".to_owned()],
            remarks: Vec::new(),
            cdl: Cdl::new(
                [1.1, 1.0, 0.9],
                [-0.03, -0.02, 0.04],
                [1.25, 1.0, 0.8],
                0.85,
            )
            .unwrap(),
        }
    }

    #[test]
    fn what_is_written_comes_back_exactly() {
        assert_eq!(read(write_cc(&example()).as_bytes()).unwrap(), [example()]);
        let two = [example(), example()];
        assert_eq!(read(write_cdl(&two).as_bytes()).unwrap(), two);
    }

    #[test]
    fn refusals_name_line_and_reason() {
        for (text, message) in [
            (
                "<ColorCorrection>\n<SOPNode>\n<Slope>1 1</Slope></SOPNode></ColorCorrection>",
                "line 3: Slope: expected 3 numbers, found 2",
            ),
            (
                "<ColorCorrection><SOPNode>\n<Slope>1 1 1</Slope></SOPNode></ColorCorrection>",
                "line 1: SOPNode: Offset is missing",
            ),
            (
                "<ColorCorrection><SatNode>\n<Saturation>\n1,0</Saturation></SatNode>\
                 </ColorCorrection>",
                "line 3: Saturation: \"1,0\" is not a number",
            ),
            (
                "<ColorCorrectionCollection/>",
                "line 1: ColorCorrectionCollection: holds no ColorCorrection",
            ),
            (
                "<Colour/>",
                "line 1: Colour: is not the root of a CDL file; expected ColorCorrection, \
                 ColorCorrectionCollection or ColorDecisionList",
            ),
        ] {
            assert_eq!(read(text.as_bytes()).unwrap_err().message(), message);
        }
    }
}
