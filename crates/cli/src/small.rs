//! A small copy of a picture: enough to judge by.

use lookwright_film::spatial::{Planes, Reducer};
use lookwright_picture::Decoded;

/// Its longer side.
const SIDE: usize = 256;

pub(crate) fn small(picture: &Decoded) -> Planes {
    let (width, height) = (picture.width as usize, picture.height as usize);
    let longer = width.max(height).max(1);
    let side = |length: usize| (length * SIDE.min(longer)).div_ceil(longer);
    let mut reducer = Reducer::new(width, height, side(width), side(height));
    let mut row = [0, 1, 2].map(|_| vec![0.0; width]);
    for y in 0..picture.height {
        picture.read_rows(y..y + 1, &mut row);
        reducer.push_row([&row[0], &row[1], &row[2]]);
    }
    reducer.finish()
}
