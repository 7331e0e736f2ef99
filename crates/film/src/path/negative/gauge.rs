//! Gauges: how micrometres on film map to pixels.
//!
//! The picture is cut out of the camera aperture as large as it fits, its longer side along the
//! aperture's width (for an upright picture the camera is turned). So one scale holds for both
//! axes: `um per pixel = min(width / long side, height / short side)`. The film's origin is the
//! picture's upper left corner, so texture stays where it is when the picture is resized.

use crate::look::Gauge;
use crate::spatial::Window;

/// A camera aperture in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aperture {
    /// Across the film's run, the picture's longer side.
    pub width_mm: f64,
    /// Along the film's run.
    pub height_mm: f64,
}

impl Aperture {
    /// The published aperture of a gauge. The numbers of the standards are from secondary
    /// sources; where those disagree, the comment says how.
    #[must_use]
    pub const fn of(gauge: Gauge) -> Self {
        let (width_mm, height_mm) = match gauge {
            // SMPTE 157 (super 8). Also given as 6.22 x 4.22 and, projectable, 5.31 x 4.01.
            Gauge::Gauge8 => (5.79, 4.01),
            // SMPTE 7. Also given as 10.3 x 7.5.
            Gauge::Gauge16 => (10.26, 7.49),
            // SMPTE 201M, type W. Also given as 12.40 x 7.49.
            Gauge::Super16 => (12.52, 7.41),
            // SMPTE 59, academy. Also given as 22.00 x 16.00.
            Gauge::Gauge35 => (21.95, 16.00),
            // SMPTE 59, full aperture of four perforations: 0.980 x 0.735 inch.
            Gauge::Super35 => (24.89, 18.66),
            // SMPTE 215, five perforations. Also given as 52.63 x 23.01.
            Gauge::Gauge65 => (52.48, 23.01),
        };
        Self {
            width_mm,
            height_mm,
        }
    }
}

/// Where a buffer lies on the film.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FilmScale {
    /// Micrometres per pixel, along both axes.
    pub um_per_pixel: f64,
    /// Column and row of the buffer's first pixel in the whole picture at this scale. Kept as whole
    /// numbers, so that a tile computes the same places on film as the whole picture does.
    pub first_pixel: (i32, i32),
}

impl FilmScale {
    /// For a buffer of a picture that was taken on `gauge`.
    #[must_use]
    pub fn of(gauge: Gauge, window: &Window) -> Self {
        let aperture = Aperture::of(gauge);
        let (w, h) = (window.full_width.max(1), window.full_height.max(1));
        let (long, short) = (f64::from(w.max(h)), f64::from(w.min(h)));
        let full_um = (aperture.width_mm / long).min(aperture.height_mm / short) * 1000.0;
        let um_per_pixel = full_um / window.scale;
        Self {
            um_per_pixel,
            first_pixel: (window.x0, window.y0),
        }
    }

    /// Film position of the buffer's upper left corner, x and y, in micrometres.
    #[must_use]
    pub fn origin_um(&self) -> (f64, f64) {
        (
            f64::from(self.first_pixel.0) * self.um_per_pixel,
            f64::from(self.first_pixel.1) * self.um_per_pixel,
        )
    }

    /// A length on film in pixels.
    #[must_use]
    pub fn px(&self, um: f64) -> f64 {
        um / self.um_per_pixel
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pixels_per_millimetre_are_those_of_the_published_widths() {
        // Wide pictures fill the aperture's width: px/mm = columns / width.
        for (gauge, columns, px_per_mm) in [
            (Gauge::Gauge8, 1920, 331.606_218),
            (Gauge::Gauge16, 3840, 374.269_006),
            (Gauge::Super16, 4096, 327.156_550),
            (Gauge::Gauge35, 4096, 186.605_923),
            (Gauge::Super35, 4096, 164.564_082),
            (Gauge::Gauge65, 1920, 36.585_366),
        ] {
            let window = Window::whole(columns, columns * 2 / 5);
            let scale = FilmScale::of(gauge, &window);
            assert!((1000.0 / scale.um_per_pixel - px_per_mm).abs() < 1e-5);
        }
    }

    #[test]
    fn a_picture_is_cut_from_the_aperture_and_turned_if_upright() {
        let scale = |w, h| FilmScale::of(Gauge::Super35, &Window::whole(w, h)).um_per_pixel;
        assert_eq!(scale(3000, 3000), 18_660.0 / 3000.0);
        assert_eq!(scale(4000, 2000), 24_890.0 / 4000.0);
        assert_eq!(scale(2000, 4000), scale(4000, 2000));
    }

    #[test]
    fn a_place_on_film_is_the_same_at_every_scale() {
        let at = |x0, scale| {
            let window = Window {
                x0,
                y0: x0 / 2,
                full_width: 4096,
                full_height: 2304,
                scale,
            };
            FilmScale::of(Gauge::Super16, &window).origin_um()
        };
        assert_eq!(at(400, 1.0), at(200, 0.5));
        assert_eq!(at(400, 1.0), at(100, 0.25));
    }
}
