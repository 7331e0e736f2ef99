//! Files that are no table that is read, told by what they are.
//!
//! By their first bytes; text by its first words and how its lines are built. The name's ending is
//! asked last, and only where the content says nothing against it.

use super::number::quoted;
use lookwright_colour::error::Error;

/// What is read, for people.
const READ: &str = ".cube, .clf, .csp, .spi1d, .spi3d, .cc, .ccc and .cdl";

/// Beginnings of files, and what they are.
const BEGINNINGS: [(&[u8], &str); 10] = [
    (b"\x89PNG", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"II*\0", "a TIFF picture"),
    (b"MM\0*", "a TIFF picture"),
    (b"v/1\x01", "an OpenEXR picture"),
    (b"SDPX", "a DPX picture"),
    (b"XPDS", "a DPX picture"),
    (b"GIF8", "a GIF picture"),
    (b"RIFF", "a RIFF file, a picture or a sound"),
    (b"%PDF", "a PDF document"),
];

/// Beginnings of files that others are packed in.
const PACKED: [(&[u8], &str); 5] = [
    (b"PK\x03\x04", "a zip archive"),
    (b"7z\xbc\xaf\x27\x1c", "a 7z archive"),
    (b"\x1f\x8b", "a file packed by gzip"),
    (b"BZh", "a file packed by bzip2"),
    (b"\xfd7zXZ\0", "a file packed by xz"),
];

/// An ICC profile's signature, and where it and its class stand (ICC.1:2022, 7.2).
const ICC_SIGNATURE: (usize, &[u8]) = (36, b"acsp");
const ICC_CLASS_AT: usize = 12;

/// Names' endings of tables of other kinds, and how those are built.
const ENDINGS: [(&str, &str); 10] = [
    (".3dl", "a lattice of whole numbers (.3dl)"),
    (".mga", "a lattice of whole numbers (.mga)"),
    (".m3d", "a lattice of whole numbers (.m3d)"),
    (".vlt", "a lattice of whole numbers for a camera (.vlt)"),
    (".lut", "a table of whole numbers (.lut)"),
    (".ilut", "a table in a form of its own (.ilut)"),
    (".olut", "a table in a form of its own (.olut)"),
    (".davlut", "a table in a form of its own (.davlut)"),
    (".look", "a look of another program (.look)"),
    (".spimtx", "a matrix (.spimtx)"),
];

/// What a look file says its version by.
const LOOK_KEY: &[u8] = b"\"lookwright\"";
/// Written like a `.cube`, but for its rows.
const WHOLE_NUMBERS_IN_CUBE: &str = ".vlt";
/// First words of what is read, whatever a name says.
const KNOWN_WORDS: [&str; 6] = ["LUT_", "TITLE", "DOMAIN_", "CSPLUT", "SPILUT", "Version"];

fn is_known(bytes: &[u8]) -> bool {
    let head = String::from_utf8_lossy(&bytes[..bytes.len().min(8000)]);
    let first = head
        .trim_start_matches('\u{feff}')
        .lines()
        .map(str::trim)
        .find(|line| !line.is_empty() && !line.starts_with('#'));
    first.is_some_and(|line| KNOWN_WORDS.iter().any(|word| line.starts_with(word)))
}

/// The sentence for a file that is known to be no table that is read; none if it may be one.
pub(super) fn named(bytes: &[u8], file_name: &str) -> Option<Error> {
    let not_read = |kind: &str| Error::new(format!("byte 0: this is {kind}, which is not read"));
    let begun = |list: &[(&[u8], &'static str)]| {
        let found = list.iter().find(|(start, _)| bytes.starts_with(start));
        found.map(|(_, kind)| *kind)
    };
    if let Some(kind) = begun(&BEGINNINGS) {
        return Some(Error::new(format!("byte 0: this is {kind}, not a table")));
    }
    if let Some(kind) = begun(&PACKED) {
        return Some(Error::new(format!(
            "byte 0: this is {kind}, not a table: unpack it and take the table from it"
        )));
    }
    let (at, signature) = ICC_SIGNATURE;
    if bytes.get(at..at + 4) == Some(signature) {
        return Some(not_read(icc_class(&bytes[ICC_CLASS_AT..ICC_CLASS_AT + 4])));
    }
    if bytes.get(4..8) == Some(b"ftyp") {
        return Some(Error::new(
            "byte 0: this is a film or a picture in a container of boxes, not a table",
        ));
    }
    let kind_by_name = ENDINGS
        .iter()
        .find(|(ending, _)| file_name.to_lowercase().ends_with(ending))
        .filter(|(ending, _)| *ending == WHOLE_NUMBERS_IN_CUBE || !is_known(bytes))
        .map(|(_, kind)| *kind);
    if let Some(place) = bytes.iter().position(|&byte| byte == 0) {
        return Some(match kind_by_name {
            Some(kind) => not_read(kind),
            None => Error::new(format!(
                "byte {place}: {} is a binary file; tables are read as {READ}",
                quoted(file_name)
            )),
        });
    }
    let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    text_named(text.trim_ascii_start(), kind_by_name)
}

fn icc_class(class: &[u8]) -> &'static str {
    match class {
        b"mntr" => "an ICC profile of a screen",
        b"scnr" => "an ICC profile of a camera or scanner",
        b"prtr" => "an ICC profile of a printer",
        b"link" => "an ICC device link",
        b"abst" => "an abstract ICC profile",
        _ => "an ICC profile",
    }
}

/// The same of a text.
fn text_named(text: &[u8], kind_by_name: Option<&str>) -> Option<Error> {
    let line_1 = |sentence: String| Some(Error::new(format!("line 1: {sentence}")));
    match text.first() {
        Some(b'{' | b'[') => {
            let is_look = text.windows(LOOK_KEY.len()).any(|part| part == LOOK_KEY);
            return line_1(match is_look {
                true => "this is a look, not a table: make tables of it with lookwright table, or \
                         open it in Lookwright"
                    .to_owned(),
                false => "this is JSON, not a table".to_owned(),
            });
        }
        Some(b'<') => return xml_named(text).map(|kind| Error::new(format!("line 1: {kind}"))),
        _ => {}
    }
    let kind = kind_by_name.or_else(|| whole_numbers(text))?;
    line_1(format!(
        "this is {kind}, which is not read; tables are read as {READ}"
    ))
}

/// XML that is met in place of a table.
fn xml_named(text: &[u8]) -> Option<String> {
    let head = String::from_utf8_lossy(&text[..text.len().min(2000)]).to_lowercase();
    let kinds = [
        ("<html", "a web page"),
        ("<!doctype html", "a web page"),
        ("<look", "a look of another program"),
        ("<svg", "an SVG picture"),
        ("<x:xmpmeta", "XMP, what a photo program keeps of a picture"),
    ];
    let (_, kind) = kinds.iter().find(|(start, _)| {
        head.match_indices(start).any(|(at, _)| {
            let next = head[at + start.len()..].chars().next();
            !next.is_some_and(|c| c.is_ascii_alphanumeric())
        })
    })?;
    Some(format!("this is {kind}, which is not read"))
}

/// A lattice of whole numbers has no words that say its size: it begins with a row of ascending
/// inputs, then three whole numbers a row.
fn whole_numbers(text: &[u8]) -> Option<&'static str> {
    let head = String::from_utf8_lossy(&text[..text.len().min(8000)]);
    let mut rows = head
        .lines()
        .map(str::trim)
        .filter(|line| !line.is_empty() && !line.starts_with('#'));
    let whole = |line: &str| -> Option<Vec<u32>> {
        line.split_whitespace()
            .map(|word| word.parse().ok())
            .collect()
    };
    let inputs = whole(rows.next()?)?;
    let row = whole(rows.next()?)?;
    let rising = inputs.len() > 3 && inputs.is_sorted() && inputs[0] == 0;
    (rising && row.len() == 3).then_some("a lattice of whole numbers, such as .3dl")
}

#[cfg(test)]
mod tests {
    use crate::read_table;

    fn told(bytes: &[u8], name: &str) -> String {
        read_table(bytes, name).unwrap_err().message().to_owned()
    }

    #[test]
    fn what_is_no_table_is_told_by_name() {
        let mut icc = vec![0; 132];
        icc[36..40].copy_from_slice(b"acsp");
        icc[12..16].copy_from_slice(b"mntr");
        for (bytes, name, message) in [
            (&b""[..], "x", "byte 0: the file is empty"),
            (
                b"\x89PNG\r\n",
                "x.cube",
                "byte 0: this is a PNG picture, not a table",
            ),
            (
                b"\x1f\x8b\x08",
                "x.cube",
                "byte 0: this is a file packed by gzip, not a table: unpack it and take the table from it",
            ),
            (
                b"%PDF-1.7",
                "x",
                "byte 0: this is a PDF document, not a table",
            ),
            (
                &icc,
                "x.icc",
                "byte 0: this is an ICC profile of a screen, which is not read",
            ),
            (
                b"ab\0",
                "x",
                "byte 2: \"x\" is a binary file; tables are read as .cube, .clf, .csp, .spi1d, .spi3d, .cc, .ccc and .cdl",
            ),
            (
                b"\0\0\0\x18ftypmp42",
                "a.mp4",
                "byte 0: this is a film or a picture in a container of boxes, not a table",
            ),
            (
                b"ab\0",
                "x.ilut",
                "byte 0: this is a table in a form of its own (.ilut), which is not read",
            ),
            (
                b"0 64 128 192 255\n0 0 0\n",
                "x",
                "line 1: this is a lattice of whole numbers, such as .3dl, which is not read; tables are read as .cube, .clf, .csp, .spi1d, .spi3d, .cc, .ccc and .cdl",
            ),
            (
                b"# VLT\nLUT_3D_SIZE 17\n0 0 0\n",
                "x.VLT",
                "line 1: this is a lattice of whole numbers for a camera (.vlt), which is not read; tables are read as .cube, .clf, .csp, .spi1d, .spi3d, .cc, .ccc and .cdl",
            ),
            (
                b"{\"lookwright\": 3}",
                "x.json",
                "line 1: this is a look, not a table: make tables of it with lookwright table, or open it in Lookwright",
            ),
            (b"[1, 2]", "x.json", "line 1: this is JSON, not a table"),
            (
                b"<?xml version=\"1.0\"?>\n<look>\n</look>",
                "x.look",
                "line 1: this is a look of another program, which is not read",
            ),
            (
                b"<!DOCTYPE html><html>",
                "x.cube",
                "line 1: this is a web page, which is not read",
            ),
            (
                b"<a/>",
                "x",
                "line 1: a: is not the root of a table; CLF begins with ProcessList, a CDL with \
                 ColorCorrection, ColorCorrectionCollection or ColorDecisionList",
            ),
        ] {
            assert_eq!(told(bytes, name), message);
        }
    }

    #[test]
    fn tables_are_not_taken_for_others() {
        let curve = b"# 0 1 2 3 4\nLUT_1D_SIZE 2\n0 0 0\n1 1 1\n";
        for name in ["x.cube", "x.lut", "x.3dl"] {
            assert!(read_table(curve, name).is_ok());
        }
    }
}
