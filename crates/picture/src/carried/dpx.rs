//! What DPX says beside its picture, as OpenEXR has it: time code, frame rate and pixel aspect. SMPTE
//! ST 268-1, television and film headers; time code as SMPTE ST 12-1 packs it, in binary coded decimals.

use exr::meta::attribute::TimeCode;

use super::{Attributes, Carried};
use crate::dpx::at;

/// A field that nothing was written to.
const UNKNOWN: u32 = u32::MAX;

/// What a header says; `long` reads a word of it. The pixels of a picture that is turned by a quarter
/// are as wide as they were high.
pub(crate) fn from_header(long: impl Fn(usize) -> u32, is_turned: bool) -> Carried {
    let mut attributes = Attributes::unknown();
    let (mut across, mut down) = (long(at::ASPECT), long(at::ASPECT + 4));
    if is_turned {
        (across, down) = (down, across);
    }
    let known = |word: u32| word != UNKNOWN && word != 0;
    if known(across) && known(down) {
        attributes.shared.pixel_aspect = across as f32 / down as f32;
    }
    let rate = [at::TELEVISION_RATE, at::FILM_RATE].map(|place| f32::from_bits(long(place)));
    attributes.own.frames_per_second = rate
        .into_iter()
        .find(|rate| rate.is_finite() && (0.01..1e6).contains(rate))
        .map(rational);
    // Noughts without a rate are a header that nothing was written to.
    let is_rated = attributes.own.frames_per_second.is_some();
    attributes.shared.time_code = Some(long(at::TIME_CODE))
        .filter(|code| *code != UNKNOWN && (*code != 0 || is_rated))
        .and_then(time_code);
    Carried {
        attributes: Some(Box::new(attributes)),
        ..Carried::default()
    }
}

/// Writes what is known into a header whose words have the high byte first.
pub(crate) fn into_header(carried: &Carried, header: &mut [u8]) {
    let mut put = |place: usize, word: u32| {
        header[place..place + 4].copy_from_slice(&word.to_be_bytes());
    };
    put(at::TIME_CODE, UNKNOWN);
    put(at::USER_BITS, UNKNOWN);
    let Some(attributes) = &carried.attributes else {
        return;
    };
    let aspect = attributes.shared.pixel_aspect;
    if aspect.is_finite() && (1e-3..1e3).contains(&aspect) {
        let (across, down) = rational(aspect);
        put(at::ASPECT, across as u32);
        put(at::ASPECT + 4, down);
    }
    if let Some(code) = &attributes.shared.time_code {
        put(at::TIME_CODE, packed(code));
    }
    if let Some((frames, seconds)) = attributes.own.frames_per_second
        && frames > 0
        && seconds > 0
    {
        let rate = (f64::from(frames) / f64::from(seconds)) as f32;
        put(at::FILM_RATE, rate.to_bits());
        put(at::TELEVISION_RATE, rate.to_bits());
    }
}

/// A number as a ratio of whole ones: a whole one, a rate of television (24000 to 1001), a small ratio,
/// and others to a thousandth.
fn rational(number: f32) -> (i32, u32) {
    let number = f64::from(number);
    let ratio = |down: u32| ((number * f64::from(down)).round() as i32, down);
    let near = |(across, down): &(i32, u32)| {
        (f64::from(*across) / f64::from(*down) - number).abs() < 1e-5 * number
    };
    let television = ((number * 1.001).round() as i32 * 1000, 1001);
    [ratio(1), television]
        .into_iter()
        .chain((2..=32).map(ratio))
        .find(near)
        .unwrap_or_else(|| ratio(1000))
}

/// Two decimal digits in a byte.
fn decimal(byte: u32) -> Option<u8> {
    let (tens, ones) = (byte >> 4 & 0xf, byte & 0xf);
    (tens < 10 && ones < 10).then_some((10 * tens + ones) as u8)
}

/// Hours, minutes, seconds and frames, a byte each, the hours first. None if it is none.
fn time_code(word: u32) -> Option<TimeCode> {
    let [hours, minutes, seconds, frame] = [24, 16, 8, 0].map(|shift| decimal(word >> shift));
    let code = TimeCode {
        hours: hours?,
        minutes: minutes?,
        seconds: seconds?,
        frame: frame?,
        drop_frame: false,
        color_frame: false,
        field_phase: false,
        binary_group_flags: [false; 3],
        binary_groups: [0; 8],
    };
    let holds = code.hours < 24 && code.minutes < 60 && code.seconds < 60 && code.frame < 60;
    holds.then_some(code)
}

fn packed(code: &TimeCode) -> u32 {
    [code.hours, code.minutes, code.seconds, code.frame]
        .iter()
        .fold(0, |word, part| {
            let part = u32::from(*part);
            word << 8 | (part / 10 % 10) << 4 | (part % 10)
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rates_are_whole_numbers_and_those_of_television() {
        for (rate, ratio) in [
            (24.0, (24, 1)),
            (23.976_025, (24000, 1001)),
            (29.970_03, (30000, 1001)),
            (47.952_05, (48000, 1001)),
            (119.880_12, (120_000, 1001)),
            (23.98, (23980, 1000)),
            (25.0, (25, 1)),
            (12.5, (25, 2)),
            (2.0, (2, 1)),
            (1.3, (13, 10)),
        ] {
            assert_eq!(rational(rate), ratio, "{rate}");
        }
    }

    #[test]
    fn a_turned_picture_has_its_aspect_turned() {
        let word = |place| match place {
            at::ASPECT => 2,
            place if place == at::ASPECT + 4 => 1,
            _ => UNKNOWN,
        };
        for (is_turned, aspect) in [(false, 2.0), (true, 0.5)] {
            let attributes = from_header(word, is_turned).attributes.unwrap();
            assert_eq!(
                attributes.shared.pixel_aspect.to_bits(),
                f32::to_bits(aspect)
            );
        }
    }

    #[test]
    fn a_time_code_is_decimal_digits() {
        let code = time_code(0x1023_5912).unwrap();
        assert_eq!(
            (code.hours, code.minutes, code.seconds, code.frame),
            (10, 23, 59, 12)
        );
        assert_eq!(packed(&code), 0x1023_5912);
        for none in [0x1a00_0000, 0x2400_0000, 0x0060_0000, u32::MAX] {
            assert!(time_code(none).is_none(), "{none:x}");
        }
    }
}
