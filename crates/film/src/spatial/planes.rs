//! The picture buffer of every pass: planes of `f32`, and where they lie in the whole picture.

/// One channel of a picture, row-major and contiguous: `data[y * width + x]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plane {
    /// Columns.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// `width * height` values.
    pub data: Vec<f32>,
}

impl Plane {
    /// A plane filled with `value`.
    #[must_use]
    pub fn filled(width: usize, height: usize, value: f32) -> Self {
        Self {
            width,
            height,
            data: vec![value; width * height],
        }
    }

    /// Row `y`.
    #[must_use]
    pub fn row(&self, y: usize) -> &[f32] {
        &self.data[y * self.width..(y + 1) * self.width]
    }

    /// Row `y`, to write to.
    pub fn row_mut(&mut self, y: usize) -> &mut [f32] {
        &mut self.data[y * self.width..(y + 1) * self.width]
    }
}

/// Three channels of one picture, in the order red, green, blue. Each is row-major and
/// contiguous: `planes[channel][y * width + x]`. Space and unit are said by the name of the
/// variable that holds them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Planes {
    /// Columns.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Three times `width * height` values.
    pub planes: [Vec<f32>; 3],
}

impl Planes {
    /// Planes filled with `value`.
    #[must_use]
    pub fn filled(width: usize, height: usize, value: f32) -> Self {
        Self {
            width,
            height,
            planes: core::array::from_fn(|_| vec![value; width * height]),
        }
    }

    /// Number of pixels.
    #[must_use]
    pub fn pixels(&self) -> usize {
        self.width * self.height
    }

    /// Row `y` of one channel.
    #[must_use]
    pub fn row(&self, channel: usize, y: usize) -> &[f32] {
        &self.planes[channel][y * self.width..(y + 1) * self.width]
    }

    /// Adds rows of the same width at the lower end.
    pub fn append(&mut self, rows: Self) {
        self.height += rows.height;
        for (plane, more) in self.planes.iter_mut().zip(rows.planes) {
            if plane.capacity() == 0 {
                *plane = more;
            } else {
                plane.extend(more);
            }
        }
    }

    /// Row `y` of one channel, to write to.
    pub fn row_mut(&mut self, channel: usize, y: usize) -> &mut [f32] {
        &mut self.planes[channel][y * self.width..(y + 1) * self.width]
    }
}

/// The part of a picture that begins at column `x`, row `y`, as far as the picture goes.
#[must_use]
pub fn crop(picture: &Planes, x: usize, y: usize, width: usize, height: usize) -> Planes {
    let (x, y) = (x.min(picture.width), y.min(picture.height));
    let (width, height) = (width.min(picture.width - x), height.min(picture.height - y));
    let mut out = Planes::filled(width, height, 0.0);
    for channel in 0..3 {
        for line in 0..height {
            let row = &picture.row(channel, y + line)[x..x + width];
            out.row_mut(channel, line).copy_from_slice(row);
        }
    }
    out
}

/// Where a buffer lies in the whole picture: strips, tiles and inspected crops are windows of it,
/// and a preview is the whole of it at a smaller scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// Column of the buffer's first pixel, in pixels of the picture at this scale. Negative where there
    /// is more than the picture shows (overscan).
    pub x0: i32,
    /// Row of the buffer's first pixel, in the same way.
    pub y0: i32,
    /// Columns of the picture at its full size.
    pub full_width: u32,
    /// Rows of the picture at its full size.
    pub full_height: u32,
    /// Pixels of the buffer per pixel of the full-size picture: 1 at full size, 0.25 for a
    /// preview of a quarter of the width.
    pub scale: f64,
}

impl Window {
    /// The whole picture at full size.
    #[must_use]
    pub fn whole(width: usize, height: usize) -> Self {
        Self {
            x0: 0,
            y0: 0,
            full_width: width as u32,
            full_height: height as u32,
            scale: 1.0,
        }
    }

    /// Column and row of the picture's middle in the buffer; 0 is the middle of the first pixel.
    #[must_use]
    pub fn middle_px(&self) -> [f64; 2] {
        let middle =
            |full: u32, first: i32| f64::from(full) * self.scale / 2.0 - 0.5 - f64::from(first);
        [
            middle(self.full_width, self.x0),
            middle(self.full_height, self.y0),
        ]
    }

    /// Length of the picture's diagonal, in pixels of the buffer.
    #[must_use]
    pub fn diagonal_px(&self) -> f64 {
        let (w, h) = (f64::from(self.full_width), f64::from(self.full_height));
        (w * w + h * h).sqrt() * self.scale
    }
}
