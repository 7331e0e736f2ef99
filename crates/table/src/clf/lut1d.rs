//! LUT1D: three curves over 0 ... 1, or over every half-float number.

use super::depth::Depths;
use crate::number::{finite, quoted, size_refused};
use crate::xml::Element;
use crate::{CURVE_SIZE_MAX, Curve1};
use lookwright_colour::error::{Error, Result};

/// Three curves of a LUT1D node.
#[derive(Clone, Debug, PartialEq)]
pub enum Lut1d {
    /// Samples at equal steps.
    Even(Curve1),
    /// One sample for each half-float number.
    Half(HalfCurve),
}

/// Curves sampled at each of the 65536 half-float numbers, in the order of their bits; linear
/// between neighbours. Input beyond the largest half (65504) is held there; NaN is held at 0.
#[derive(Clone, Debug, PartialEq)]
pub struct HalfCurve {
    samples: Vec<[f32; 3]>,
}

/// Half-float numbers, and the bits of the largest finite one.
const HALVES: usize = 65_536;
const HALF_MAX_BITS: u16 = 0x7bff;
const HALF_SIGN: u16 = 0x8000;

impl Lut1d {
    pub(super) fn apply(&self, input: [f32; 3]) -> [f32; 3] {
        match self {
            Self::Even(curve) => curve.apply(input),
            Self::Half(curve) => core::array::from_fn(|c| curve.at(input[c], c)),
        }
    }

    pub(super) fn read(element: Element<'_, '_>, depths: Depths) -> Result<Self> {
        let half_domain = flag(element, "halfDomain")?;
        let raw_halves = flag(element, "rawHalfs")?;
        if element.attribute("hueAdjust").is_some() {
            return Err(element.error("hueAdjust is not part of the Common LUT Format"));
        }
        let array = super::read::array(element)?;
        let dim = array.required("dim")?;
        let (size, columns) = match super::read::dimensions(dim)[..] {
            [size, columns @ (1 | 3)] | [size, columns @ (1 | 3), 1] => (size, columns),
            _ => {
                return Err(array.error(format_args!(
                    "dim {} is not \"N 1\" or \"N 3\"",
                    quoted(dim)
                )));
            }
        };
        if !(2..=CURVE_SIZE_MAX).contains(&size) {
            return Err(array.error(size_refused("1D", size, 2, CURVE_SIZE_MAX).message()));
        }
        if half_domain && size != HALVES {
            return Err(array.error(format_args!(
                "halfDomain needs {HALVES} samples, dim says {size}"
            )));
        }
        let scale = depths.output.scale();
        let mut values = Vec::with_capacity((size * columns).min(array.text_length() / 2 + 1));
        super::read::counted(array, size * columns, |word| {
            let value = if raw_halves {
                half_from_word(word)?
            } else if half_domain && outside_half(values.len() / columns) {
                // The entries of infinity and NaN may hold what they stand for.
                word.parse::<f32>().unwrap_or(0.0)
            } else {
                finite(word)?
            };
            values.push((f64::from(value) / scale) as f32);
            Ok(())
        })?;
        let samples: Vec<[f32; 3]> = match columns {
            1 => values.iter().map(|&v| [v; 3]).collect(),
            _ => values.as_chunks::<3>().0.to_vec(),
        };
        let node = if half_domain {
            HalfCurve::from_samples(samples).map(Self::Half)
        } else {
            Curve1::from_samples([0.0; 3], [1.0; 3], samples).map(Self::Even)
        };
        node.map_err(|error| array.error(error.message()))
    }

    pub(super) fn write(&self) -> Result<String> {
        let samples = match self {
            Self::Even(curve)
                if curve.domain_min() != [0.0; 3] || curve.domain_max() != [1.0; 3] =>
            {
                return Err(Error::new(
                    "a LUT1D has the domain 0 to 1; put a Range before it instead",
                ));
            }
            Self::Even(curve) => curve.samples(),
            Self::Half(curve) => &curve.samples,
        };
        let grey = samples.iter().all(|[r, g, b]| r == g && g == b);
        let columns = if grey { 1 } else { 3 };
        let mut text = format!("    <Array dim=\"{} {columns}\">\n", samples.len());
        for [r, g, b] in samples {
            text.push_str(&match columns {
                1 => format!("{r}\n"),
                _ => format!("{r} {g} {b}\n"),
            });
        }
        text.push_str("    </Array>\n");
        Ok(text)
    }
}

impl HalfCurve {
    /// Curves from their samples, in the order of the bits of the half-float numbers.
    ///
    /// # Errors
    /// If there are not 65536, or one of a finite number is not finite.
    pub fn from_samples(samples: Vec<[f32; 3]>) -> Result<Self> {
        if samples.len() != HALVES {
            return Err(Error::new(format!(
                "expected {HALVES} samples, found {}",
                samples.len()
            )));
        }
        let bad = samples
            .iter()
            .enumerate()
            .position(|(i, s)| !outside_half(i) && s.iter().any(|v| !v.is_finite()));
        match bad {
            Some(place) => Err(Error::new(format!("sample {place} is not a finite number"))),
            None => Ok(Self { samples }),
        }
    }

    fn at(&self, value: f32, channel: usize) -> f32 {
        let sign = if value < 0.0 { HALF_SIGN } else { 0 };
        let size = if value.is_nan() { 0.0 } else { value.abs() };
        let low = half_bits_at_or_below(size);
        let from = self.samples[usize::from(low | sign)][channel];
        if low == HALF_MAX_BITS {
            return from;
        }
        let to = self.samples[usize::from((low + 1) | sign)][channel];
        let (low_size, high_size) = (half_to_f32(low), half_to_f32(low + 1));
        let d = (size - low_size) / (high_size - low_size);
        from * (1.0 - d) + to * d
    }
}

/// Whether a place in a half-domain table stands for infinity or NaN.
fn outside_half(place: usize) -> bool {
    place % usize::from(HALF_SIGN) > usize::from(HALF_MAX_BITS)
}

/// Bits of the largest half-float number not above `size`, for `size >= 0`.
fn half_bits_at_or_below(size: f32) -> u16 {
    // Cutting the mantissa of a positive number short rounds it down. Numbers below 2^-14 are
    // multiples of 2^-24 as halves.
    if size < 6.103_515_6e-5 {
        return (size * 16_777_216.0) as u16;
    }
    let bits = (size.to_bits() >> 13) - (112 << 10);
    bits.min(u32::from(HALF_MAX_BITS)) as u16
}

/// The value of a half-float number without sign.
fn half_to_f32(bits: u16) -> f32 {
    if bits < 0x400 {
        f32::from(bits) / 16_777_216.0
    } else {
        f32::from_bits((u32::from(bits) + (112 << 10)) << 13)
    }
}

/// A half-float number written as the integer of its bits.
fn half_from_word(word: &str) -> Result<f32> {
    let bits: u16 = word.parse().map_err(|_| {
        Error::new(format!(
            "{} is not the bits of a half-float number, 0 to 65535",
            quoted(word)
        ))
    })?;
    let size = half_to_f32(bits & !HALF_SIGN);
    let size = if bits & !HALF_SIGN > HALF_MAX_BITS {
        f32::INFINITY
    } else {
        size
    };
    Ok(if bits & HALF_SIGN == 0 { size } else { -size })
}

/// A flag that is either absent or `true`.
fn flag(element: Element<'_, '_>, name: &str) -> Result<bool> {
    match element.attribute(name) {
        None => Ok(false),
        Some("true") => Ok(true),
        Some(other) => Err(element.error(format_args!(
            "{name} {} is not allowed; leave it out or say true",
            quoted(other)
        ))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Half-float numbers of IEEE 754-2008, binary16.
    #[test]
    fn halves_are_those_of_the_standard() {
        for (bits, value) in [
            (0x0001, 5.960_464_5e-8),
            (0x03ff, 6.097_555e-5),
            (0x0400, 6.103_515_6e-5),
            (0x3555, 0.333_251_95),
            (0x3c00, 1.0),
            (0x4000, 2.0),
            (0x7bff, 65_504.0),
        ] {
            assert_eq!(half_to_f32(bits), value);
            assert_eq!(half_bits_at_or_below(value), bits);
        }
        assert_eq!(half_bits_at_or_below(f32::INFINITY), HALF_MAX_BITS);
        assert_eq!(half_from_word("48128").unwrap(), -1.0);
        assert_eq!(half_from_word("31744").unwrap(), f32::INFINITY);
        assert!(half_from_word("65536").is_err());
    }

    #[test]
    fn a_curve_over_halves_is_linear_between_them() {
        let samples = (0..HALVES)
            .map(|i| {
                let size = half_to_f32((i % 0x8000) as u16);
                [if i < 0x8000 { size } else { 2.0 * size }; 3]
            })
            .collect();
        let curve = HalfCurve::from_samples(samples).unwrap();
        for x in [0.0, 1e-7, 3.0e-5, 0.18, 1.0, 1.000_3, 16.29, 65_504.0] {
            assert!((curve.at(x, 1) - x).abs() <= x * 1e-6);
            assert!((curve.at(-x, 2) - 2.0 * x).abs() <= x * 2e-6);
        }
        assert_eq!(curve.at(1e9, 0), 65_504.0);
        assert_eq!(curve.at(f32::NAN, 0), 0.0);
    }
}
