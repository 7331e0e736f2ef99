//! What kind of file some bytes are, by their first bytes; a name or an extension is not trusted.

use lookwright_colour::{Error, Result};

use crate::dpx;

/// A kind of picture file that is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// JPEG (ITU-T T.81), 8 bits, baseline or progressive.
    Jpeg,
    /// PNG, 1 to 16 bits.
    Png,
    /// TIFF 6.0 or BigTIFF.
    Tiff,
    /// WebP, lossy or lossless.
    WebP,
    /// OpenEXR.
    Exr,
    /// Radiance HDR.
    Hdr,
    /// DPX (SMPTE ST 268), 8 to 16 bits.
    Dpx,
    /// A frame of a clip, as whoever decoded the clip gave it. No bytes are of this kind.
    Clip,
}

impl Kind {
    /// The kinds of files that are read, with the endings that they usually have.
    const READ: [(Self, &'static [&'static str]); 7] = [
        (Self::Jpeg, &["jpg", "jpeg"]),
        (Self::Png, &["png"]),
        (Self::Tiff, &["tif", "tiff"]),
        (Self::WebP, &["webp"]),
        (Self::Exr, &["exr"]),
        (Self::Hdr, &["hdr"]),
        (Self::Dpx, &["dpx"]),
    ];

    /// The kind's name in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Self::Jpeg => "JPEG",
            Self::Png => "PNG",
            Self::Tiff => "TIFF",
            Self::WebP => "WebP",
            Self::Exr => "OpenEXR",
            Self::Hdr => "Radiance HDR",
            Self::Dpx => "DPX",
            Self::Clip => "clip",
        }
    }

    /// Whether this is what photographs mostly come in, JPEG or PNG.
    pub fn is_common(self) -> bool {
        matches!(self, Self::Jpeg | Self::Png)
    }

    /// The names of all kinds that are read: "JPEG, PNG ... and Radiance HDR".
    pub fn names() -> String {
        let names = Self::READ.map(|(kind, _)| kind.name());
        let [before @ .., last] = &names;
        format!("{} and {last}", before.join(", "))
    }

    /// The endings that pictures usually have; the bytes decide.
    pub fn endings() -> impl Iterator<Item = &'static str> {
        Self::READ.iter().flat_map(|(_, endings)| *endings).copied()
    }
}

/// The kind of picture that `bytes` begin.
///
/// # Errors
/// One sentence for anything else; formats that people often try are named, with what to do.
pub fn sniff(bytes: &[u8]) -> Result<Kind> {
    let starts = |magic: &[u8]| bytes.starts_with(magic);
    if starts(b"\xff\xd8") {
        Ok(Kind::Jpeg)
    } else if starts(b"\x89PNG\r\n\x1a\n") {
        Ok(Kind::Png)
    } else if starts(b"II*\0") || starts(b"MM\0*") || starts(b"II+\0") || starts(b"MM\0+") {
        Ok(Kind::Tiff)
    } else if starts(b"RIFF") && bytes.get(8..12) == Some(b"WEBP") {
        Ok(Kind::WebP)
    } else if starts(b"\x76\x2f\x31\x01") {
        Ok(Kind::Exr)
    } else if starts(b"#?RADIANCE") || starts(b"#?RGBE") {
        Ok(Kind::Hdr)
    } else if starts(dpx::MAGIC) || starts(dpx::MAGIC_SWAPPED) {
        Ok(Kind::Dpx)
    } else {
        Err(refusal(bytes))
    }
}

/// The sentence for bytes that are none of the kinds read.
fn refusal(bytes: &[u8]) -> Error {
    let starts = |magic: &[u8]| bytes.starts_with(magic);
    let brand = if bytes.get(4..8) == Some(b"ftyp") {
        bytes.get(8..12)
    } else {
        None
    };
    let (what, advice) = match brand {
        Some(b"avif" | b"avis") => ("an AVIF picture", "save it as PNG, TIFF or JPEG"),
        Some(b"heic" | b"heix" | b"heim" | b"heis" | b"hevc" | b"hevx" | b"mif1" | b"msf1") => (
            "a HEIC picture",
            "export it as JPEG or TIFF, or set the phone's camera to its most compatible format",
        ),
        Some(b"crx ") => ("a camera raw file", "develop it to a 16-bit TIFF first"),
        Some(_) => ("a film clip", "save one of its frames as PNG or TIFF"),
        None if bytes.is_empty() => ("an empty file", "choose another file"),
        None if starts(b"GIF8") => ("a GIF", "save it as PNG"),
        None if starts(b"BM") => ("a BMP picture", "save it as PNG"),
        None if starts(b"%PDF") => ("a PDF document", "export the picture in it as TIFF or PNG"),
        None if starts(b"8BPS") => ("a layered document", "export it as a 16-bit TIFF"),
        None if starts(b"\xff\x0a") || starts(b"\0\0\0\x0cJXL ") => {
            ("a JPEG XL picture", "save it as PNG, TIFF or JPEG")
        }
        None if starts(b"\xff\x4f\xff\x51") || starts(b"\0\0\0\x0cjP  ") => {
            ("a JPEG 2000 picture", "save it as TIFF or PNG")
        }
        None if starts(b"\x1a\x45\xdf\xa3") || is_avi(bytes) => {
            ("a film clip", "save one of its frames as PNG or TIFF")
        }
        None if starts(b"PK\x03\x04") => ("a zip archive", "unpack it and open a picture from it"),
        None if is_svg(bytes) => ("an SVG drawing", "export it as PNG"),
        None => (
            "not a picture in a format that can be opened",
            "save it as PNG, TIFF or JPEG",
        ),
    };
    let read = Kind::names();
    Error::new(format!("This is {what}; {read} are read: {advice}."))
}

fn is_avi(bytes: &[u8]) -> bool {
    bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"AVI ")
}

fn is_svg(bytes: &[u8]) -> bool {
    let head = &bytes[..bytes.len().min(1024)];
    let text = String::from_utf8_lossy(head);
    let text = text.trim_start_matches('\u{feff}').trim_start();
    text.starts_with('<') && text.contains("<svg")
}
