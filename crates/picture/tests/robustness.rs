//! Damaged, lying, huge and foreign files: one sentence, never a panic, never part of a picture.

#![allow(clippy::unwrap_used, reason = "a helper of tests may panic")]

#[path = "support/gain_map.rs"]
mod gain_map;
mod support;

use std::path::{Path, PathBuf};

use lookwright_picture::{ColourHint, Limits, decode, decode_common, decode_with, suggest};
use support::crc;

/// Every picture of the test data, with its file name.
fn pictures() -> Vec<(String, Vec<u8>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data");
    let mut paths: Vec<PathBuf> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    paths.sort();
    let is_picture = |path: &&PathBuf| {
        let kind = path.extension().and_then(|kind| kind.to_str());
        matches!(
            kind,
            Some("jpg" | "png" | "tif" | "webp" | "exr" | "hdr" | "dpx")
        )
    };
    let name = |path: &PathBuf| path.file_name().unwrap().to_str().unwrap().to_owned();
    let read = |path: &PathBuf| (name(path), std::fs::read(path).unwrap());
    paths.iter().filter(is_picture).map(read).collect()
}

/// Two pictures with a gain map, said in either way.
fn with_gain_maps() -> [(String, Vec<u8>); 2] {
    let mut announced = gain_map::ISO.to_vec();
    announced.extend([0; 4]);
    let block = gain_map::iso(&[[0.0, 2.0, 1.0, 0.0, 0.0]; 3], [0, 3]);
    let said = gain_map::xmp(r#"hdrgm:GainMapMax="2""#);
    [
        (announced, block, "iso.jpg"),
        (gain_map::xmp(""), said, "xmp.jpg"),
    ]
    .map(|(announced, said, name)| {
        (
            name.to_owned(),
            gain_map::with_map(announced, said, [200; 3]),
        )
    })
}

/// A linear congruence (Knuth, The Art of Computer Programming 2, 3.3.4, table 1, line 26).
struct Random(u64);

impl Random {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % end
    }
}

#[test]
fn truncated_files_have_a_sentence_and_no_picture() {
    let pictures = pictures();
    assert!(pictures.len() > 40);
    for (name, bytes) in pictures {
        for percent in [0, 1, 10, 50, 95] {
            let cut = &bytes[..bytes.len() * percent / 100];
            // A TIFF's directory or profile may lie behind its pixels; what is lost there is
            // found out by the same error. Pixels that are complete may be shown.
            let error = match decode(cut) {
                Err(error) => error.to_string(),
                Ok(_) => panic!("{name} cut to {percent} % was read"),
            };
            assert!(
                error.ends_with('.') && !error.contains('\n'),
                "{name}: {error}"
            );
            assert!(error.len() < 300, "{name}: {error}");
        }
    }
}

/// Bytes overwritten, dropped and repeated, 200 times for each of the files: whatever comes out
/// is a picture or a sentence. PNG check sums are made right again so that damage gets through.
#[test]
fn mutations_never_panic() {
    let limits = Limits {
        max_pixels: 1_000_000,
        max_bytes: 32 << 20,
    };
    let mut random = Random(11);
    let (mut read, mut refused) = (0, 0);
    for (name, bytes) in pictures().into_iter().chain(with_gain_maps()) {
        for round in 0..200 {
            let mut damaged = bytes.clone();
            match round % 3 {
                0 => {
                    for _ in 0..=random.below(8) {
                        let at = random.below(damaged.len());
                        damaged[at] = random.below(256) as u8;
                    }
                }
                1 => {
                    // The first bytes hold most sizes and counts.
                    for _ in 0..=random.below(4) {
                        let at = random.below(damaged.len().min(300));
                        damaged[at] = [0, 1, 127, 128, 255][random.below(5)];
                    }
                }
                _ => {
                    let at = random.below(damaged.len());
                    let end = (at + 1 + random.below(40)).min(damaged.len());
                    damaged.drain(at..end);
                }
            }
            if name.ends_with("png") {
                mend_check_sums(&mut damaged);
            }
            match decode_with(&damaged, &limits) {
                Ok(picture) => {
                    assert_eq!(
                        picture.samples.len(),
                        3 * picture.width as usize * picture.height as usize,
                        "{name}"
                    );
                    assert!(!suggest(&picture, &name).reason.is_empty());
                    read += 1;
                }
                Err(error) => {
                    assert!(error.message().ends_with('.'), "{name}: {error}");
                    refused += 1;
                }
            }
        }
    }
    assert!(
        read > 1000 && refused > 1000,
        "{read} read, {refused} refused"
    );
}

/// Writes the right CRC after every chunk of a PNG that can still be walked.
fn mend_check_sums(png: &mut [u8]) {
    let mut at = 8;
    while let Some(head) = png.get(at..at + 8) {
        let length = u32::from_be_bytes([head[0], head[1], head[2], head[3]]) as usize;
        let end = at.saturating_add(8).saturating_add(length);
        if png.len() < end.saturating_add(4) {
            return;
        }
        let sum = crc(&png[at + 4..end]).to_be_bytes();
        png[end..end + 4].copy_from_slice(&sum);
        at = end + 4;
    }
}

/// A PNG of chunks with right check sums.
fn png(chunks: &[(&[u8; 4], Vec<u8>)]) -> Vec<u8> {
    let mut file = b"\x89PNG\r\n\x1a\n".to_vec();
    for (name, data) in chunks {
        file.extend((data.len() as u32).to_be_bytes());
        let body: Vec<u8> = name.iter().chain(data).copied().collect();
        file.extend(&body);
        file.extend(crc(&body).to_be_bytes());
    }
    file
}

/// IHDR of 8-bit RGB.
fn header(width: u32, height: u32) -> Vec<u8> {
    [
        &width.to_be_bytes()[..],
        &height.to_be_bytes(),
        &[8, 2, 0, 0, 0],
    ]
    .concat()
}

/// zlib with stored blocks (RFC 1950, 1951).
fn stored(data: &[u8]) -> Vec<u8> {
    let mut out = vec![0x78, 0x01];
    let blocks: Vec<&[u8]> = data.chunks(65_535).collect();
    for (index, block) in blocks.iter().enumerate() {
        out.push(u8::from(index + 1 == blocks.len()));
        out.extend((block.len() as u16).to_le_bytes());
        out.extend((!(block.len() as u16)).to_le_bytes());
        out.extend(*block);
    }
    let (mut a, mut b) = (1_u32, 0_u32);
    for &byte in data {
        a = (a + u32::from(byte)) % 65_521;
        b = (b + a) % 65_521;
    }
    out.extend((b << 16 | a).to_be_bytes());
    out
}

#[test]
fn lying_headers_are_refused_before_anything_is_decoded() {
    let sentence = |bytes: &[u8]| decode(bytes).unwrap_err().to_string();
    let big = png(&[
        (b"IHDR", header(30_000, 30_000)),
        (b"IDAT", stored(&[0; 10])),
        (b"IEND", vec![]),
    ]);
    assert!(sentence(&big).contains("30000 x 30000") && sentence(&big).contains("300 megapixels"));
    for (width, height) in [(0, 5), (5, 0), (0x7fff_ffff, 1), (0x8000_0000, 1)] {
        let file = png(&[
            (b"IHDR", header(width, height)),
            (b"IDAT", stored(&[0; 10])),
            (b"IEND", vec![]),
        ]);
        assert!(sentence(&file).ends_with('.'));
    }
    // A JPEG header of 65,535 square (ITU-T T.81, B.2.2), and a TIFF of 30,000 square.
    let mut jpeg =
        b"\xff\xd8\xff\xc0\x00\x11\x08\xff\xff\xff\xff\x03\x01\x11\0\x02\x11\0\x03\x11\0".to_vec();
    jpeg.extend(b"\xff\xda\x00\x0c\x03\x01\0\x02\0\x03\0\0\x3f\0");
    assert!(
        sentence(&jpeg).contains("65535 x 65535"),
        "{}",
        sentence(&jpeg)
    );
    let radiance = b"#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y 30000 +X 30000\n";
    assert!(sentence(radiance).contains("30000 x 30000"));
    // The memory bound, apart from the number of pixels.
    let limits = Limits {
        max_pixels: 300_000_000,
        max_bytes: 1000,
    };
    let error = decode_with(&png(&[(b"IHDR", header(100, 100))]), &limits).unwrap_err();
    assert!(error.message().contains("memory"), "{error}");
}

/// A PNG of one pixel, with what is to be its profile, packed.
fn one_pixel([red, green, blue]: [u8; 3], packed: &[u8]) -> Vec<u8> {
    let icc = [b"x\0\0", packed].concat();
    png(&[
        (b"IHDR", header(1, 1)),
        (b"iCCP", icc),
        (b"IDAT", stored(&[0, red, green, blue])),
        (b"IEND", vec![]),
    ])
}

/// A colour profile that unpacks to 256 MB, and one that is noise: the picture is read without it.
#[test]
fn bad_profiles_are_left_out() {
    for profile in [stored(&vec![0; 256 << 20]), stored(&[7; 500]), vec![9; 40]] {
        let picture = decode(&one_pixel([10, 20, 30], &profile)).unwrap();
        assert_eq!(
            picture.pixel(0, 0),
            [10.0 / 255.0, 20.0 / 255.0, 30.0 / 255.0]
        );
        assert_eq!(picture.colour, ColourHint::Untagged);
        assert!(
            picture.notes.iter().any(|note| note.contains("profile")),
            "{:?}",
            picture.notes
        );
    }
}

/// What reads common formats alone leaves a picture whose profile is a table to what reads all; the
/// patch is one of those that LittleCMS has read (`reference.rs`).
#[test]
fn profiles_that_are_tables_are_left_to_the_whole() {
    let patches = include_bytes!("data/table.tif");
    let mark = patches.windows(4).position(|four| four == b"acsp").unwrap();
    let profile = &patches[mark - 36..];
    let bytes = u32::from_be_bytes(profile[..4].try_into().unwrap());
    let tabled = one_pixel([0, 51, 0], &stored(&profile[..bytes as usize]));
    let gate = |_: &_| Ok(());
    assert!(
        decode_common(&tabled, &Limits::default(), gate)
            .unwrap()
            .is_none()
    );
    let patches = decode(patches).unwrap();
    assert_eq!(decode(&tabled).unwrap().pixel(0, 0), patches.pixel(6, 0));
    let plain = one_pixel([10, 20, 30], &[9; 40]);
    let plain = decode_common(&plain, &Limits::default(), gate)
        .unwrap()
        .unwrap();
    assert!(plain.notes[0].contains("profile"), "{:?}", plain.notes);
}

#[test]
fn foreign_files_are_named() {
    let cases: [(&[u8], &str); 12] = [
        (b"", "an empty file"),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", "a HEIC picture"),
        (b"\0\0\0\x1cftypavif\0\0\0\0avifmif1", "an AVIF picture"),
        (b"\0\0\0\x20ftypisom\0\0\x02\0isomiso2", "a film clip"),
        (b"\x1a\x45\xdf\xa3\x01\0\0", "a film clip"),
        (b"GIF89a\x01\0\x01\0", "a GIF"),
        (
            b"<?xml version=\"1.0\"?>\n<svg xmlns=\"x\"/>",
            "an SVG drawing",
        ),
        (b"\xef\xbb\xbf  <svg/>", "an SVG drawing"),
        (b"%PDF-1.7", "a PDF document"),
        (b"8BPS\0\x01", "a layered document"),
        (b"PK\x03\x04\x14\0", "a zip archive"),
        (b"hello, this is text", "not a picture"),
    ];
    for (bytes, what) in cases {
        let error = decode(bytes).unwrap_err().to_string();
        assert!(error.contains(what) && error.ends_with('.'), "{error}");
    }
}
