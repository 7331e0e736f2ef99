//! Exponent: power curves, plain or with a straight part at black (monitor curves).
//!
//! ```text
//! basicFwd     y = max(x, 0)^e
//! monCurveFwd  y = ((x + o) / (1 + o))^e      for x >= o / (e - 1)
//!              y = x s                        below,  s = ((e - 1) / o) (o e / ((e - 1)(1 + o)))^e
//! ```
//!
//! with `e` the exponent and `o` the offset; the `Rev` styles are the inverses. Below zero the
//! plain basic styles give 0, `PassThru` leaves the value, `Mirror` turns the curve about zero;
//! monitor curves run straight on unless mirrored.

use super::depth::Depths;
use crate::xml::Element;
use lookwright_colour::error::{Error, Result};
use lookwright_colour::lane::Lane;

/// What happens below zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Negative {
    /// Basic curves give 0; monitor curves run straight on.
    Plain,
    /// The curve is turned about zero.
    Mirror,
    /// The value is left as it is.
    PassThru,
}

/// Plain power or monitor curve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Curvature {
    /// A plain power.
    Basic,
    /// A power with a straight part at black.
    MonCurve,
}

/// Which curve, which way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ExponentStyle {
    /// Plain power or monitor curve.
    pub curvature: Curvature,
    /// What happens below zero.
    pub negative: Negative,
    /// Whether the curve is undone instead of applied.
    pub undo: bool,
}

/// Names of the `style` attribute.
const STYLES: [(&str, Curvature, Negative, bool); 10] = [
    ("basicFwd", Curvature::Basic, Negative::Plain, false),
    ("basicRev", Curvature::Basic, Negative::Plain, true),
    ("basicMirrorFwd", Curvature::Basic, Negative::Mirror, false),
    ("basicMirrorRev", Curvature::Basic, Negative::Mirror, true),
    (
        "basicPassThruFwd",
        Curvature::Basic,
        Negative::PassThru,
        false,
    ),
    (
        "basicPassThruRev",
        Curvature::Basic,
        Negative::PassThru,
        true,
    ),
    ("monCurveFwd", Curvature::MonCurve, Negative::Plain, false),
    ("monCurveRev", Curvature::MonCurve, Negative::Plain, true),
    (
        "monCurveMirrorFwd",
        Curvature::MonCurve,
        Negative::Mirror,
        false,
    ),
    (
        "monCurveMirrorRev",
        Curvature::MonCurve,
        Negative::Mirror,
        true,
    ),
];

/// A power curve with exponent and offset per channel; the offset is 0 for basic styles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exponent {
    style: ExponentStyle,
    exponent: [f64; 3],
    offset: [f64; 3],
}

impl Exponent {
    /// A power curve.
    ///
    /// # Errors
    /// If the style is no style of the format, or a number is out of the format's range: exponents
    /// 0.01 ... 100 for basic styles; 1 ... 10 for monitor curves with offsets 0 ... 0.9.
    pub fn new(style: ExponentStyle, exponent: [f64; 3], offset: [f64; 3]) -> Result<Self> {
        let node = Self {
            style,
            exponent,
            offset,
        };
        if !STYLES.iter().any(|entry| node.is_style(entry)) {
            return Err(Error::new(
                "monitor curves do not pass values below zero through",
            ));
        }
        let (exponents, offsets) = match style.curvature {
            Curvature::Basic => (0.01..=100.0, 0.0..=0.0),
            Curvature::MonCurve => (1.0..=10.0, 0.0..=0.9),
        };
        for (name, range, values) in [
            ("exponent", exponents, exponent),
            ("offset", offsets, offset),
        ] {
            for value in values {
                if !range.contains(&value) {
                    return Err(Error::new(format!(
                        "{name} {value} is out of range for style {}: {} to {}",
                        node.style(),
                        range.start(),
                        range.end()
                    )));
                }
            }
        }
        Ok(node)
    }

    fn is_style(&self, entry: &(&str, Curvature, Negative, bool)) -> bool {
        let style = &self.style;
        (style.curvature, style.negative, style.undo) == (entry.1, entry.2, entry.3)
    }

    pub(super) fn apply(&self, input: [f32; 3]) -> [f32; 3] {
        core::array::from_fn(|c| {
            let (x, e, o) = (input[c], self.exponent[c], self.offset[c]);
            let curve = |x: f32| match (self.style.curvature, self.style.undo) {
                (Curvature::Basic, false) => power(x, e),
                (Curvature::Basic, true) => power(x, 1.0 / e),
                (Curvature::MonCurve, undo) => monitor(x, e, o, undo),
            };
            match self.style.negative {
                Negative::PassThru if x < 0.0 => x,
                Negative::Mirror if x < 0.0 => -curve(-x),
                _ => curve(x),
            }
        })
    }

    pub(super) fn read(element: Element<'_, '_>, _depths: Depths) -> Result<Self> {
        let name = element.required("style")?;
        let Some(&(_, curvature, negative, undo)) = STYLES.iter().find(|s| s.0 == name) else {
            let known: Vec<&str> = STYLES.iter().map(|s| s.0).collect();
            return Err(element.not_one_of("style", name, &known));
        };
        let params = super::read::per_channel(element, "ExponentParams", |params| {
            let exponent = params.number_attribute("exponent")?;
            let exponent = exponent.ok_or_else(|| params.error("exponent is missing"))?;
            let offset = params.number_attribute("offset")?;
            match (curvature, offset) {
                (Curvature::Basic, Some(_)) => {
                    Err(params.error("offset is only for the monCurve styles"))
                }
                (Curvature::MonCurve, None) => Err(params.error("offset is missing")),
                _ => Ok((exponent, offset.unwrap_or(0.0))),
            }
        })?;
        // A channel without parameters is an identity.
        let params = params.map(|channel| channel.unwrap_or((1.0, 0.0)));
        let style = ExponentStyle {
            curvature,
            negative,
            undo,
        };
        Self::new(style, params.map(|p| p.0), params.map(|p| p.1))
            .map_err(|error| element.error(error.message()))
    }

    pub(super) fn write(&self) -> String {
        let channels: [(f64, f64); 3] =
            core::array::from_fn(|c| (self.exponent[c], self.offset[c]));
        super::write::per_channel(&channels, |(exponent, offset), channel| {
            let offset = match self.style.curvature {
                Curvature::Basic => String::new(),
                Curvature::MonCurve => format!(" offset=\"{offset}\""),
            };
            format!("    <ExponentParams{channel} exponent=\"{exponent}\"{offset}/>\n")
        })
    }

    /// The `style` attribute.
    pub(super) fn style(&self) -> &'static str {
        STYLES
            .iter()
            .find(|entry| self.is_style(entry))
            .map_or("monCurveFwd", |entry| entry.0)
    }
}

/// `max(x, 0)^e`, exact at 1.
fn power(x: f32, e: f64) -> f32 {
    if e == 1.0 {
        x.max(0.0)
    } else {
        x.pow(e as f32)
    }
}

/// The monitor curve or its inverse. Where exponent or offset make no straight part they are moved
/// off that point by a millionth, as OpenColorIO does.
fn monitor(x: f32, e: f64, o: f64, undo: bool) -> f32 {
    let e = e.max(1.000_001);
    let o = o.max(1e-6);
    let at = o / (e - 1.0);
    let curve_at = libm::pow(o * e / ((e - 1.0) * (1.0 + o)), e);
    let slope = curve_at / at;
    let scale = 1.0 + o;
    if undo {
        if f64::from(x) >= curve_at {
            x.pow((1.0 / e) as f32) * scale as f32 - o as f32
        } else {
            x / slope as f32
        }
    } else if f64::from(x) >= at {
        (x * (1.0 / scale) as f32 + (o / scale) as f32).pow(e as f32)
    } else {
        x * slope as f32
    }
}
