//! Range: a line through two points, held to its ends or not.
//!
//! `out = in s + minOut - minIn s`, `s = (maxOut - minOut) / (maxIn - minIn)`.

use super::depth::Depths;
use crate::number::quoted;
use crate::xml::Element;
use lookwright_colour::error::{Error, Result};

/// A line through two points, or a clamp at one end. In units of 1.0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Range {
    /// A line through two points.
    Line {
        /// Input of the two points, low and high.
        from: [f64; 2],
        /// Output of the two points, low and high.
        to: [f64; 2],
        /// Whether output is held between the two.
        clamp: bool,
    },
    /// Nothing below this value passes.
    Floor(f64),
    /// Nothing above this value passes.
    Ceiling(f64),
}

impl Range {
    /// A line through two points.
    ///
    /// # Errors
    /// If the input's high is not above its low, or the output's high is below its low.
    pub fn line(from: [f64; 2], to: [f64; 2], clamp: bool) -> Result<Self> {
        // Closer than single precision can tell apart is no line.
        if (from[1] - from[0]) as f32 <= f32::EPSILON * (from[0].abs() as f32) {
            return Err(Error::new(format!(
                "maxInValue {} has to be above minInValue {}",
                from[1], from[0]
            )));
        }
        if to[1] < to[0] {
            return Err(Error::new(format!(
                "maxOutValue {} is below minOutValue {}",
                to[1], to[0]
            )));
        }
        Ok(Self::Line { from, to, clamp })
    }

    pub(super) fn apply(&self, value: f32) -> f32 {
        match *self {
            Self::Line { from, to, clamp } => {
                let slope = (to[1] - to[0]) / (from[1] - from[0]);
                let out = value * slope as f32 + (to[0] - from[0] * slope) as f32;
                if clamp {
                    held(out, to[0] as f32, to[1] as f32)
                } else {
                    out
                }
            }
            Self::Floor(low) => held(value, low as f32, f32::INFINITY),
            Self::Ceiling(high) => held(value, f32::NEG_INFINITY, high as f32),
        }
    }

    pub(super) fn read(element: Element<'_, '_>, depths: Depths) -> Result<Self> {
        let clamp = match element.attribute("style") {
            None | Some("Clamp") => true,
            Some("noClamp") => false,
            Some(other) => {
                return Err(element.error(format_args!(
                    "style {} is not Clamp or noClamp",
                    quoted(other)
                )));
            }
        };
        let value = |name: &str| -> Result<Option<f64>> {
            let child = element.child(name)?;
            child
                .map(|child| child.numbers::<1>().map(|[v]| v))
                .transpose()
        };
        let low = (value("minInValue")?, value("minOutValue")?);
        let high = (value("maxInValue")?, value("maxOutValue")?);
        let (from, to) = (depths.input.scale(), depths.output.scale());
        let one_end = |inside: f64, outside: f64| {
            if !clamp {
                Err(element.error("noClamp needs all four values"))
            } else if (inside / from - outside / to).abs() > 1e-6 {
                Err(element.error("a clamp at one end needs the same value in and out"))
            } else {
                Ok(outside / to)
            }
        };
        match (low, high) {
            ((Some(a), Some(b)), (Some(c), Some(d))) => {
                let ends = |low: f64, high: f64, scale: f64| [low / scale, high / scale];
                // Checked in the file's own numbers, so that a message can quote them.
                Self::line([a, c], [b, d], clamp)
                    .map_err(|error| element.error(error.message()))?;
                Self::line(ends(a, c, from), ends(b, d, to), clamp)
            }
            ((Some(a), Some(b)), (None, None)) => one_end(a, b).map(Self::Floor),
            ((None, None), (Some(c), Some(d))) => one_end(c, d).map(Self::Ceiling),
            _ => Err(element.error(
                "needs minInValue with minOutValue, maxInValue with maxOutValue, or all four",
            )),
        }
    }

    pub(super) fn write(&self) -> String {
        let tag = |name: &str, value: f64| format!("    <{name}>{value}</{name}>\n");
        match *self {
            Self::Line { from, to, .. } => [
                tag("minInValue", from[0]),
                tag("maxInValue", from[1]),
                tag("minOutValue", to[0]),
                tag("maxOutValue", to[1]),
            ]
            .concat(),
            Self::Floor(low) => tag("minInValue", low) + &tag("minOutValue", low),
            Self::Ceiling(high) => tag("maxInValue", high) + &tag("maxOutValue", high),
        }
    }

    /// The `style` attribute.
    pub(super) fn style(&self) -> &'static str {
        match self {
            Self::Line { clamp: false, .. } => "noClamp",
            _ => "Clamp",
        }
    }
}

/// Held between two ends; NaN becomes `low`.
fn held(value: f32, low: f32, high: f32) -> f32 {
    let value = if value > low { value } else { low };
    if value < high { value } else { high }
}
