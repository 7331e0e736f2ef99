//! What a header says, read alone.

#![expect(
    clippy::unwrap_used,
    reason = "a test may stop at what should not happen"
)]

use lookwright_picture::{
    FORMATS, Kind, Limits, OutColour, PictureWriter, Rows, WriteOptions, decode, decode_if, probe,
};

const WIDTH: u32 = 48;
const HEIGHT: u32 = 33;

/// A picture in every format that is written.
fn files() -> impl Iterator<Item = (&'static str, Vec<u8>)> {
    FORMATS.iter().map(|info| {
        let options = WriteOptions {
            colour: OutColour::Unmarked,
            ..WriteOptions::default()
        };
        let mut writer = PictureWriter::new(info.format, WIDTH, HEIGHT, &options).unwrap();
        let value = |i: u32| (i * 7 % 101) as f32 / 101.0;
        let values: Vec<f32> = (0..3 * WIDTH * HEIGHT).map(value).collect();
        writer.push_rows(Rows::F32(&values)).unwrap();
        (info.id, writer.finish().unwrap())
    })
}

#[test]
fn the_header_says_what_decoding_gives() {
    for (id, file) in files() {
        let header = probe(&file).unwrap();
        let picture = decode(&file).unwrap();
        assert_eq!(header.kind, picture.kind, "{id}");
        let size = (u64::from(picture.width), u64::from(picture.height));
        assert_eq!((header.width, header.height), size, "{id}");
        assert_eq!(header.bits, u32::from(picture.file_bits), "{id}");
        assert_eq!(header.sample_bytes(), picture.samples.byte_count(), "{id}");
        assert_eq!(header.channels, 3, "{id}");
        assert!(header.decoding_bytes * size.0 * size.1 >= header.sample_bytes());
    }
}

#[test]
fn first_bytes_are_enough_where_the_header_stands_first() {
    for (id, file) in files() {
        let whole = probe(&file).unwrap();
        if whole.kind != Kind::Tiff {
            assert_eq!(probe(&file[..file.len() / 2]).unwrap(), whole, "{id}");
        }
    }
}

#[test]
fn what_is_not_accepted_is_not_decoded() {
    for (id, file) in files() {
        // Without its end, a file that is decoded gives another sentence.
        let cut = match probe(&file).unwrap().kind {
            Kind::Tiff => &file[..],
            _ => &file[..file.len() / 2],
        };
        let refused = decode_if(cut, &Limits::default(), |header| {
            assert_eq!(header.width, u64::from(WIDTH), "{id}");
            Err(lookwright_picture::Error::new("not today"))
        });
        assert_eq!(refused.unwrap_err().message(), "not today", "{id}");
    }
}

/// The OpenEXR library takes a window whose ends are exchanged for another one.
#[test]
fn a_display_window_that_ends_before_it_begins_is_refused() {
    let (_, mut file) = files().find(|(id, _)| *id == "exr-half").unwrap();
    let entry = b"displayWindow\0box2i\0\x10\0\0\0";
    let place = file.windows(entry.len()).position(|w| w == entry).unwrap() + entry.len();
    for ends in [[0, 0, -40_000_000, 0], [0, 32, 47, 0], [10, 0, 5, 32]] {
        for (i, end) in ends.into_iter().enumerate() {
            file[place + 4 * i..][..4].copy_from_slice(&i32::to_le_bytes(end));
        }
        let refusal = decode(&file).unwrap_err();
        assert!(
            refusal.message().contains("ends before it begins"),
            "{refusal}"
        );
    }
}
