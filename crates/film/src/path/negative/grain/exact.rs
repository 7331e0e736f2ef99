//! The exact grain field: for each pixel the sum over all cells of 1 um that it sees, each drawn
//! by itself. Slow; the reference for the fast field.

use super::aperture::Window;
use super::lattice::cell;
use super::{Clump, GrainParams};
use crate::path::negative::gauge::FilmScale;
use crate::spatial::Planes;

/// The field of small clouds, of unit granularity: standard deviation 1 through an aperture of 48 um.
#[must_use]
pub fn field(width: usize, height: usize, scale: &FilmScale, params: &GrainParams) -> Planes {
    let clump = Clump::new(params);
    let window = Window::new(scale.um_per_pixel, 1.0, clump.sigma_um);
    let across = window.places(i64::from(scale.first_pixel.0), width);
    let down = window.places(i64::from(scale.first_pixel.1), height);
    let mut out = Planes::filled(width, height, 0.0);
    for y in 0..height {
        for x in 0..width {
            let ((row, phase_y), (column, phase_x)) = (down.starts[y], across.starts[x]);
            let first_row = down.first_cell + row as i32;
            let first_column = across.first_cell + column as i32;
            let mut sum = [0.0_f64; 3];
            for (row, wy) in (first_row..).zip(window.of(phase_y)) {
                for (column, wx) in (first_column..).zip(window.of(phase_x)) {
                    let noise = cell(clump.seed, 0, row, column);
                    for layer in 0..3 {
                        let noise = clump.mixed(layer, noise[layer], noise[3]);
                        sum[layer] +=
                            f64::from(wx[layer]) * f64::from(wy[layer]) * f64::from(noise);
                    }
                }
            }
            for (layer, sum) in sum.iter().enumerate() {
                out.row_mut(layer, y)[x] = *sum as f32;
            }
        }
    }
    out
}
