//! A decoded picture: upright interleaved RGB, and what its file says about it.

use std::ops::Range;

use lookwright_colour::{Error, Result};
use lookwright_film::spatial::{Planes, Reducer, Window};

use crate::carried::Carried;
use crate::colour::ColourHint;
use crate::exif::Camera;
use crate::kind::Kind;

/// Interleaved RGB samples, three per pixel, rows from the top, in the file's own precision.
#[derive(Clone, Debug, PartialEq)]
pub enum Samples {
    /// Codes 0 ... 255.
    U8(Vec<u8>),
    /// Codes 0 ... 65535.
    U16(Vec<u16>),
    /// As stored: may lie below 0, above 1, and be infinite or not a number.
    F32(Vec<f32>),
}

impl Samples {
    /// How many samples there are: three per pixel.
    pub fn len(&self) -> usize {
        match self {
            Self::U8(v) => v.len(),
            Self::U16(v) => v.len(),
            Self::F32(v) => v.len(),
        }
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Bytes that they take.
    pub fn byte_count(&self) -> u64 {
        self.len() as u64 * u64::from(self.bits() / 8)
    }

    /// Bits per sample.
    pub fn bits(&self) -> u8 {
        match self {
            Self::U8(_) => 8,
            Self::U16(_) => 16,
            Self::F32(_) => 32,
        }
    }

    /// Some of the samples as they lie in memory.
    fn bytes(&self, range: Range<usize>) -> &[u8] {
        match self {
            Self::U8(v) => &v[range],
            Self::U16(v) => bytemuck::cast_slice(&v[range]),
            Self::F32(v) => bytemuck::cast_slice(&v[range]),
        }
    }

    /// Samples of 8, 16 or 32 bits from what [`Self::bytes`] gave on the same machine; what is no
    /// whole sample at the end is left out.
    ///
    /// # Errors
    /// When there are no samples of so many bits.
    pub fn from_bytes(bits: u8, bytes: Vec<u8>) -> Result<Self> {
        let whole = &bytes[..bytes.len() - bytes.len() % (usize::from(bits) / 8).max(1)];
        match bits {
            8 => Ok(Self::U8(bytes)),
            16 => Ok(Self::U16(bytemuck::pod_collect_to_vec(whole))),
            32 => Ok(Self::F32(bytemuck::pod_collect_to_vec(whole))),
            _ => Err(Error::new(format!("There are no samples of {bits} bits."))),
        }
    }

    /// Samples `range`, whole pixels, as three planes R, G, B: the first values of each plane are
    /// written.
    fn read<P: AsMut<[f32]>>(&self, range: Range<usize>, planes: &mut [P; 3]) {
        match self {
            Self::U8(v) => split(&v[range], planes, |code| f32::from(code) / 255.0),
            Self::U16(v) => split(&v[range], planes, |code| f32::from(code) / 65535.0),
            Self::F32(v) => split(&v[range], planes, |value| value),
        }
    }

    /// All samples, whole pixels, as three planes R, G, B.
    pub(crate) fn to_planes(&self) -> [Vec<f32>; 3] {
        let mut planes = std::array::from_fn(|_| vec![0.0; self.len() / 3]);
        self.read(0..self.len(), &mut planes);
        planes
    }

    /// The sample at `index` on the scale where the largest code is 1 (`code / 255`,
    /// `code / 65535`; floats as they are).
    pub fn normalised(&self, index: usize) -> f32 {
        match self {
            Self::U8(v) => f32::from(v[index]) / 255.0,
            Self::U16(v) => f32::from(v[index]) / 65535.0,
            Self::F32(v) => v[index],
        }
    }
}

/// A decoded picture.
#[derive(Clone, Debug)]
pub struct Decoded {
    /// Width in pixels, after the EXIF orientation has been applied.
    pub width: u32,
    /// Height in pixels, after the EXIF orientation has been applied.
    pub height: u32,
    /// `3 * width * height` samples.
    pub samples: Samples,
    /// What kind of file it came from.
    pub kind: Kind,
    /// Bits per sample in the file (a JPEG has 8, a half-float EXR 16).
    pub file_bits: u8,
    /// What the file says about the colour of its samples.
    pub colour: ColourHint,
    /// Whether the file says that its codes are in legal (narrow) range.
    pub legal_range: bool,
    /// What EXIF says about the camera.
    pub camera: Camera,
    /// What was left out or overlooked on reading, one sentence each; empty for most pictures.
    pub notes: Vec<String>,
    /// What is meant to be seen, where there is more (overscan); none where all of it is.
    pub shown: Option<Shown>,
    /// What goes on to pictures that are made of this one.
    pub carried: Carried,
}

/// The part of a picture that is meant to be seen: an OpenEXR file's display window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shown {
    /// Column of its first pixel in the picture.
    pub left: u32,
    /// Row of its first pixel in the picture.
    pub top: u32,
    /// Columns.
    pub width: u32,
    /// Rows.
    pub height: u32,
}

/// Longer side of a copy that is enough to judge by, in pixels.
const SMALL_PX: usize = 256;

impl Decoded {
    /// A small copy: enough to judge by.
    pub fn small(&self) -> Planes {
        let (width, height) = (self.width as usize, self.height as usize);
        let longer = width.max(height).max(1);
        let side = |length: usize| (length * SMALL_PX.min(longer)).div_ceil(longer);
        let mut reducer = Reducer::new(width, height, side(width), side(height));
        let mut row = [0, 1, 2].map(|_| vec![0.0; width]);
        for y in 0..self.height {
            self.read_rows(y..y + 1, &mut row);
            reducer.push_row([&row[0], &row[1], &row[2]]);
        }
        reducer.finish()
    }

    /// A picture of samples that came without a file, of `size` columns by rows: nothing is known of their
    /// colour.
    ///
    /// # Errors
    /// When there are not three samples for each pixel.
    pub fn of_samples((width, height): (u32, u32), samples: Samples) -> Result<Self> {
        if samples.len() as u64 != 3 * u64::from(width) * u64::from(height) || samples.is_empty() {
            return Err(Error::new(format!(
                "{} samples are no picture of {width} x {height} pixels.",
                samples.len()
            )));
        }
        Ok(Self {
            width,
            height,
            file_bits: samples.bits(),
            samples,
            kind: Kind::Clip,
            colour: ColourHint::Untagged,
            legal_range: false,
            camera: Camera::default(),
            notes: Vec::new(),
            shown: None,
            carried: Carried::default(),
        })
    }

    /// Where the picture lies on what is meant to be seen of it, which is what a film's frame holds.
    pub fn window(&self) -> Window {
        let (width, height) = (self.width as usize, self.height as usize);
        let Some(shown) = self.shown else {
            return Window::whole(width, height);
        };
        Window {
            x0: -(shown.left as i32),
            y0: -(shown.top as i32),
            ..Window::whole(shown.width as usize, shown.height as usize)
        }
    }

    /// Rows `rows` as three planes R, G, B of `rows.len() * width` normalised values each (see
    /// [`Samples::normalised`]). A strip at a time keeps a big picture from being held twice.
    ///
    /// # Panics
    /// When the range reaches past the last row.
    pub fn rows(&self, rows: Range<u32>) -> [Vec<f32>; 3] {
        let pixels = rows.len() * self.width as usize;
        let mut planes = std::array::from_fn(|_| vec![0.0; pixels]);
        self.read_rows(rows, &mut planes);
        planes
    }

    /// As [`Self::rows`], into buffers that the caller keeps: the first
    /// `rows.len() * width` values of each plane are written.
    ///
    /// # Panics
    /// When the range reaches past the last row or a plane is too short.
    pub fn read_rows<P: AsMut<[f32]>>(&self, rows: Range<u32>, planes: &mut [P; 3]) {
        assert!(
            rows.start <= rows.end && rows.end <= self.height,
            "rows within the picture"
        );
        let row = 3 * self.width as usize;
        let range = rows.start as usize * row..rows.end as usize * row;
        self.samples.read(range, planes);
    }

    /// The samples of `rows` as [`Samples::from_bytes`] takes them.
    ///
    /// # Errors
    /// When the picture has no such rows.
    pub fn row_bytes(&self, rows: Range<u32>) -> Result<&[u8]> {
        if rows.start > rows.end || rows.end > self.height {
            return Err(Error::new(format!(
                "There are no rows {} ... {} in this picture.",
                rows.start, rows.end
            )));
        }
        let row = 3 * self.width as usize;
        let span = rows.start as usize * row..rows.end as usize * row;
        Ok(self.samples.bytes(span))
    }

    /// The whole picture as three planes R, G, B of normalised values.
    pub fn to_planes(&self) -> [Vec<f32>; 3] {
        self.rows(0..self.height)
    }

    /// The three normalised values of one pixel.
    ///
    /// # Panics
    /// When the pixel lies outside.
    pub fn pixel(&self, x: u32, y: u32) -> [f32; 3] {
        assert!(
            x < self.width && y < self.height,
            "pixel within the picture"
        );
        let first = 3 * (y as usize * self.width as usize + x as usize);
        std::array::from_fn(|channel| self.samples.normalised(first + channel))
    }
}

fn split<T: Copy, P: AsMut<[f32]>>(
    pixels: &[T],
    planes: &mut [P; 3],
    value: impl Fn(T) -> f32 + Copy,
) {
    let [red, green, blue] = planes;
    let count = pixels.len() / 3;
    let (red, green, blue) = (red.as_mut(), green.as_mut(), blue.as_mut());
    let (red, green, blue) = (&mut red[..count], &mut green[..count], &mut blue[..count]);
    let (pixels, _) = pixels.as_chunks::<3>();
    for (((pixel, r), g), b) in pixels.iter().zip(red).zip(green).zip(blue) {
        *r = value(pixel[0]);
        *g = value(pixel[1]);
        *b = value(pixel[2]);
    }
}
