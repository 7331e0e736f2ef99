//! Contact sheets: every frame as it was and through every look, with names, as one picture.

use lookwright_colour::Result;
use lookwright_colour::encoding::EncodingId;
use lookwright_picture::{OutColour, OutFormat, PictureWriter, Rows, WriteOptions};
use noto_sans_mono_bitmap::{FontWeight, RasterHeight, get_raster, get_raster_width};
use serde_json::json;

use super::sample::Shown;
use super::work::Made;
use super::{Pack, PackLook};

/// Pictures beside each other, and rows of them on one sheet.
const COLUMNS: usize = 4;
const ROWS_MAX: usize = 24;
/// Longest edge of a picture, room around it, and height of its words, in pixels.
const EDGE_PX: usize = 480;
const GAP_PX: usize = 16;
const WORDS_PX: usize = 40;
/// Codes of the surround, a neutral mid-grey, and of the words on it.
const SURROUND: u8 = 119;
const INK: u8 = 12;
const FORMAT: OutFormat = OutFormat::Jpeg { quality: 90 };

/// A sheet: its rows, and its place among how many.
pub(super) struct Sheet {
    rows: Vec<Row>,
    number: usize,
    count: usize,
}

/// A frame, and which of its pictures: 0 is the frame as it was, then come the looks.
#[derive(Clone)]
struct Row {
    frame: usize,
    first: usize,
    last: usize,
}

/// The sheets that frames and looks fill; a frame begins its own row.
pub(super) fn sheets(frames: usize, looks: usize) -> Vec<Sheet> {
    let pictures = looks + 1;
    let columns = pictures.min(COLUMNS);
    let rows: Vec<Row> = (0..frames)
        .flat_map(|frame| {
            (0..pictures).step_by(columns).map(move |first| Row {
                frame,
                first,
                last: pictures.min(first + columns),
            })
        })
        .collect();
    let count = rows.len().div_ceil(ROWS_MAX);
    let numbered = rows.chunks(ROWS_MAX).enumerate();
    numbered
        .map(|(i, rows)| Sheet {
            rows: rows.to_vec(),
            number: i + 1,
            count,
        })
        .collect()
}

impl Sheet {
    fn path(&self) -> String {
        match self.count {
            1 => "contact-sheet.jpg".to_owned(),
            _ => format!("contact-sheet-{:03}.jpg", self.number),
        }
    }

    pub(super) fn run(&self, pack: &Pack, entries: &[PackLook], made: &mut Made) -> Result<()> {
        let columns = (entries.len() + 1).min(COLUMNS);
        let width = columns * (EDGE_PX + GAP_PX) + GAP_PX;
        let mut page = Page {
            width,
            rgb: vec![SURROUND; width * GAP_PX * 3],
        };
        for row in &self.rows {
            let frame = &pack.frames[row.frame];
            let small = frame.small(EDGE_PX);
            let pictures: Vec<_> = (row.first..row.last)
                .map(|i| match i {
                    0 => (small.shown(None), "as the camera saw it".to_owned()),
                    _ => {
                        let entry = &entries[i - 1];
                        let words = format!("{}, {}", entry.name(), entry.stock_label());
                        (small.shown(Some(&entry.look)), words)
                    }
                })
                .collect();
            page.row(&frame.name, &pictures);
        }
        let options = WriteOptions {
            colour: OutColour::Of(EncodingId::Srgb),
            legal_range: false,
            description: Some("Contact sheet, before and after".to_owned()),
            ..WriteOptions::default()
        };
        let height = page.rgb.len() / (3 * width);
        let mut writer = PictureWriter::new(FORMAT, width as u32, height as u32, &options)?;
        writer.push_rows(Rows::U8(&page.rgb))?;
        let about = json!({ "role": "contact-sheet" });
        made.add(&self.path(), &writer.finish()?, about)?;
        let mut names: Vec<&str> = self
            .rows
            .iter()
            .map(|r| pack.frames[r.frame].name.as_str())
            .collect();
        names.dedup();
        let words = format!(
            "{}: as the camera saw it, then through each look",
            names.join(", ")
        );
        made.findings.sheets.push((self.path(), words));
        Ok(())
    }
}

/// A page that grows downwards.
struct Page {
    width: usize,
    rgb: Vec<u8>,
}

impl Page {
    /// Pictures with two lines of words under each, and a gap below.
    fn row(&mut self, name: &str, pictures: &[(Shown, String)]) {
        let tallest = pictures.iter().map(|(shown, _)| shown.height).max();
        let top = self.rgb.len() / (3 * self.width);
        let tall = tallest.unwrap_or(0);
        let below = top + tall + 6;
        let bottom = top + tall + WORDS_PX + GAP_PX;
        self.rgb.resize(bottom * self.width * 3, SURROUND);
        for (column, (shown, words)) in pictures.iter().enumerate() {
            let cell = GAP_PX + column * (EDGE_PX + GAP_PX);
            let left = cell + (EDGE_PX - shown.width) / 2;
            for (y, line) in shown.rgb.chunks_exact(shown.width * 3).enumerate() {
                let at = ((top + y) * self.width + left) * 3;
                self.rgb[at..at + line.len()].copy_from_slice(line);
            }
            self.words(cell, below, name);
            self.words(cell, below + 16, words);
        }
    }

    /// A line of words, cut where the cell ends. Letters that the font lacks become `?`.
    fn words(&mut self, left: usize, top: usize, words: &str) {
        let (weight, height) = (FontWeight::Regular, RasterHeight::Size16);
        let advance = get_raster_width(weight, height);
        for (i, c) in words.chars().take(EDGE_PX / advance).enumerate() {
            let letter = get_raster(c, weight, height).or_else(|| get_raster('?', weight, height));
            let Some(letter) = letter else {
                continue;
            };
            for (y, line) in letter.rows().enumerate() {
                for (x, &cover) in line.iter().enumerate() {
                    let at = ((top + y) * self.width + left + i * advance + x) * 3;
                    let (cover, ground) = (u32::from(cover), u32::from(SURROUND));
                    let mixed = (ground * (255 - cover) + u32::from(INK) * cover) / 255;
                    self.rgb[at..at + 3].fill(mixed as u8);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_frame_stands_beside_every_look_once() {
        for (frames, looks) in [(1, 1), (3, 4), (30, 9), (0, 2)] {
            let sheets = sheets(frames, looks);
            let mut seen = Vec::new();
            for sheet in &sheets {
                assert!(sheet.rows.len() <= ROWS_MAX && sheet.count == sheets.len());
                for row in &sheet.rows {
                    seen.extend((row.first..row.last).map(|i| (row.frame, i)));
                }
            }
            let all = (0..frames).flat_map(|f| (0..=looks).map(move |i| (f, i)));
            assert_eq!(seen, all.collect::<Vec<_>>());
        }
    }

    #[test]
    fn words_are_cut_at_the_cell_and_unknown_letters_shown_as_such() {
        let width = EDGE_PX + 2 * GAP_PX;
        let page = |words: &str| {
            let mut page = Page {
                width,
                rgb: vec![SURROUND; width * 20 * 3],
            };
            page.words(GAP_PX, 2, words);
            page.rgb
        };
        assert!(page("Quay") != page(""));
        assert_eq!(page("夜"), page("?"));
        let long = page(&"W".repeat(500));
        for line in long.chunks_exact(width * 3) {
            assert!(
                line[(GAP_PX + EDGE_PX) * 3..]
                    .iter()
                    .all(|v| *v == SURROUND)
            );
        }
    }
}
