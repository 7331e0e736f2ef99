//! Y4M: Y'CbCr frames with a line of text before them, as video tools hand them on (YUV4MPEG2, by mjpegtools'
//! manual page yuv4mpeg; the names of more than 8 bits are those that ffmpeg writes).
//!
//! The line names no matrix: it is BT.709's here (ITU-R BT.709-6, 3.2 to 3.4). Codes outside of the legal
//! range stay what they are.

use std::io::Read;

use anyhow::{Context, Result, bail};
use lookwright_colour::luma::LUMA;
use lookwright_picture::{Decoded, Limits, Samples};

/// Shares of red and blue in luma.
const RED: f32 = LUMA[0];
const BLUE: f32 = LUMA[2];
const GREEN: f32 = 1.0 - RED - BLUE;

/// What a stream's first line begins with.
pub(super) const MAGIC: &[u8] = b"YUV4MPEG2";
/// More than the lines have, in bytes.
const MOST_LINE: usize = 512;

/// What a stream says of its frames.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Header {
    size: (usize, usize),
    /// Frames a second, as it is written: 25:1.
    pub(super) rate: Option<String>,
    /// How wide a pixel is for its height, as it is written: 4:3.
    pub(super) aspect: Option<String>,
    bits: u32,
    /// Pixels that share a chroma code, across and down.
    shared: (usize, usize),
    /// Whether chroma lies between two pixels of a row, not on the first.
    centred: bool,
    full: bool,
}

impl Header {
    /// Reads a stream's first line, whose first word has been read.
    ///
    /// # Errors
    /// One sentence for what is not read here.
    pub(super) fn read(input: &mut impl Read) -> Result<Self> {
        let line = line(input)?.context("standard input: it ends within its first line")?;
        let mut header = Self {
            size: (0, 0),
            rate: None,
            aspect: None,
            bits: 8,
            shared: (2, 2),
            centred: true,
            full: false,
        };
        for word in line.split_ascii_whitespace() {
            let (tag, value) = word.split_at_checked(1).unwrap_or((word, ""));
            match tag {
                "W" => header.size.0 = value.parse().unwrap_or(0),
                "H" => header.size.1 = value.parse().unwrap_or(0),
                "F" => header.rate = ratio(value),
                "A" => header.aspect = ratio(value),
                "I" if !matches!(value, "p" | "?") => bail!(
                    "standard input: its frames are interlaced; make whole frames of them first"
                ),
                "C" => header.chroma(value)?,
                "X" => header.full |= value == "COLORRANGE=FULL",
                _ => {}
            }
        }
        let (width, height) = header.size;
        let most = Limits::default().max_pixels;
        let fits = (1..=65_535).contains(&width) && (1..=65_535).contains(&height);
        if !fits || (width * height) as u64 > most {
            bail!("standard input: its frames have {width} x {height} pixels, which are not read");
        }
        Ok(header)
    }

    /// How colour is stored: 420jpeg, 422, 444p10.
    fn chroma(&mut self, name: &str) -> Result<()> {
        let refuse = || {
            format!(
                "standard input: chroma of the sort {name} is not read; send 420, 422 or 444 of 8 to 16 bits"
            )
        };
        let (sort, rest) = name.split_at_checked(3).with_context(refuse)?;
        self.shared = match sort {
            "420" => (2, 2),
            "422" => (2, 1),
            "444" => (1, 1),
            _ => bail!(refuse()),
        };
        let bits = rest.strip_prefix('p').and_then(|bits| bits.parse().ok());
        (self.bits, self.centred) = match (rest, bits) {
            ("jpeg", _) => (8, true),
            ("" | "mpeg2" | "paldv", _) => (8, false),
            (_, Some(bits @ 8..=16)) => (bits, false),
            _ => bail!(refuse()),
        };
        Ok(())
    }

    fn chroma_size(&self) -> (usize, usize) {
        (
            self.size.0.div_ceil(self.shared.0),
            self.size.1.div_ceil(self.shared.1),
        )
    }

    /// The next frame's bytes; none at the end.
    ///
    /// # Errors
    /// If the stream is cut off, or another line stands before the frame.
    pub(super) fn frame(&self, input: &mut impl Read, number: u32) -> Result<Option<Vec<u8>>> {
        let Some(line) = line(input)? else {
            return Ok(None);
        };
        if line.split_ascii_whitespace().next() != Some("FRAME") {
            bail!(
                "standard input: frame {number} does not begin with FRAME; the stream is damaged"
            );
        }
        let (width, height) = self.chroma_size();
        let codes = self.size.0 * self.size.1 + 2 * width * height;
        let size = codes * if self.bits > 8 { 2 } else { 1 };
        let mut bytes = Vec::new();
        let read = input.take(size as u64).read_to_end(&mut bytes);
        let read = read.context("standard input: it can't be read")?;
        if read < size {
            bail!(
                "standard input: the stream ends in the middle of frame {number}: {read} of {size} bytes"
            );
        }
        Ok(Some(bytes))
    }

    /// A frame's picture: codes of R'G'B', 0 to 1 within the range.
    pub(super) fn picture(&self, bytes: &[u8]) -> Result<Decoded> {
        let code = |index: usize| match self.bits {
            8 => f32::from(bytes[index]),
            _ => f32::from(u16::from_le_bytes([bytes[2 * index], bytes[2 * index + 1]])),
        };
        let (width, height) = self.size;
        let chroma = self.chroma_size();
        let scale = Scale::new(self.bits, self.full);
        let places = [width * height, width * height + chroma.0 * chroma.1];
        let across: Vec<_> = (0..width)
            .map(|x| between(x, self.shared.0, self.centred, chroma.0))
            .collect();
        let mut samples = Vec::with_capacity(3 * width * height);
        for y in 0..height {
            let (above, below, down) = between(y, self.shared.1, true, chroma.1);
            for (x, (left, right, right_share)) in across.iter().enumerate() {
                let [cb, cr] = places.map(|first| {
                    let row = |row: usize| {
                        let (a, b) = (
                            code(first + row * chroma.0 + left),
                            code(first + row * chroma.0 + right),
                        );
                        a + (b - a) * right_share
                    };
                    let (a, b) = (row(above), row(below));
                    (a + (b - a) * down - scale.middle) / scale.chroma
                });
                let luma = (code(y * width + x) - scale.black) / scale.luma;
                let (red, blue) = (
                    luma + 2.0 * (1.0 - RED) * cr,
                    luma + 2.0 * (1.0 - BLUE) * cb,
                );
                let green = (luma - RED * red - BLUE * blue) / GREEN;
                samples.extend([red, green, blue]);
            }
        }
        let size = (width as u32, height as u32);
        Ok(Decoded::of_samples(size, Samples::F32(samples))?)
    }
}

/// Two whole numbers such as 30000:1001, as they are written; none where one of them is 0: unknown.
fn ratio(text: &str) -> Option<String> {
    let (a, b) = text.split_once(':')?;
    let counts = |part: &str| part.parse::<u32>().is_ok_and(|number| number > 0);
    (counts(a) && counts(b)).then(|| text.to_owned())
}

/// Which two chroma codes a pixel lies between, and the share of the second.
fn between(place: usize, shared: usize, centred: bool, count: usize) -> (usize, usize, f32) {
    if shared == 1 {
        return (place, place, 0.0);
    }
    let at = if centred {
        (place as f32 - 0.5) / 2.0
    } else {
        place as f32 / 2.0
    };
    let first = at.max(0.0) as usize;
    let share = (at - first as f32).max(0.0);
    (first.min(count - 1), (first + 1).min(count - 1), share)
}

/// What the codes of so many bits stand for: ITU-R BT.709-6, 3.4 and 4.6.
struct Scale {
    black: f32,
    luma: f32,
    middle: f32,
    chroma: f32,
}

impl Scale {
    fn new(bits: u32, full: bool) -> Self {
        let step = (1_u32 << (bits - 8)) as f32;
        let (black, luma, chroma) = if full {
            let largest = ((1_u32 << bits) - 1) as f32;
            (0.0, largest, largest)
        } else {
            (16.0 * step, 219.0 * step, 224.0 * step)
        };
        Self {
            black,
            luma,
            middle: 128.0 * step,
            chroma,
        }
    }
}

/// A line without its end; none where the input has ended.
fn line(input: &mut impl Read) -> Result<Option<String>> {
    let mut line = Vec::new();
    let mut byte = [0];
    while line.len() < MOST_LINE {
        match input.read(&mut byte) {
            Ok(0) if line.is_empty() => return Ok(None),
            Ok(0) => break,
            Ok(_) if byte[0] == b'\n' => {
                return String::from_utf8(line)
                    .map(Some)
                    .context("standard input: a line of this Y4M is no text");
            }
            Ok(_) => line.push(byte[0]),
            Err(error) if error.kind() == std::io::ErrorKind::Interrupted => {}
            Err(error) => return Err(error).context("standard input: it can't be read"),
        }
    }
    bail!("standard input: a line of this Y4M does not end")
}

/// Writes frames: 4:4:4, legal range, 10 bits.
#[derive(Clone, Debug)]
pub(super) struct Y4mWriter {
    /// Frames a second: 25:1.
    pub(super) rate: String,
    /// How wide a pixel is for its height: 1:1.
    pub(super) aspect: String,
}

const OUT_BITS: u32 = 10;

impl Y4mWriter {
    /// A stream's first line.
    pub(super) fn header(&self, (width, height): (u32, u32)) -> String {
        let Self { rate, aspect } = self;
        format!(
            "YUV4MPEG2 W{width} H{height} F{rate} Ip A{aspect} C444p{OUT_BITS} XYSCSS=444P{OUT_BITS} \
             XCOLORRANGE=LIMITED\n"
        )
    }

    /// A frame of interleaved codes of 16 bits, low byte first.
    pub(super) fn frame(rgb16: &[u8]) -> Vec<u8> {
        let scale = Scale::new(OUT_BITS, false);
        let pixels = rgb16.as_chunks::<6>().0;
        let mut frame = b"FRAME\n".to_vec();
        let begin = frame.len();
        frame.resize(begin + 6 * pixels.len(), 0);
        let (luma_plane, chroma) = frame[begin..].split_at_mut(2 * pixels.len());
        let (cb_plane, cr_plane) = chroma.split_at_mut(2 * pixels.len());
        let mut planes = [luma_plane, cb_plane, cr_plane];
        for (place, pixel) in pixels.iter().enumerate() {
            let [red, green, blue] = [0, 2, 4]
                .map(|at| f32::from(u16::from_le_bytes([pixel[at], pixel[at + 1]])) / 65535.0);
            let luma = RED * red + GREEN * green + BLUE * blue;
            let codes = [
                luma * scale.luma + scale.black,
                (blue - luma) / (2.0 * (1.0 - BLUE)) * scale.chroma + scale.middle,
                (red - luma) / (2.0 * (1.0 - RED)) * scale.chroma + scale.middle,
            ];
            for (plane, code) in planes.iter_mut().zip(codes) {
                plane[2 * place..2 * place + 2]
                    .copy_from_slice(&((code + 0.5) as u16).to_le_bytes());
            }
        }
        frame
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn header(line: &str) -> Result<Header> {
        Header::read(&mut format!("{line}\n").as_bytes())
    }

    #[test]
    fn the_first_line_is_understood_or_refused() {
        let found = header(" W4 H2 F24000:1001 Ip A1:1 C422p10 XCOLORRANGE=LIMITED").unwrap();
        assert_eq!((found.size, found.bits, found.shared), ((4, 2), 10, (2, 1)));
        assert_eq!(found.rate.as_deref(), Some("24000:1001"));
        assert_eq!(found.aspect.as_deref(), Some("1:1"));
        let unknown = header(" W4 H2 F0:0 A0:0").unwrap();
        assert_eq!((unknown.rate, unknown.aspect), (None, None));
        assert!(header(" W4 H2 C444 XCOLORRANGE=FULL").unwrap().full);
        for (line, words) in [
            (" W4 H2 It C444", "interlaced"),
            (" W4 H2 Cmono", "not read"),
            (" W4 H2 C444p17", "not read"),
            (" W4 C444", "4 x 0"),
            (" W99999 H9 C444", "99999 x 9"),
        ] {
            assert!(
                header(line).unwrap_err().to_string().contains(words),
                "{line}"
            );
        }
    }

    /// 100 % colours in 10 bits: ITU-R BT.709-6, by its equations; white is 940, 512, 512.
    #[test]
    fn codes_are_those_of_the_recommendation() {
        let pixels = [[65535_u16; 3], [0; 3], [65535, 0, 0]];
        let bytes: Vec<u8> = pixels
            .iter()
            .flatten()
            .flat_map(|c| c.to_le_bytes())
            .collect();
        let frame = Y4mWriter::frame(&bytes);
        let codes: Vec<u16> = frame[6..]
            .as_chunks::<2>()
            .0
            .iter()
            .map(|c| u16::from_le_bytes(*c))
            .collect();
        assert_eq!(codes, [940, 64, 250, 512, 512, 409, 512, 512, 960]);
        let header = header(" W3 H1 C444p10").unwrap();
        let Samples::F32(back) = header.picture(&frame[6..]).unwrap().samples else {
            panic!("floats")
        };
        for (code, back) in pixels.iter().flatten().zip(back) {
            assert!(
                (f32::from(*code) / 65535.0 - back).abs() < 1.5e-3,
                "{code} {back}"
            );
        }
    }

    #[test]
    fn odd_sizes_are_read_and_what_is_cut_off_is_said() {
        let head = header(" W3 H3 C420jpeg").unwrap();
        let mut stream = b"FRAME\n".to_vec();
        stream.extend([235_u8; 9].iter().chain(&[128_u8; 8]));
        let whole = head.frame(&mut stream.as_slice(), 1).unwrap().unwrap();
        let Samples::F32(codes) = head.picture(&whole).unwrap().samples else {
            panic!("floats")
        };
        assert!(codes.len() == 27 && codes.iter().all(|code| (code - 1.0).abs() < 1e-5));
        let cut = head.frame(&mut &stream[..20], 1).unwrap_err().to_string();
        assert!(cut.contains("14 of 17 bytes"), "{cut}");
        assert!(head.frame(&mut &b""[..], 1).unwrap().is_none());
        assert!(head.frame(&mut &b"FRAM\n"[..], 1).is_err());
    }

    #[test]
    fn shared_chroma_lies_between_pixels() {
        assert_eq!(between(3, 1, true, 9), (3, 3, 0.0));
        assert_eq!(between(0, 2, false, 4), (0, 1, 0.0));
        assert_eq!(between(3, 2, false, 4), (1, 2, 0.5));
        assert_eq!(between(0, 2, true, 4), (0, 1, 0.0));
        assert_eq!(between(1, 2, true, 4), (0, 1, 0.25));
        assert_eq!(between(7, 2, true, 4), (3, 3, 0.25));
    }
}
