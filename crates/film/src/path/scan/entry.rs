//! Where a picture comes in that is the scan of a negative already.
//!
//! It was exposed and developed elsewhere, so the look's lens and texture have no say; its film says which
//! film was scanned, whose base, toe and grey the scan is set up for. Codes are printing densities above
//! the base; what the scan takes are densities of dyes, so they go through the inverse of
//! [`code::printing`](super::code::printing), without the film's timing, which the scan adds. Where the
//! encoding has mid-grey at another density than the look's scans, all three channels are moved
//! by the difference, as a scanner's set-up does it. The frame's trim moves densities as more light, or
//! light of another colour, would have, by the gamma that the encoding takes for the negative's.

use crate::look::{self, effective_amount};
use crate::path::lens::light_balance;
use crate::path::negative::{DYES, GREY_DENSITY, Record};
use crate::path::{Density, FrameCode};
use lookwright_colour::encoding::Affine;
use lookwright_colour::lane::Lane;
use lookwright_colour::{Mat3, PixelMatrix, Rgb};

/// Codes beyond say nothing of a negative.
const CODES: [f32; 2] = [-1.0, 2.0];

/// A scanned negative's codes to densities, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    matrix: PixelMatrix,
    density: Rgb,
}

impl Entry {
    /// For a frame that is a film scan, of this film; none for all others.
    pub fn new(frame: &look::Frame, film: &Record) -> Option<Self> {
        let encoding = frame.source.encoding;
        let scan = encoding.scan_density()?;
        let class = encoding.info().class;
        let range = frame
            .source
            .range
            .to_code(class, crate::path::intake::LEGAL_BITS);
        let range = range.unwrap_or(Affine::IDENTITY);
        let to_dyes = Mat3(DYES).inverse().unwrap_or(Mat3::IDENTITY);

        let trim = &frame.trim;
        let amount = effective_amount(trim);
        let light = light_balance(trim.kelvin, trim.tint, amount).apply([1.0; 3]);
        let above_zero = f64::from(range.offset) * scan.full_scale - scan.base;
        let offset = [0, 1, 2].map(|i| {
            let log_e = libm::log10(light[i]) + trim.exposure * amount * core::f64::consts::LOG10_2;
            above_zero + (GREY_DENSITY - scan.grey) + scan.gamma * log_e - f64::from(film.timing[i])
        });
        let full_scale = f64::from(range.gain) * scan.full_scale;
        Some(Self {
            matrix: to_dyes.after(&Mat3::diagonal([full_scale; 3])).for_pixels(),
            density: Rgb::from_array(to_dyes.apply(offset).map(|d| d as f32)),
        })
    }

    /// The frame's code to density above base. NaN counts as code 0; the result is always finite.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, FrameCode(code): FrameCode<L>) -> Density<L> {
        let code = code.map(
            #[inline(always)]
            |c| L::select(c.le(c), c, c.of(0.0)).clamp_to(CODES[0], CODES[1]),
        );
        Density(self.matrix.apply(code).zip(
            self.density,
            #[inline(always)]
            |d, offset| d + offset,
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::{Delivery, Frame, Look, Options, Stage, StageId, StartingStock};
    use crate::path::LightPath;
    use lookwright_colour::encoding::{EncodingId, Range};

    fn scan(encoding: EncodingId) -> Frame {
        let mut frame = Frame::default();
        frame.source.encoding = encoding;
        frame
    }

    /// A look's flat scan comes back in and goes on as if it had never left.
    #[test]
    fn a_scan_goes_on_where_the_look_s_own_would_have() {
        let (frame, delivery) = (Frame::default(), Delivery::default());
        for stock in StartingStock::ALL {
            let look = Look::starting(*stock);
            let mut flat = look.clone();
            flat.scan
                .steps_mut()
                .into_iter()
                .for_each(|step| step.set_on(false));
            let flat = LightPath::new(&flat, &frame, &delivery);
            let whole = LightPath::new(&look, &frame, &delivery);
            let entering = LightPath::new(&look, &scan(EncodingId::FilmScan), &delivery);
            for code in [
                [0.1, 0.2, 0.3],
                [0.5; 3],
                [0.9, 0.6, 0.2],
                [0.98, 0.97, 1.0],
            ] {
                let code = Rgb::from_array(code);
                let scanned = flat.up_to(StageId::Scan, code);
                let (there, back) = (whole.to_screen(code), entering.to_screen(scanned));
                for (a, b) in there.to_array().into_iter().zip(back.to_array()) {
                    assert!((a - b).abs() < 1e-4, "{stock:?} {there:?} {back:?}");
                }
            }
        }
    }

    #[test]
    fn mid_grey_lies_where_the_looks_scans_have_it() {
        for (encoding, code) in [
            (EncodingId::FilmScan, (95.0 + GREY_DENSITY / 0.002) / 1023.0),
            (EncodingId::Adx10, 445.0 / 1023.0),
            (EncodingId::Adx16, 7120.0 / 65535.0),
        ] {
            let grey = |frame: &Frame, code: f64| {
                let entry = Entry::new(frame, &Record::default()).unwrap();
                entry.apply(FrameCode(Rgb::grey(code as f32))).0.to_array()
            };
            let frame = scan(encoding);
            let close = |a: [f32; 3], b: f64| a.iter().all(|d| (f64::from(*d) - b).abs() < 2e-6);
            assert!(close(grey(&frame, code), GREY_DENSITY), "{encoding:?}");
            // One stop of trim is one stop of the gamma that the encoding takes.
            let mut brighter = frame.clone();
            brighter.trim.exposure = 1.0;
            let stop = encoding.scan_density().unwrap().gamma * core::f64::consts::LOG10_2;
            assert!(
                close(grey(&brighter, code), GREY_DENSITY + stop),
                "{encoding:?}"
            );
            // Legal range squeezes codes into 64 to 940.
            let mut legal = frame.clone();
            legal.source.range = Range::Legal;
            let squeezed = (64.0 + 876.0 * code) / 1023.0;
            assert!(close(grey(&legal, squeezed), GREY_DENSITY), "{encoding:?}");
        }
        assert_eq!(Entry::new(&Frame::default(), &Record::default()), None);
    }

    #[test]
    fn warm_light_is_taken_out_of_a_scan_as_out_of_light() {
        let mut frame = scan(EncodingId::Adx10);
        frame.trim.kelvin = 3200.0;
        let entry = Entry::new(&frame, &Record::default()).unwrap();
        let [r, g, b] = entry.apply(FrameCode(Rgb::grey(0.4_f32))).0.to_array();
        assert!(r < g && g < b, "{r} {g} {b}");
    }

    #[test]
    fn what_is_no_number_is_no_density() {
        let entry = Entry::new(&scan(EncodingId::FilmScan), &Record::default()).unwrap();
        let of = |code: f32| entry.apply(FrameCode(Rgb::grey(code))).0;
        assert_eq!(of(f32::NAN), of(0.0));
        assert_eq!(of(f32::INFINITY), of(2.0));
        assert_eq!(of(-1e30), of(-1.0));
    }
}
